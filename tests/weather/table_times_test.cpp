// Dates, times and places of rows.
#include "wiltline/weather/table_times.hpp"

#include <doctest/doctest.h>

#include "support/refusal.hpp"
#include "weather/opened.hpp"

namespace wiltline::test {

TEST_CASE("a date in one column, a clock and an offset beside it, places in order") {
  OpenTable open = opened(
      "station,date,time,utc offset,low\nB,13.06.2014,07:30,2,8\nA,14.06.2014,24:00,2,8\n"
      "B,15.06.2014,0:00,1,8\n");
  const TableTimes times = read_times(open, std::nullopt);
  CHECK(open.problems.empty());
  CHECK(open.said.dates == "day, month, year");
  CHECK(times.places == std::vector<std::string>{"B", "A"});
  REQUIRE(times.rows.size() == 3);
  CHECK(times.rows[0].when.date == make_date(2014, 6, 13));
  CHECK(times.rows[0].when.hour == 7.5);
  CHECK(times.rows[1].when.hour == 24.0);
  CHECK(times.rows[1].place == 1);
  CHECK(times.rows[2].place == 0);
  CHECK(times.rows[2].when.utc_offset_h == 1.0);
}

TEST_CASE("a date in parts, and without a place") {
  OpenTable open = opened("year,month,day,low\n2014,6,1,8\n");
  const TableTimes times = read_times(open, std::nullopt);
  CHECK(times.rows.at(0).when.date == make_date(2014, 6, 1));
  CHECK(open.said.dates == "year, month and day in three columns");
  CHECK(times.places.empty());
  CHECK(times.place_count() == 1);
}

TEST_CASE("an order that is told, and one that is not") {
  const std::string two_ways = "date,low\n06/01/2014,8\n";
  OpenTable told = opened(two_ways);
  CHECK(read_times(told, DateOrder::mdy).rows.at(0).when.date == make_date(2014, 6, 1));
  OpenTable open = opened(two_ways);
  (void)read_times(open, std::nullopt);
  CHECK(refusal([&] { open.problems.throw_if_any(); }).find("to be told which: dmy or mdy") !=
        std::string::npos);
}

namespace {

std::vector<TimedRow> rows(Date date, const std::vector<double>& hours,
                           std::optional<double> utc_offset_h = std::nullopt) {
  std::vector<TimedRow> result;
  for (const double hour : hours) {
    result.push_back({result.size(), 0, WrittenDate{date, hour, utc_offset_h}});
  }
  return result;
}

const Date sunday = make_date(2014, 10, 26);

}  // namespace

TEST_CASE("steps, and what is part of a day") {
  CHECK(common_step_h(rows(sunday, {0.0, 1.0, 2.0, 4.0})) == 1.0);
  CHECK(common_step_h(rows(sunday, {0.0})) == 0.0);
  CHECK(are_parts_of_days(rows(sunday, {0.0, 0.5})));
  CHECK_FALSE(are_parts_of_days(rows(sunday, {7.0, 7.0})));  // a day twice, not its parts
  auto days = rows(sunday, {7.0, 7.0});
  days[1].when.date += std::chrono::days(1);
  CHECK_FALSE(are_parts_of_days(days));
  CHECK(hours_between(days[0], days[1]) == 24.0);
}

TEST_CASE("rows of a place, latest first or not") {
  auto falling = rows(sunday, {3.0, 2.0, 1.0});
  const RowsOfPlace turned = rows_of_place(falling, 0);
  CHECK(turned.turned_round);
  CHECK(turned.rows.front().when.hour == 1.0);
  falling[1].when.hour = 5.0;
  CHECK_FALSE(rows_of_place(falling, 0).turned_round);  // half of them only
  CHECK(rows_of_place(falling, 1).rows.empty());
}

TEST_CASE("an hour twice is a clock that goes back on a Sunday of autumn, once, else a fault") {
  CHECK(order_of_hours(rows(sunday, {0.0, 1.0, 2.0, 3.0}), 1.0).faults.empty());
  const OrderOfHours back = order_of_hours(rows(sunday, {1.0, 2.0, 2.0, 3.0}), 1.0);
  CHECK(back.faults.empty());
  CHECK(back.days_gone_back == std::vector<std::string>{"2014-10-26"});
  CHECK_FALSE(back.hour_skipped);
  CHECK(order_of_hours(rows(sunday, {1.0, 2.0, 2.0, 2.0, 3.0}), 1.0).faults.size() == 1);
  CHECK(order_of_hours(rows(sunday, {12.0, 12.0}), 1.0).faults.size() == 1);
  CHECK(order_of_hours(rows(sunday + std::chrono::days(1), {2.0, 2.0}), 1.0).faults.size() == 1);
  CHECK(order_of_hours(rows(make_date(2014, 6, 29), {2.0, 2.0}), 1.0).faults.size() == 1);
  // Ten minutes: the hour begins again; one time alone twice is a fault.
  CHECK(order_of_hours(rows(sunday, {2.5, 2.75, 2.0, 2.25}), 0.25).faults.empty());
  CHECK(order_of_hours(rows(sunday, {2.5, 2.5, 2.75}), 0.25).faults.size() == 1);
  // Three hours apart, no clock that goes back brings the same time again.
  CHECK(order_of_hours(rows(sunday, {0.0, 3.0, 3.0, 6.0}), 3.0).faults.size() == 1);
  const OrderOfHours forward = order_of_hours(rows(sunday, {0.0, 1.0, 3.0, 4.0}), 1.0);
  CHECK(forward.hour_skipped);
  CHECK_FALSE(order_of_hours(rows(sunday, {13.0, 12.0}), 1.0).faults.at(0).again);
}

TEST_CASE("with its offset written a clock may go back whenever it does") {
  auto june = rows(make_date(2014, 6, 2), {2.0, 2.0}, 2.0);
  june[1].when.utc_offset_h = 1.0;
  CHECK(order_of_hours(june, 1.0).faults.empty());
}

}  // namespace wiltline::test
