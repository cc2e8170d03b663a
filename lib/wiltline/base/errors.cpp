#include "wiltline/base/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>
#include <utility>

namespace wiltline {

std::string Problem::text(std::string_view advised) const {
  std::string place = file;
  if (line > 0) place += fmt::format(":{}", line);
  if (line > 0 && column > 0) place += fmt::format(":{}", column);
  return fmt::format("{}: found {}; expected {}{}{}", place, found, expected, advised,
                     advice.after);
}

InputError::InputError(std::vector<Problem> problems) : problems_(std::move(problems)) {
  for (const Problem& problem : problems_) {
    if (!text_.empty()) text_ += '\n';
    text_ += problem.text();
  }
}

void ProblemList::add(Problem problem) {
  if (!full()) problems_.push_back(std::move(problem));
}

void ProblemList::throw_if_any() const {
  if (problems_.empty()) return;
  std::vector<Problem> ordered = problems_;
  std::stable_sort(ordered.begin(), ordered.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  throw InputError(std::move(ordered));
}

}  // namespace wiltline
