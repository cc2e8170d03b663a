// What the model answers where a rule of thumb or a measurement can be held against it.
#pragma once

#include <functional>
#include <map>
#include <string>

namespace wiltline::test {

/// A number the model gives for a scenario, with what was run, in words.
struct Answer {
  double value = 0.0;
  std::string how;
};

/// Scenarios by the key their rows use. Each runs the model anew; nothing is stored.
[[nodiscard]] const std::map<std::string, std::function<Answer()>>& scenarios();

}  // namespace wiltline::test
