#include "last_days.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "in_order.hpp"
#include "report.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// The ends of one planting: the span they lie in, counted from planting, and their reasons.
std::string span_text(const std::vector<const LastDay*>& ends) {
  const auto by_age = [](const LastDay* a, const LastDay* b) {
    return a->date - a->planted < b->date - b->planted;
  };
  const auto [first, last] = std::minmax_element(ends.begin(), ends.end(), by_age);
  const std::string from = date_in_words((*first)->date);
  const std::string to = date_in_words((*last)->date);
  std::vector<std::string_view> reasons;
  for (const LastDay* end : ends) add_once(reasons, std::string_view(to_string(end->reason)));
  return fmt::format("{}{} ({})", from, from == to ? "" : " to " + to, fmt::join(reasons, " or "));
}

}  // namespace

std::string last_days_text(const std::vector<LastDay>& ends, bool several, std::string_view of) {
  std::vector<std::pair<std::string, std::vector<const LastDay*>>> of_name;
  for (const LastDay& end : ends) entry(of_name, end.name).push_back(&end);
  std::vector<std::pair<std::string, std::vector<std::string>>> names_of_span;
  for (const auto& [name, days] : of_name) {
    entry(names_of_span, span_text(days)).push_back(printable(name));
  }
  std::string text = fmt::format("Last day{}: ", of);
  for (std::size_t i = 0; i < names_of_span.size(); ++i) {
    const auto& [span, names] = names_of_span[i];
    text += fmt::format("{}{}", i == 0 ? "" : "; ", span);
    if (several) text += fmt::format(": {}", fmt::join(names, ", "));
  }
  return text + '.';
}

}  // namespace wiltline::cli
