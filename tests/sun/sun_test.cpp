// The sun's geometry against an astronomical library (libnova) and against itself.
#include <doctest/doctest.h>
#include <libnova/libnova.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <numbers>
#include <tuple>
#include <vector>

#include "handbook/sun.hpp"
#include "support/near.hpp"
#include "wiltline/base/date.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline::test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double transmittance = 0.8;  // of the air, in a beam from straight above

double degrees(double rad) {
  return rad * 180.0 / pi;
}

TEST_CASE("libnova's own trap: J2000 has to be precessed") {
  double largest_deg = 0.0;
  for (const Noon& noon : noons()) {
    if (year_of(noon.date) != 2024) continue;
    ln_equ_posn j2000{};
    ln_get_solar_equ_coords(noon.julian_day, &j2000);
    largest_deg = std::max(largest_deg, std::abs(j2000.dec - degrees(noon.sun.declination_rad)));
  }
  CHECK(largest_deg > 0.13);
  CHECK(largest_deg < 0.14);
}

TEST_CASE("the sun against libnova, every day of 2021 to 2024") {
  CHECK(noons().size() == 1461);
  const std::vector<SunCheck> checks = sun_checks();
  CHECK(checks.size() == 19);
  for (const SunCheck& check : checks) {
    CAPTURE(check.quantity);
    CAPTURE(check.worst);
    CAPTURE(check.difference);
    CHECK(check.met());
  }
}

/// Every latitude of whole degrees, poles included, on days through a leap year.
template <typename Check>
void for_latitudes_and_days(int latitude_step, int day_step, Check check) {
  for (int latitude = -90; latitude <= 90; latitude += latitude_step) {
    for (int day = 1; day <= 366; day += day_step) {
      CAPTURE(latitude);
      CAPTURE(day);
      check(radians(latitude), day);
    }
  }
}

TEST_CASE("sunset hour angle by arc cosine and by arc tangent") {
  // Where the sun does not set or not rise, eq. 27 puts 0.00001 under the root of eq. 26, which
  // keeps the angle this far from 0 or pi (at worst, where the product of the tangents is just 1).
  const double polar_error = pi / 2.0 - std::atan(1.0 / std::sqrt(0.00001));
  for_latitudes_and_days(1, 5, [&](double latitude, int day) {
    const double declination = solar_declination_rad(day);
    const double by_arctan = sunset_hour_angle_by_arctan_rad(latitude, declination);
    const bool polar = std::abs(std::tan(latitude) * std::tan(declination)) >= 1.0;
    CHECK(near(by_arctan, sunset_hour_angle_rad(latitude, declination),
               polar ? polar_error + 1e-12 : 1e-12));
  });
}

TEST_CASE("polar day and polar night") {
  constexpr int june_solstice = 172;
  constexpr int december_solstice = 356;
  for (const double latitude_deg : {67.5, 75.0, 89.0, 90.0}) {
    CAPTURE(latitude_deg);
    const double north = radians(latitude_deg);
    for (const auto& [latitude, summer, winter] :
         {std::tuple(north, june_solstice, december_solstice),
          std::tuple(-north, december_solstice, june_solstice)}) {
      CHECK(near(daylight_h(latitude, summer), 24.0, 1e-12));
      CHECK(daylight_h(latitude, winter) == 0.0);
      CHECK(extraterrestrial_radiation_mj_m2(latitude, summer) > 35.0);
      CHECK(extraterrestrial_radiation_mj_m2(latitude, winter) == 0.0);
      CHECK(near(beam_share_between(latitude, summer, 0.0, 24.0, transmittance), 1.0, 1e-12));
      CHECK(beam_share_between(latitude, winter, 0.0, 24.0, transmittance) == 0.0);
    }
  }
}

TEST_CASE("every latitude and day: finite, nothing below zero, mirrored days add up to 24 h") {
  for_latitudes_and_days(1, 1, [](double latitude, int day) {
    const double radiation = extraterrestrial_radiation_mj_m2(latitude, day);
    const double daylight = daylight_h(latitude, day);
    // No CHECK for each of 66,000 pairs, only for what is wrong: that keeps this test fast.
    if (!(radiation >= 0.0 && radiation < 50.0)) FAIL_CHECK("Ra ", radiation);
    if (!(daylight >= 0.0 && daylight <= 24.0 + 1e-12)) FAIL_CHECK("N ", daylight);
    if (!near(daylight + daylight_h(-latitude, day), 24.0, 1e-9))
      FAIL_CHECK("mirrored N ", daylight);
    if ((daylight == 0.0) != (radiation < 1e-12)) FAIL_CHECK("N ", daylight, ", Ra ", radiation);
  });
}

