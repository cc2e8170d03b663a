#include "wiltline/base/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace wiltline {

void run_tasks(std::size_t count, std::size_t threads,
               const std::function<void(std::size_t)>& task) {
  if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next{0};
  // Tasks begin in their order: of those that fail the first has begun before any other fails.
  std::exception_ptr failure;
  std::size_t first_failed = count;
  std::mutex failing;
  const auto work = [&] {
    std::size_t i = 0;
    try {
      for (i = next++; i < count; i = next++) task(i);
    } catch (...) {
      const std::lock_guard lock(failing);
      if (i < first_failed) {
        first_failed = i;
        failure = std::current_exception();
      }
      next = count;
    }
  };
  {
    std::vector<std::jthread> others;
    for (std::size_t i = 1; i < std::min(threads, count); ++i) others.emplace_back(work);
    work();
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace wiltline
