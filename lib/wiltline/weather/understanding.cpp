// What is said of a file that was translated, and where in it things stood.

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/encoding.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/dialect.hpp"
#include "wiltline/weather/translation.hpp"

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

Problem TranslatedPlace::where_it_stood(Problem problem) const {
  const std::size_t width = their_names.size();
  if (problem.line < 2 || (problem.line - 2) * width >= origins.size()) {
    problem.line = problem.line == 1 ? header_line : problem.line;
    problem.column = 0;
    return problem;
  }
  // The column, from the commas before it on its line.
  std::size_t begin = 0;
  for (std::size_t line = 1; line < problem.line; ++line) begin = text.find('\n', begin) + 1;
  const std::size_t offset = problem.column > 0 ? problem.column - 1 : 0;
  const auto column = static_cast<std::size_t>(
      std::count(text.begin() + static_cast<std::ptrdiff_t>(begin),
                 text.begin() + static_cast<std::ptrdiff_t>(begin + offset), ','));
  const Origin& origin = origins[(problem.line - 2) * width + std::min(column, width - 1)];
  problem.line = origin.line;
  problem.column = problem.column > 0 ? origin.column : 0;
  if (column > 0 && column < width) problem.found += fmt::format(" ({})", their_names[column]);
  return problem;
}

bool is_own_format(std::string_view text) {
  if (is_utf16(text)) return false;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  const auto next_line = [&text] {
    while (!text.empty()) {
      const std::size_t newline = std::min(text.find('\n'), text.size());
      std::string_view line = text.substr(0, newline);
      text.remove_prefix(std::min(newline + 1, text.size()));
      if (line.ends_with('\r')) line.remove_suffix(1);
      line = trim(line);
      if (!line.empty() && line.front() != '#') return line;
    }
    return std::string_view();
  };
  const std::vector<std::string_view> names = split_line(next_line(), ',');
  const auto date = std::find(names.begin(), names.end(), "date");
  const bool ours =
      date != names.end() && std::any_of(names.begin(), names.end(), [](auto name) {
        return name == "tmin_c" || name == "tmin_f" || name == "tmax_c" || name == "tmax_f";
      });
  if (!ours) return false;
  const std::vector<std::string_view> cells = split_line(next_line(), ',');
  const auto at = static_cast<std::size_t>(date - names.begin());
  if (at >= cells.size() || parse_date(cells[at])) return true;
  const auto reads = [&](DateOrder order) {
    return parse_written_date(cells[at], order).has_value();
  };
  return !reads(DateOrder::ymd) && !reads(DateOrder::dmy) && !reads(DateOrder::mdy);
}

}  // namespace wiltline