TEST_CASE("the sky's limits, kept by day of the year, are those of each day") {
  for (const double latitude_deg : {-90.0, -33.5, 0.0, 46.4, 68.0}) {
    SkyLimits kept(latitude_deg);
    for (int again = 0; again < 2; ++again) {
      for (const int day : {366, 1, 59, 172, 365}) {
        CHECK(kept.on(day).radiation_mj_m2 ==
              extraterrestrial_radiation_mj_m2(radians(latitude_deg), day));
        CHECK(kept.on(day).daylight_h == daylight_h(radians(latitude_deg), day));
      }
    }
    for (const Date date :
         {make_date(2023, 12, 31), make_date(2024, 1, 1), make_date(2024, 12, 31),
          make_date(2023, 3, 1), make_date(1969, 12, 31), make_date(1970, 1, 1)}) {
      CHECK(kept.on(date).radiation_mj_m2 ==
            sky_limit(latitude_deg, day_of_year(date)).radiation_mj_m2);
    }
  }
}

TEST_CASE("radiation of the hours adds up to the day's") {
  for_latitudes_and_days(5, 7, [](double latitude, int day) {
    const double whole = extraterrestrial_radiation_mj_m2(latitude, day);
    for (const int periods : {24, 96}) {
      const double period_h = 24.0 / periods;
      double sum = 0.0;
      for (int i = 0; i < periods; ++i) {
        const double middle = (i + 0.5) * period_h;
        sum += extraterrestrial_radiation_mj_m2_period(latitude, day, (middle - 12.0) * pi / 12.0,
                                                       period_h);
      }
      CHECK(near(sum, whole, 1e-9 * whole));
    }
  });
}

/// How much the radiation of the 24 hours of the clock misses the day's, as a share of it, where
/// the clock differs from the sun.
double missed_by_the_clock(double latitude, int day, double degrees_west_of_zone) {
  const double whole = extraterrestrial_radiation_mj_m2(latitude, day);
  if (whole == 0.0) return 0.0;
  double sum = 0.0;
  for (int hour = 0; hour < 24; ++hour) {
    const double angle = solar_time_angle_rad(hour + 0.5, day, 75.0, 75.0 + degrees_west_of_zone);
    sum += extraterrestrial_radiation_mj_m2_period(latitude, day, angle, 1.0);
  }
  return std::abs(sum - whole) / whole;
}

// The day's radiation only moves from hour to hour.
TEST_CASE("radiation of the hours of the clock adds up to the day's") {
  for (int latitude_deg = -60; latitude_deg <= 60; latitude_deg += 10) {
    for (int day = 1; day <= 366; day += 5) {
      for (const double degrees_west : {-22.5, 0.0, 22.5}) {
        CAPTURE(latitude_deg);
        CAPTURE(day);
        CAPTURE(degrees_west);
        CHECK(missed_by_the_clock(radians(latitude_deg), day, degrees_west) < 1e-9);
      }
    }
  }
}

// Where the sun is up around solar midnight, an hour of the clock may reach over it.
TEST_CASE("radiation of the hours of the clock adds up to the day's under the midnight sun") {
  double missed = 0.0;
  for (const double latitude_deg : {-90.0, -70.0, 66.0, 70.0, 80.0, 90.0}) {
    for (int day = 1; day <= 365; day += 5) {
      for (const double degrees_west : {-22.5, 0.0, 22.5}) {
        missed = std::max(missed, missed_by_the_clock(radians(latitude_deg), day, degrees_west));
      }
    }
  }
  CHECK(missed < 1e-9);
}

