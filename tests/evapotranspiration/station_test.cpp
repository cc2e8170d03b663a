// Reference ET of measured days against the value the station's agency publishes.
#include <doctest/doctest.h>

#include <cmath>

#include "handbook/station.hpp"

namespace wiltline::test {

// MeteoSwiss, Zurich/Affoltern, April to September 2016
// (tests/reference/zurich-affoltern-2016.csv).
TEST_CASE("reference ET: a station's published values, within their rounding") {
  const StationCheck check = station_check();
  CHECK(check.days == 183);
  CHECK(check.largest_difference_mm <= station_day_limit_mm);
  CHECK(std::abs(check.ours_mm - check.published_mm) <= station_sum_limit_mm);
  CHECK(check.published_mm == doctest::Approx(549.1));
}

}  // namespace wiltline::test
