#include "wiltline/weather/row_times.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <utility>

#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

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
      std::max_element(counts.begin(), counts.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == counts.end() ? 0.0 : static_cast<double>(most->first) / minutes_per_hour;
}

RowsOfPlace rows_of_place(std::span<const TimedRow> rows, std::size_t place) {
  RowsOfPlace result;
  std::copy_if(rows.begin(), rows.end(), std::back_inserter(result.rows),
               [place](const TimedRow& row) { return row.place == place; });
  result.turned_round =
      result.rows.size() > 1 && std::adjacent_find(result.rows.begin(), result.rows.end(),
                                                   [](const TimedRow& a, const TimedRow& b) {
                                                     return !later(b, a);
                                                   }) == result.rows.end();
  if (result.turned_round) std::reverse(result.rows.begin(), result.rows.end());
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
