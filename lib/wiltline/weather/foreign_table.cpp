#include "wiltline/weather/foreign_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "wiltline/base/encoding.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/dates.hpp"
#include "wiltline/weather/dialect.hpp"

namespace wiltline {
namespace {

/// How many names are known. A header says when and what; lines above it may name a place at
/// length.
std::size_t known_names(std::span<const std::string_view> names,
                        std::span<const ColumnMeaning> meanings) {
  constexpr std::size_t both = 1000;
  std::size_t count = 0;
  bool when = false;
  bool what = false;
  for (const std::string_view name : names) {
    const auto column = understand(name, {}, meanings);
    if (!column) continue;
    ++count;
    const WeatherQuantity of = column->quantity;
    when = when || (of >= WeatherQuantity::date && of <= WeatherQuantity::day_of_year);
    what = what || is_reading(of) || of == WeatherQuantity::element;
  }
  return count + (when && what ? both : 0);
}

/// A second header row: units, and nothing that is a number or a date.
bool is_unit_row(std::span<const std::string_view> cells) {
  bool any = false;
  for (const std::string_view cell : cells) {
    if (parse_number(cell) || parse_written_date(cell, DateOrder::ymd) ||
        parse_written_date(cell, DateOrder::dmy) || parse_written_date(cell, DateOrder::mdy)) {
      return false;
    }
    any = any || is_unit(cell);
  }
  return any;
}

/// One reading a line, without a header: the layout's own columns in their order, if the first line
/// has as many cells and a date where the date stands; else empty.
std::vector<std::string> header_of_lines(std::string_view text,
                                         std::span<const ColumnMeaning> meanings) {
  std::string_view line = text.substr(0, std::min(text.find('\n'), text.size()));
  if (line.ends_with('\r')) line.remove_suffix(1);
  const std::vector<std::string_view> cells = split_line(line, ',');
  for (const std::string& layout : layout_names(meanings)) {
    std::vector<std::string> header;
    bool by_element = false;
    bool dated = false;
    for (const ColumnMeaning& row : of_layout(meanings, layout)) {
      if (is_reading(row.quantity)) continue;
      by_element = by_element || row.quantity == WeatherQuantity::element;
      if (row.quantity == WeatherQuantity::date && header.size() < cells.size()) {
        dated = parse_written_date(cells[header.size()], DateOrder::ymd).has_value();
      }
      header.push_back(row.names.front());
    }
    if (by_element && dated && header.size() == cells.size()) return header;
  }
  return {};
}

bool holds_numbers(WeatherQuantity quantity) {
  return is_reading(quantity) || quantity == WeatherQuantity::latitude ||
         quantity == WeatherQuantity::longitude || quantity == WeatherQuantity::elevation ||
         quantity == WeatherQuantity::value;
}

}  // namespace

std::optional<ForeignTable> ForeignTable::open(FileBytes file,
                                               std::span<const ColumnMeaning> meanings) {
  DecodedText decoded_text = decoded(std::move(file.bytes));
  std::string& text = decoded_text.text;
  const auto dialect = find_dialect(
      text, [&](std::span<const std::string_view> names) { return known_names(names, meanings); });
  CsvForm form;
  form.foreign = true;
  std::vector<std::string> header;
  std::vector<std::string> units;
  if (dialect) {
    if (auto problem = changed_separator(text, *dialect, file.name)) {
      throw InputError({*std::move(problem)});
    }
    form.separator = dialect->separator;
    form.header_line = dialect->header_line;
    header.assign(dialect->header.begin(), dialect->header.end());
    if (is_unit_row(dialect->first_row)) {
      units.assign(dialect->first_row.begin(), dialect->first_row.end());
    }
  } else {
    header = header_of_lines(text, meanings);
    if (header.empty()) return std::nullopt;
    form.header = header;
  }
  const char separator = form.separator;
  ForeignTable table({std::move(file.name), std::move(text)}, std::move(form));
  table.encoding_ = decoded_text.encoding;
  table.separator_ = separator;
  table.begin_row_ = units.empty() ? 0 : 1;
  if (table.begin_row_ == table.end_row()) {
    throw InputError({{table.csv_.file(), table.csv_.line(0), 0, "a header and units only",
                       "at least one row below them"}});
  }
  table.header_ = std::move(header);
  table.unit_row_ = std::move(units);
  table.header_.resize(table.csv_.header().size());
  table.unit_row_.resize(table.header_.size());
  return table;
}

std::string_view ForeignTable::cell(std::size_t row, std::size_t column) const {
  return trim(csv_.cell(row, column));
}

std::vector<TakenColumn> ForeignTable::columns_under(
    std::span<const ColumnMeaning> meanings) const {
  std::vector<TakenColumn> columns;
  for (std::size_t i = 0; i < header_.size(); ++i) {
    auto column = understand(header_[i], unit_row_[i], meanings);
    if (!column) continue;
    column->column = i;
    columns.push_back(*std::move(column));
  }
  return columns;
}

void ForeignTable::find_decimal_sign(std::span<const TakenColumn> columns, ProblemList& problems) {
  struct At {
    std::size_t row;
    std::size_t column;
    auto operator<=>(const At&) const = default;  // NOLINT(modernize-use-nullptr)
  };
  std::optional<At> comma;
  std::optional<At> point;
  bool only_thousands = true;
  for (const TakenColumn& column : columns) {
    if (!holds_numbers(column.quantity)) continue;
    for (std::size_t i = begin_row(); i < end_row(); ++i) {
      const std::string_view text = cell(i, column.column);
      const std::size_t sign = text.find_first_of(".,");
      if (sign == std::string_view::npos ||
          text.find_first_not_of("+-0123456789.,") != std::string_view::npos) {
        continue;
      }
      std::optional<At>& first = text[sign] == '.' ? point : comma;
      if (!first) first = At{i, column.column};
      if (text[sign] == ',') only_thousands = only_thousands && text.size() - sign == 4;
    }
  }
  decimal_comma_ = comma.has_value();
  const auto quoted = [&](const At& at) { return in_quotes(cell(at.row, at.column)); };
  if (comma && point) {
    const At later = std::max(*comma, *point);
    const At earlier = std::min(*comma, *point);
    problems.add(problem_at(later.row, later.column, quoted(later),
                            fmt::format("one decimal sign in all of the file; line {} has {}",
                                        csv_.line(earlier.row), quoted(earlier))));
  } else if (comma && only_thousands) {
    problems.add(problem_at(
        comma->row, comma->column,
        fmt::format("{}, where the comma can part thousands or decimals", quoted(*comma)),
        "numbers that read one way only"));
  }
}

std::optional<ForeignTable::Number> ForeignTable::number(std::size_t row,
                                                         std::size_t column) const {
  Number result;
  result.plain = cell(row, column);
  if (decimal_comma_) std::ranges::replace(result.plain, ',', '.');
  if (result.plain.starts_with('+')) result.plain.erase(0, 1);
  if (!parse_number(result.plain, result.value)) return std::nullopt;
  return result;
}

}  // namespace wiltline
