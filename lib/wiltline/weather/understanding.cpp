#include "wiltline/weather/understanding.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/text.hpp"
#include "wiltline/weather/dialect.hpp"

namespace wiltline {

std::vector<std::string> Understanding::parts() const {
  if (own) return {"our own layout"};
  std::vector<std::string> parts;
  parts.push_back(layout.empty() ? std::string("layout by the names of its columns")
                                 : "layout " + layout);
  parts.push_back(fmt::format("separated by {}{}{}", separator_word(separator),
                              decimal_comma ? ", decimal commas" : "",
                              encoding == "UTF-8" ? "" : fmt::format(", {}", encoding)));
  parts.push_back("dates: " + dates);
  if (step_h) parts.push_back(fmt::format("steps of {:g} minutes, put into days", *step_h * 60.0));
  std::vector<std::string> columns;
  for (const Taken& one : taken) columns.push_back(fmt::format("{} is {}", one.name, one.as));
  parts.push_back(fmt::format("{}", fmt::join(columns, ", ")));
  if (!left_out.empty()) {
    constexpr std::size_t most_named = 8;
    const std::size_t named = std::min(left_out.size(), most_named);
    const auto end = left_out.begin() + static_cast<std::ptrdiff_t>(named);
    parts.push_back(fmt::format(
        "left out: {}{}", fmt::join(left_out.begin(), end, ", "),
        named < left_out.size() ? fmt::format(" and {} more", left_out.size() - named) : ""));
  }
  for (const auto& [code, times] : missing) {
    parts.push_back(fmt::format("{} stands for no reading, {} times", in_quotes(code), times));
  }
  if (zero_marks > 0) parts.push_back(fmt::format("marks taken as none: {}", zero_marks));
  if (failed > 0) {
    parts.push_back(fmt::format("readings that failed their own checks, left out: {}", failed));
  }
  parts.insert(parts.end(), remarks.begin(), remarks.end());
  return parts;
}

std::string Understanding::summary() const {
  return fmt::format("{}: {}", file, fmt::join(parts(), "; "));
}

}  // namespace wiltline
