#include "wiltline/weather/table_times.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

void add_row(OpenTable& open, TableTimes& times, std::size_t row, WrittenDate when) {
  if (const TakenColumn* const clock = open.column_of(Quantity::clock)) {
    const std::string_view text = open.table.cell(row, clock->column);
    when.hour = parse_written_clock(text);
    if (!when.hour) {
      open.complain(row, clock->column, in_quotes(text), "a time of day, as 13:00");
      return;
    }
  }
  if (const TakenColumn* const offset = open.column_of(Quantity::utc_offset)) {
    when.utc_offset_h = parse_number(open.table.cell(row, offset->column));
  }
  std::size_t place = 0;
  if (const TakenColumn* const column = open.column_of(Quantity::place)) {
    const std::string_view text = open.table.cell(row, column->column);
    const auto known = std::find(times.places.begin(), times.places.end(), text);
    place = static_cast<std::size_t>(known - times.places.begin());
    if (known == times.places.end()) times.places.emplace_back(text);
  }
  times.rows.push_back({row, place, when});
}

void read_date_column(OpenTable& open, std::optional<DateOrder> told, TableTimes& times) {
  const std::size_t column = open.column_of(Quantity::date)->column;
  std::vector<std::string_view> texts;
  texts.reserve(open.table.end_row());
  for (std::size_t i = open.table.begin_row(); i < open.table.end_row(); ++i) {
    texts.push_back(open.table.cell(i, column));
  }
  WrongDate wrong;
  const auto found = told ? Result<DateOrder>(*told) : find_date_order(texts, wrong);
  if (!found) {
    open.complain(wrong.text + open.table.begin_row(), column, found.fault().found,
                  wrong.two_ways ? "to be told which: dmy or mdy" : found.fault().expected,
                  {wrong.two_ways ? Advice::Kind::name_date_order : Advice::Kind::none});
    return;
  }
  open.said.dates = describe(*found);
  for (std::size_t i = open.table.begin_row(); i < open.table.end_row() && !open.problems.full();
       ++i) {
    const std::string_view text = open.table.cell(i, column);
    const auto when = parse_written_date(text, *found);
    if (when) {
      add_row(open, times, i, *when);
    } else {
      open.complain(i, column, text.empty() ? "no date" : in_quotes(text),
                    fmt::format("a date that exists as {}", describe(*found)));
    }
  }
}

void read_date_parts(OpenTable& open, TableTimes& times) {
  const TakenColumn* const year = open.column_of(Quantity::year);
  const TakenColumn* const of_year = open.column_of(Quantity::day_of_year);
  const TakenColumn* const month = open.column_of(Quantity::month);
  const TakenColumn* const day = open.column_of(Quantity::day);
  const bool by_month = month != nullptr && day != nullptr;
  open.said.dates = by_month ? "year, month and day in three columns" : "year and day of the year";
  for (std::size_t i = open.table.begin_row(); i < open.table.end_row() && !open.problems.full();
       ++i) {
    const auto cell = [&](const TakenColumn* column) {
      return std::string(open.table.cell(i, column->column));
    };
    std::string text;
    if (by_month) {
      text = fmt::format("{}-{}-{}", cell(year), cell(month), cell(day));
    } else {
      text = fmt::format("{}-{:0>3}", cell(year), cell(of_year));
    }
    if (const auto when = parse_written_date(text, DateOrder::ymd)) {
      add_row(open, times, i, *when);
    } else {
      open.complain(i, year->column, in_quotes(text), "a date that exists");
    }
  }
}

}  // namespace

TableTimes read_times(OpenTable& open, std::optional<DateOrder> told) {
  TableTimes times;
  if (open.column_of(Quantity::date) != nullptr) {
    read_date_column(open, told, times);
  } else {
    read_date_parts(open, times);
  }
  return times;
}

}  // namespace wiltline
