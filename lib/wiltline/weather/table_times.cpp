#include "wiltline/weather/table_times.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

void add_row(OpenTable& open, TableTimes& times, std::size_t row, WrittenDate when) {
  if (const TakenColumn* const clock = open.column_of(WeatherQuantity::clock)) {
    const std::string_view text = open.table.cell(row, clock->column);
    when.hour = parse_written_clock(text);
    if (!when.hour) {
      open.complain(row, clock->column, in_quotes(text), "a time of day, as 13:00");
      return;
    }
  }
  if (const TakenColumn* const offset = open.column_of(WeatherQuantity::utc_offset)) {
    when.utc_offset_h = parse_number(open.table.cell(row, offset->column));
  }
  std::size_t place = 0;
  if (const TakenColumn* const column = open.column_of(WeatherQuantity::place)) {
    const std::string_view text = open.table.cell(row, column->column);
    const auto known = std::ranges::find(times.places, text);
    place = static_cast<std::size_t>(known - times.places.begin());
    if (known == times.places.end()) times.places.emplace_back(text);
  }
  times.rows.push_back({row, place, when});
}

/// The order of a column of dates; complains where there is none, or more than one.
std::optional<DateOrder> order_in(OpenTable& open, std::size_t column) {
  std::vector<std::string_view> texts;
  texts.reserve(open.table.end_row());
  for (std::size_t i = open.table.begin_row(); i < open.table.end_row(); ++i) {
    texts.push_back(open.table.cell(i, column));
  }
  WrongDate wrong;
  const auto found = find_date_order(texts, wrong);
  if (found) return *found;
  open.complain(wrong.text + open.table.begin_row(), column, found.fault().found,
                wrong.two_ways ? "to be told which: dmy or mdy" : found.fault().expected,
                {wrong.two_ways ? Advice::Kind::name_date_order : Advice::Kind::none});
  return std::nullopt;
}

constexpr double slack_h = 1e-6;

/// Only steps of an hour or less go back by the hour; the same time comes again in those of one.
bool clock_may_go_back(const TimedRow& row, double gap_h, double step_h) {
  const bool by_the_hour = std::abs(step_h - 1.0) < slack_h;
  return clock_may_turn(row.when.date, row.when.hour.value_or(0.0)) && gap_h >= -1.0 - slack_h &&
         (by_the_hour || (step_h < 1.0 && gap_h < 0.0));
}

bool later(const TimedRow& a, const TimedRow& b) {
  return std::pair(a.when.date, a.when.hour) < std::pair(b.when.date, b.when.hour);
}

}  // namespace

TableTimes read_times(OpenTable& open, std::optional<DateOrder> told) {
  TableTimes times;
  const std::size_t column = open.date_column().column;
  const bool whole = open.column_of(WeatherQuantity::date) != nullptr;
  const bool by_month = open.column_of(WeatherQuantity::month) != nullptr &&
                        open.column_of(WeatherQuantity::day) != nullptr;
  const auto order = !whole ? DateOrder::ymd : told ? told : order_in(open, column);
  if (!order) return times;
  open.said.dates = whole      ? describe(*order)
                    : by_month ? "year, month and day in three columns"
                               : "year and day of the year";
  const std::string expected =
      whole ? fmt::format("a date that exists as {}", describe(*order)) : "a date that exists";
  for (std::size_t i = open.table.begin_row(); i < open.table.end_row() && !open.problems.full();
       ++i) {
    const auto cell = [&](WeatherQuantity part) {
      return open.table.cell(i, open.column_of(part)->column);
    };
    const std::string text =
        whole      ? std::string(open.table.cell(i, column))
        : by_month ? fmt::format("{}-{}-{}", cell(WeatherQuantity::year),
                                 cell(WeatherQuantity::month), cell(WeatherQuantity::day))
                   : fmt::format("{}-{:0>3}", cell(WeatherQuantity::year),
                                 cell(WeatherQuantity::day_of_year));
    if (const auto when = parse_written_date(text, *order)) {
      add_row(open, times, i, *when);
    } else {
      open.complain(i, column, text.empty() ? "no date" : in_quotes(text), expected);
    }
  }
  return times;
}

double hours_between(const TimedRow& one, const TimedRow& next) {
  return static_cast<double>((next.when.date - one.when.date).count()) * units::hours_per_day +
         next.when.hour.value_or(0.0) - one.when.hour.value_or(0.0);
}

bool clock_may_turn(Date date, double hour) {
  constexpr unsigned sunday = 6;
  constexpr double latest_h = 4.0;
  const unsigned month = month_of(date);
  const bool spring_or_autumn = month == 3 || month == 4 || (month >= 9 && month <= 11);
  return spring_or_autumn && weekday_of(date) == sunday && hour < latest_h;
}

bool are_parts_of_days(std::span<const TimedRow> rows) {
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const TimedRow& one = rows[i - 1];
    const TimedRow& next = rows[i];
    if (one.place == next.place && one.when.date == next.when.date && one.when.hour &&
        next.when.hour && *one.when.hour != *next.when.hour) {
      return true;
    }
  }
  return false;
}

double common_step_h(std::span<const TimedRow> rows) {
  constexpr double minutes_per_hour = 60.0;
  std::map<long, std::size_t> counts;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    ++counts[std::lround(hours_between(rows[i - 1], rows[i]) * minutes_per_hour)];
  }
  const auto most =
      std::ranges::max_element(counts, {}, [](const auto& one) { return one.second; });
  return most == counts.end() ? 0.0 : static_cast<double>(most->first) / minutes_per_hour;
}

RowsOfPlace rows_of_place(std::span<const TimedRow> rows, std::size_t place) {
  RowsOfPlace result;
  std::ranges::copy_if(rows, std::back_inserter(result.rows),
                       [place](const TimedRow& row) { return row.place == place; });
  result.turned_round =
      result.rows.size() > 1 && std::adjacent_find(result.rows.begin(), result.rows.end(),
                                                   [](const TimedRow& a, const TimedRow& b) {
                                                     return !later(b, a);
                                                   }) == result.rows.end();
  if (result.turned_round) std::ranges::reverse(result.rows);
  return result;
}

OrderOfHours order_of_hours(std::span<const TimedRow> rows, double step_h) {
  OrderOfHours order;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const TimedRow& before = rows[i - 1];
    const TimedRow& row = rows[i];
    const double gap_h = hours_between(before, row);
    // Where the clock's own offset is written, time goes on whatever the clock does.
    const bool written = row.when.utc_offset_h && before.when.utc_offset_h;
    const double turned_h = written ? *before.when.utc_offset_h - *row.when.utc_offset_h : 0.0;
    if (std::abs(gap_h - step_h - 1.0) < slack_h || turned_h < -0.5) order.hour_skipped = true;
    if (gap_h + turned_h > slack_h) continue;
    const std::string day = to_string(row.when.date);
    const bool again = gap_h == 0.0;
    if (clock_may_go_back(row, gap_h, step_h) &&
        (order.days_gone_back.empty() || order.days_gone_back.back() != day)) {
      order.days_gone_back.push_back(day);
    } else {
      order.faults.push_back({row.row, again});
    }
  }
  return order;
}

}  // namespace wiltline
