// The sun's geometry against an astronomical library (libnova), for the tests and the printed
// table.
//
// FAO-56's closed forms are approximations, so the limits against libnova are wide: they catch a
// wrong sign, degrees for radians or a wrong day number. Small errors are caught by the paper's own
// printed numbers (fao56_examples_test.cpp).
//
// libnova gives the sun in the equinox J2000; here it is precessed to the equinox of date, without
// which the declination of 2024 is up to 0.14 degrees off.
#pragma once

#include <string>
#include <vector>

#include "wiltline/base/date.hpp"

namespace wiltline::test {

/// Where the sun stands in the sky, geocentric, equinox of date.
struct SunPosition {
  double declination_rad;
  double right_ascension_rad;
};

/// A day of 2021 to 2024 and libnova's sun at its mean noon in Greenwich.
struct Noon {
  Date date;
  int day_number;
  double julian_day;
  SunPosition sun;
  double distance_au;
};

/// Every day of 2021 to 2024.
[[nodiscard]] const std::vector<Noon>& noons();

/// The largest difference of a quantity from libnova over those days.
struct SunCheck {
  std::string quantity;
  std::string unit;
  double difference = 0.0;
  double limit = 0.0;
  std::string worst;  // the day it was on; empty for a mean

  [[nodiscard]] bool met() const { return difference < limit; }
};
[[nodiscard]] std::vector<SunCheck> sun_checks();

}  // namespace wiltline::test