TEST_CASE("solar time: eq. 31 in degrees west and the correction in degrees east agree") {
  for (int day = 1; day <= 366; day += 11) {
    for (int offset_h = -12; offset_h <= 14; ++offset_h) {
      for (const double degrees_off : {-20.0, 0.0, 3.5}) {
        const double longitude_deg = 15.0 * offset_h + degrees_off;
        const double clock_h = 9.25;
        const double solar_h =
            12.0 + solar_time_angle_rad(clock_h, day, -15.0 * offset_h, -longitude_deg) * 12.0 / pi;
        // Eq. 31 prints a fifteenth as 0.06667.
        CHECK(near(solar_h - clock_h, solar_minus_clock_h(longitude_deg, offset_h, day), 1e-4));
      }
    }
  }
  // East of the zone's centre the sun is ahead of the clock.
  CHECK(solar_minus_clock_h(5.0, 0.0, 100) > solar_minus_clock_h(0.0, 0.0, 100));
}

TEST_CASE("noon elevation is the highest the sun gets, and what sin(eta) gives") {
  for_latitudes_and_days(5, 13, [](double latitude, int day) {
    const double declination = solar_declination_rad(day);
    const double sine =
        std::sin(latitude) * std::sin(declination) + std::cos(latitude) * std::cos(declination);
    CHECK(near(std::sin(noon_elevation_rad(latitude, declination)), sine, 1e-12));
  });
  CHECK(near(noon_elevation_rad(0.2, 0.2), pi / 2.0, 1e-12));
  CHECK(noon_elevation_rad(radians(80.0), solar_declination_rad(356)) < 0.0);
}

TEST_CASE("share of the beam between two hours") {
  for_latitudes_and_days(5, 13, [](double latitude, int day) {
    const double whole = beam_share_between(latitude, day, 0.0, 24.0, transmittance);
    if (daylight_h(latitude, day) == 0.0) {
      CHECK(whole == 0.0);
      CHECK(beam_share_between(latitude, day, 10.0, 14.0, transmittance) == 0.0);
      return;
    }
    CHECK(near(whole, 1.0, 1e-12));
    double before = 0.0;
    for (const double split_h : {0.0, 3.7, 8.0, 11.99, 12.0, 16.2, 24.0}) {
      const double first = beam_share_between(latitude, day, 0.0, split_h, transmittance);
      CHECK(near(first + beam_share_between(latitude, day, split_h, 24.0, transmittance), 1.0,
                 1e-12));
      CHECK(first >= before);
      before = first;
    }
    CHECK(near(beam_share_between(latitude, day, 0.0, 12.0, transmittance), 0.5, 1e-12));
    CHECK(near(beam_share_between(latitude, day, 7.0, 9.5, transmittance),
               beam_share_between(latitude, day, 14.5, 17.0, transmittance), 1e-12));
    CHECK(beam_share_between(latitude, day, 9.0, 9.0, transmittance) == 0.0);
    // Noon has more than its part, but at the poles, where the sun keeps its height.
    CHECK(beam_share_between(latitude, day, 11.0, 13.0, transmittance) > 2.0 / 24.0 - 1e-12);
  });
}

// The library adds up 96 steps. Here the same beam is added up in steps of seconds.
TEST_CASE("share of the beam against a fine sum") {
  for (const double latitude_deg : {0.0, 35.0, 52.0, 68.0}) {
    for (const int day : {1, 80, 172, 300}) {
      CAPTURE(latitude_deg);
      CAPTURE(day);
      const double latitude = radians(latitude_deg);
      const double declination = solar_declination_rad(day);
      if (daylight_h(latitude, day) == 0.0) continue;
      double inside = 0.0;
      double whole = 0.0;
      constexpr int steps = 24 * 360;
      for (int i = 0; i < steps; ++i) {
        const double hour = (i + 0.5) * 24.0 / steps;
        const double sine =
            std::sin(latitude) * std::sin(declination) +
            std::cos(latitude) * std::cos(declination) * std::cos((hour - 12.0) * pi / 12.0);
        if (sine <= 0.0) continue;
        const double beam = sine * std::pow(transmittance, 1.0 / sine);
        whole += beam;
        if (hour > 8.3 && hour < 11.1) inside += beam;
      }
      CHECK(
          near(beam_share_between(latitude, day, 8.3, 11.1, transmittance), inside / whole, 1e-3));
    }
  }
}

}  // namespace
}  // namespace wiltline::test
