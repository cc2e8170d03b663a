#include "wiltline/weather/own_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "wiltline/base/encoding.hpp"
#include "wiltline/weather/dates.hpp"
#include "wiltline/weather/dialect.hpp"

namespace wiltline {

OwnText::OwnText(std::size_t header_line, std::string their_date)
    : header_line_(header_line), text_("date\n") {
  their_names_.push_back(std::move(their_date));
}

void OwnText::add_column(std::string_view name, std::string their_name) {
  text_.pop_back();
  text_ += fmt::format(",{}\n", name);
  their_names_.push_back(std::move(their_name));
}

void OwnText::begin_day(Date date, Origin origin) {
  text_ += to_string(date) + '\n';
  origins_.push_back(origin);
}

void OwnText::add_cell(std::string_view cell, Origin origin) {
  text_.back() = ',';
  text_ += cell;
  text_ += '\n';
  origins_.push_back(origin);
}

Problem OwnText::where_it_stood(Problem problem) const {
  const std::size_t width = their_names_.size();
  if (problem.line < 2 || (problem.line - 2) * width >= origins_.size()) {
    problem.line = problem.line == 1 ? header_line_ : problem.line;
    problem.column = 0;
    return problem;
  }
  // The column, from the commas before it on its line.
  std::size_t begin = 0;
  for (std::size_t line = 1; line < problem.line; ++line) begin = text_.find('\n', begin) + 1;
  const std::size_t offset = problem.column > 0 ? problem.column - 1 : 0;
  const auto column = static_cast<std::size_t>(
      std::count(text_.begin() + static_cast<std::ptrdiff_t>(begin),
                 text_.begin() + static_cast<std::ptrdiff_t>(begin + offset), ','));
  const Origin& origin = origins_[(problem.line - 2) * width + std::min(column, width - 1)];
  problem.line = origin.line;
  problem.column = problem.column > 0 ? origin.column : 0;
  if (column > 0 && column < width) problem.found += fmt::format(" ({})", their_names_[column]);
  return problem;
}

bool is_own_format(std::string_view text) {
  if (is_utf16(text)) return false;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  std::vector<std::vector<std::string_view>> lines;  // the header's cells, the first row's
  each_line(text, [&](std::string_view line, std::size_t) {
    lines.push_back(split_line(line, ','));
    return lines.size() < 2;
  });
  lines.resize(2);
  const std::vector<std::string_view>& names = lines[0];
  const std::vector<std::string_view>& cells = lines[1];
  const auto date = std::ranges::find(names, "date");
  const bool ours =
      date != names.end() && std::ranges::any_of(names, [](auto name) {
        return name == "tmin_c" || name == "tmin_f" || name == "tmax_c" || name == "tmax_f";
      });
  if (!ours) return false;
  const auto at = static_cast<std::size_t>(date - names.begin());
  if (at >= cells.size() || parse_date(cells[at])) return true;
  const auto reads = [&](DateOrder order) {
    return parse_written_date(cells[at], order).has_value();
  };
  return !reads(DateOrder::ymd) && !reads(DateOrder::dmy) && !reads(DateOrder::mdy);
}

}  // namespace wiltline
