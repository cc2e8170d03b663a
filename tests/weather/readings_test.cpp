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
  const TakenColumn& low = *open.column_of(WeatherQuantity::tmin);
  const TakenColumn& rain = *open.column_of(WeatherQuantity::rain);
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
  const TakenColumn& high = *open.column_of(WeatherQuantity::tmax);
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
  const NumbersOfColumn numbers =
      numbers_in(open.table, {open.column_of(WeatherQuantity::tmin)}, rows);
  CHECK(numbers.count == 2);
  CHECK(numbers.lowest == 8.0);
  CHECK(numbers.highest == 12.0);
  CHECK(numbers.days == 9.0);
}

namespace {

SiteValues at(double latitude_deg, double elevation_m) {
  return {latitude_deg, elevation_m, std::nullopt, std::nullopt, std::nullopt};
}

std::string fitting(std::string_view kind, double lowest, double highest, double mean, double days,
                    const SiteValues& site) {
  NumbersOfColumn numbers;
  numbers.take(lowest);
  numbers.take(highest);
  numbers.sum = mean * days;
  numbers.days = days;
  std::string all;
  for (const std::string_view unit : units_of(kind)) {
    if (makes_sense(numbers, *find_unit(unit, kind), site)) all += std::string(unit) + " ";
  }
  return all;
}

}  // namespace

TEST_CASE("a year of temperatures at a known place tells its unit") {
  CHECK(fitting("temperature", -7.0, 35.0, 12.0, 365.0, at(47.0, 100.0)) == "°C ");
  CHECK(fitting("temperature", 19.0, 95.0, 54.0, 365.0, at(47.0, 100.0)) == "°F ");
  // Too short, too far north, too high, or nobody knows where: both can be.
  CHECK(fitting("temperature", -7.0, 35.0, 12.0, 90.0, at(47.0, 100.0)) == "°C °F ");
  CHECK(fitting("temperature", -7.0, 35.0, 12.0, 365.0, at(65.0, 100.0)) == "°C °F ");
  CHECK(fitting("temperature", -7.0, 35.0, 12.0, 365.0, at(30.0, 4000.0)) == "°C °F ");
  CHECK(fitting("temperature", -7.0, 35.0, 12.0, 365.0, {}) == "°C °F ");
}

TEST_CASE("rain in inches is told from mm only where inches would drown the world") {
  CHECK(fitting("depth", 0.0, 55.0, 2.5, 365.0, {}) == "mm ");
  CHECK(fitting("depth", 0.0, 2.0, 0.1, 365.0, {}) == "mm in ");
}

TEST_CASE("radiation as a day's sum or as its mean") {
  CHECK(fitting("radiation", 0.5, 29.0, 13.0, 365.0, at(47.0, 100.0)) == "MJ/m2 ");
  CHECK(fitting("radiation", 6.0, 340.0, 150.0, 365.0, at(47.0, 100.0)) == "W/m2 ");
  CHECK(fitting("radiation", 6.0, 29.0, 15.0, 40.0, at(47.0, 100.0)) == "MJ/m2 W/m2 ");
}

}  // namespace wiltline::test
