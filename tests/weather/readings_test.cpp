// What a cell says.
#include "wiltline/weather/readings.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"
#include "support/refusal.hpp"
#include "weather/opened.hpp"

namespace wiltline::test {

TEST_CASE("numbers, marks of nothing, and what stands for no reading") {
  OpenTable open = opened(
      "date,low (F),rain (in)\n2014-06-01,50,trace\n2014-06-02,-9999,0.50\n2014-06-03,n/a,\n"
      "2014-06-04,cool,-99\n");
  Readings readings(open);
  const TakenColumn& low = *open.column_of(Quantity::tmin);
  const TakenColumn& rain = *open.column_of(Quantity::rain);
  const auto warm = readings.of(0, low);
  REQUIRE(warm);
  CHECK(near(warm->value, 10.0, 1e-12));
  CHECK(warm->plain == "50");
  CHECK(readings.of(0, rain)->value == 0.0);
  CHECK(open.said.zero_marks == 1);
  CHECK_FALSE(readings.of(1, low));
  CHECK(near(readings.of(1, rain)->value, 12.7, 1e-12));
  CHECK_FALSE(readings.of(2, low));
  CHECK_FALSE(readings.of(2, rain));
  CHECK_FALSE(readings.of(3, rain));
  CHECK(open.said.missing.size() == 3);  // -9999, n/a, -99; a blank cell needs no saying
  CHECK_FALSE(readings.of(3, low));
  CHECK(refusal([&] { open.problems.throw_if_any(); }) ==
        "w.csv:5:12: found \"cool\" in low (F); expected a number, or nothing if unknown");
}

TEST_CASE("a reading whose flag says that it failed its checks is left out") {
  OpenTable open = opened(
      "STATION,DATE,TMAX,TMAX_ATTRIBUTES,TMIN\nX,2014-06-01,210,\",,W\",80\n"
      "X,2014-06-02,210,\",I,W\",80\n",
      "ghcn-tenths");
  Readings readings(open);
  const TakenColumn& high = *open.column_of(Quantity::tmax);
  CHECK(readings.of(0, high)->value == 21.0);
  CHECK_FALSE(readings.of(1, high));
  CHECK(open.said.failed == 1);
}

TEST_CASE("the numbers of a column, and the days they are of") {
  const OpenTable open = opened("date,low\n2014-06-01,8\n2014-06-05,-9999\n2014-06-10,12\n");
  std::vector<TimedRow> rows;
  for (unsigned i = 0; i < 3; ++i) {
    rows.push_back({i, 0, {make_date(2014, 6, 1) + std::chrono::days(i * 4), {}, {}}});
  }
  const NumbersOfColumn numbers = numbers_in(open.table, {open.column_of(Quantity::tmin)}, rows);
  CHECK(numbers.count == 2);
  CHECK(numbers.lowest == 8.0);
  CHECK(numbers.highest == 12.0);
  CHECK(numbers.days == 9.0);
}

}  // namespace wiltline::test
