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

}  // namespace wiltline::test
