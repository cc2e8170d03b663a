// Humidity: properties that hold for every input, next to the printed numbers of
// fao56_examples_test.cpp.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>

#include "evapotranspiration/days.hpp"
#include "support/near.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"

namespace wiltline::test {
namespace {

// Saturation pressure of pure water by the IAPWS Industrial Formulation 1997 (IAPWS-IF97), kPa,
// computed from the published formula. FAO-56's eq. 11 stays within 0.13 % of it from 0 to 50
// degrees.
TEST_CASE("saturation vapour pressure against IAPWS-IF97") {
  struct Steam {
    double temperature_c;
    double pressure_kpa;
  };
  constexpr std::array<Steam, 10> table{{{0.01, 0.61166},
                                         {5.0, 0.87257},
                                         {10.0, 1.22818},
                                         {15.0, 1.70574},
                                         {20.0, 2.33921},
                                         {25.0, 3.16975},
                                         {30.0, 4.24669},
                                         {35.0, 5.62862},
                                         {40.0, 7.38443},
                                         {45.0, 9.59439}}};
  for (const Steam& steam : table) {
    CAPTURE(steam.temperature_c);
    CHECK(near(saturation_vapour_pressure_kpa(steam.temperature_c), steam.pressure_kpa,
               0.0015 * steam.pressure_kpa));
  }
}

// Eq. 13's 4098 is 17.27 x 237.3 = 4098.17, rounded: 4e-5 of the slope.
TEST_CASE("slope of the saturation curve against the curve itself") {
  constexpr double step_c = 1e-3;
  for (const double temperature_c : steps(-30.0, 55.0, 0.5)) {
    CAPTURE(temperature_c);
    const double numeric = (saturation_vapour_pressure_kpa(temperature_c + step_c) -
                            saturation_vapour_pressure_kpa(temperature_c - step_c)) /
                           (2.0 * step_c);
    CHECK(near(saturation_slope_kpa_c(temperature_c), numeric, 1e-4 * numeric));
  }
}

TEST_CASE("more heat, more vapour; more height, less pressure") {
  for (const double temperature_c : steps(-40.0, 59.5, 0.5)) {
    CAPTURE(temperature_c);
    CHECK(saturation_vapour_pressure_kpa(temperature_c + 0.5) >
          saturation_vapour_pressure_kpa(temperature_c));
    CHECK(saturation_slope_kpa_c(temperature_c + 0.5) > saturation_slope_kpa_c(temperature_c));
    // The curve is hollow, so the mean at the extremes lies above the value at the mean (eq. 12).
    CHECK(mean_saturation_vapour_pressure_kpa(temperature_c + 10.0, temperature_c) >
          saturation_vapour_pressure_kpa(mean_temperature_c(temperature_c + 10.0, temperature_c)));
    CHECK(same(mean_saturation_vapour_pressure_kpa(temperature_c, temperature_c),
               saturation_vapour_pressure_kpa(temperature_c)));
  }
  CHECK(same(atmospheric_pressure_kpa(0.0), 101.3));
  for (const double elevation_m : steps(-500.0, 8900.0, 100.0)) {
    CAPTURE(elevation_m);
    const double pressure = atmospheric_pressure_kpa(elevation_m);
    const double higher_up = atmospheric_pressure_kpa(elevation_m + 100.0);
    CHECK(higher_up < pressure);
    CHECK(higher_up > 0.0);
    CHECK(psychrometric_constant_kpa_c(higher_up) < psychrometric_constant_kpa_c(pressure));
  }
}

TEST_CASE("humidity there and back") {
  for (const double temperature_c : steps(-20.0, 50.0, 5.0)) {
    for (const double rh_pct : steps(0.0, 100.0, 12.5)) {
      CAPTURE(temperature_c);
      CAPTURE(rh_pct);
      const double vapour_pressure = hourly_vapour_pressure_kpa(temperature_c, rh_pct);
      CHECK(same(relative_humidity_pct(vapour_pressure, temperature_c), rh_pct));
      CHECK(same(vapour_pressure_from_rh_max_kpa(temperature_c, rh_pct), vapour_pressure));
    }
    CHECK(same(
        relative_humidity_pct(vapour_pressure_from_dew_point_kpa(temperature_c), temperature_c),
        100.0));
  }
}

TEST_CASE("routes to the vapour pressure agree where they mean the same air") {
  for (const double tmin_c : {-5.0, 8.0, 22.0}) {
    for (const double range_c : {0.0, 5.0, 20.0}) {
      for (const double rh_pct : {0.0, 35.0, 100.0}) {
        CAPTURE(tmin_c);
        CAPTURE(range_c);
        CAPTURE(rh_pct);
        const double tmax_c = tmin_c + range_c;
        CHECK(same(vapour_pressure_from_rh_max_min_kpa(tmax_c, tmin_c, rh_pct, rh_pct),
                   vapour_pressure_from_rh_mean_kpa(tmax_c, tmin_c, rh_pct)));
      }
      // One vapour pressure all day long, saturated at the lowest temperature: the dew point.
      const double tmax_c = tmin_c + range_c;
      const double vapour_pressure = vapour_pressure_from_dew_point_kpa(tmin_c);
      const double rh_min_pct = rh_min_from_dew_point_pct(tmin_c, tmax_c);
      CHECK(same(vapour_pressure_from_rh_max_kpa(tmin_c, 100.0), vapour_pressure));
      CHECK(same(vapour_pressure_from_rh_max_min_kpa(tmax_c, tmin_c, 100.0, rh_min_pct),
                 vapour_pressure));
      CHECK(rh_min_pct == rh_min_from_extremes_pct(tmin_c, tmax_c));
      CHECK(rh_min_pct <= 100.0 + 1e-12);
    }
  }
  CHECK(rh_min_from_dew_point_pct(10.0, 25.0) < rh_min_from_dew_point_pct(12.0, 25.0));
}

TEST_CASE("psychrometer: no depression is saturation, still air reads drier") {
  const double pressure = atmospheric_pressure_kpa(300.0);
  CHECK(vapour_pressure_from_psychrometer_kpa(21.0, 21.0, pressure, psychrometer_natural_per_c) ==
        saturation_vapour_pressure_kpa(21.0));
  const auto of = [&](double wet_bulb_c, double per_c) {
    return vapour_pressure_from_psychrometer_kpa(25.0, wet_bulb_c, pressure, per_c);
  };
  CHECK(of(18.0, psychrometer_ventilated_per_c) > of(18.0, psychrometer_natural_per_c));
  CHECK(of(18.0, psychrometer_natural_per_c) > of(18.0, psychrometer_indoor_per_c));
  CHECK(of(18.0, psychrometer_ventilated_per_c) > of(16.0, psychrometer_ventilated_per_c));
}

TEST_CASE("psychrometrics: NaN in gives NaN out") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const double value : {atmospheric_pressure_kpa(nan),
                             psychrometric_constant_kpa_c(nan),
                             mean_temperature_c(nan, 1.0),
                             mean_temperature_c(1.0, nan),
                             saturation_vapour_pressure_kpa(nan),
                             mean_saturation_vapour_pressure_kpa(nan, 1.0),
                             mean_saturation_vapour_pressure_kpa(1.0, nan),
                             saturation_slope_kpa_c(nan),
                             relative_humidity_pct(nan, 1.0),
                             relative_humidity_pct(1.0, nan),
                             vapour_pressure_from_dew_point_kpa(nan),
                             vapour_pressure_from_psychrometer_kpa(nan, 1.0, 100.0, 0.0008),
                             vapour_pressure_from_psychrometer_kpa(1.0, nan, 100.0, 0.0008),
                             vapour_pressure_from_psychrometer_kpa(2.0, 1.0, nan, 0.0008),
                             vapour_pressure_from_rh_max_min_kpa(nan, 1.0, 90.0, 40.0),
                             vapour_pressure_from_rh_max_min_kpa(9.0, nan, 90.0, 40.0),
                             vapour_pressure_from_rh_max_min_kpa(9.0, 1.0, nan, 40.0),
                             vapour_pressure_from_rh_max_min_kpa(9.0, 1.0, 90.0, nan),
                             vapour_pressure_from_rh_max_kpa(nan, 90.0),
                             vapour_pressure_from_rh_max_kpa(1.0, nan),
                             vapour_pressure_from_rh_mean_kpa(nan, 1.0, 60.0),
                             vapour_pressure_from_rh_mean_kpa(9.0, nan, 60.0),
                             vapour_pressure_from_rh_mean_kpa(9.0, 1.0, nan),
                             hourly_vapour_pressure_kpa(nan, 60.0),
                             hourly_vapour_pressure_kpa(9.0, nan),
                             rh_min_from_dew_point_pct(nan, 9.0),
                             rh_min_from_dew_point_pct(1.0, nan),
                             rh_min_from_extremes_pct(nan, 9.0),
                             rh_min_from_extremes_pct(1.0, nan)}) {
    CHECK(std::isnan(value));
  }
}

}  // namespace
}  // namespace wiltline::test
