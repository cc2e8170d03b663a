// Work on several threads: the one place that starts any.
#pragma once

#include <cstddef>
#include <functional>

namespace wiltline {

/// Calls task(0) … task(count - 1), each once, on up to `threads` threads (0: one for each core),
/// and returns when all are done. Tasks must not depend on each other. What the first task that
/// fails throws comes out here, the same on any number of threads; no further task is then begun.
void run_tasks(std::size_t count, std::size_t threads,
               const std::function<void(std::size_t)>& task);

}  // namespace wiltline
