// When the numbers of a column tell their unit.
#include "wiltline/weather/units_told.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {
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
