#include "handbook/sun.hpp"

#include <fmt/format.h>
#include <libnova/libnova.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "wiltline/base/units.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline::test {
namespace {

constexpr double pi = std::numbers::pi;

double degrees(double rad) {
  return rad * 180.0 / pi;
}

SunPosition precessed_sun(double julian_day) {
  ln_equ_posn j2000{};
  ln_equ_posn of_date{};
  ln_get_solar_equ_coords(julian_day, &j2000);
  ln_get_equ_prec(&j2000, julian_day, &of_date);
  return {radians(of_date.dec), radians(of_date.ra)};
}

/// Time angle of the sun at Greenwich, rad; 0 when it is highest there.
double greenwich_time_angle_rad(double julian_day, const SunPosition& sun) {
  return radians(ln_get_mean_sidereal_time(julian_day) * 15.0) - sun.right_ascension_rad;
}

/// The largest difference seen, and when.
struct Largest {
  double difference = 0.0;
  Date date{};

  void see(double value, Date when) {
    if (std::isnan(difference) || std::abs(value) <= difference) return;  // NaN stays
    difference = std::abs(value);
    date = when;
  }
  [[nodiscard]] SunCheck check(std::string quantity, std::string unit, double limit) const {
    return {std::move(quantity), std::move(unit), difference, limit,
            difference > 0.0 ? to_string(date) : std::string()};
  }
};

/// A latitude, and what FAO-56's day length and radiation may miss there.
struct LatitudeLimit {
  double latitude_deg;
  double daylight_h;
  double radiation_mj_m2;
};
constexpr std::array<LatitudeLimit, 7> latitude_limits{{{-40.0, 0.2, 1.1},
                                                        {-20.0, 0.2, 1.1},
                                                        {0.0, 0.02, 1.1},
                                                        {20.0, 0.2, 1.1},
                                                        {40.0, 0.2, 1.1},
                                                        {52.0, 0.25, 1.1},
                                                        {60.0, 0.4, 1.2}}};

void add_declination(std::vector<SunCheck>& checks) {
  Largest year;
  Largest growing_season;
  double sum_of_squares = 0.0;
  for (const Noon& noon : noons()) {
    const double difference =
        degrees(solar_declination_rad(noon.day_number) - noon.sun.declination_rad);
    year.see(difference, noon.date);
    if (month_of(noon.date) >= 4 && month_of(noon.date) <= 8) {
      growing_season.see(difference, noon.date);
    }
    sum_of_squares += difference * difference;
  }
  checks.push_back(year.check("declination", "degree", 1.5));
  checks.push_back(growing_season.check("declination, April to August", "degree", 0.9));
  checks.push_back({"declination, root mean square", "degree",
                    std::sqrt(sum_of_squares / static_cast<double>(noons().size())), 0.6, ""});
}

void add_distance(std::vector<SunCheck>& checks) {
  Largest largest;
  for (const Noon& noon : noons()) {
    largest.see(
        inverse_relative_distance(noon.day_number) - 1.0 / (noon.distance_au * noon.distance_au),
        noon.date);
  }
  checks.push_back(largest.check("inverse relative distance", "", 0.0035));
}

void add_day_length(std::vector<SunCheck>& checks) {
  for (const LatitudeLimit& limit : latitude_limits) {
    const double latitude = radians(limit.latitude_deg);
    Largest largest;
    for (const Noon& noon : noons()) {
      // The sun's centre on the horizon, no refraction: what FAO-56's N means.
      const double true_daylight_h =
          24.0 / pi * std::acos(-std::tan(latitude) * std::tan(noon.sun.declination_rad));
      largest.see(daylight_h(latitude, noon.day_number) - true_daylight_h, noon.date);
    }
    checks.push_back(largest.check(fmt::format("day length at {:.0f} degrees", limit.latitude_deg),
                                   "h", limit.daylight_h));
  }
}

/// Integrated from 10-minute positions, every 17th day of the four years to keep this under a
/// second: days that fall between each other from year to year.
void add_radiation(std::vector<SunCheck>& checks) {
  constexpr std::size_t day_step = 17;
  constexpr int minutes = 10;
  std::array<Largest, latitude_limits.size()> largest;
  for (std::size_t i = 0; i < noons().size(); i += day_step) {
    const Noon& noon = noons()[i];
    std::array<double, latitude_limits.size()> radiation{};
    for (int minute = minutes / 2; minute < 24 * 60; minute += minutes) {
      const double julian_day = noon.julian_day + (minute - 12 * 60) / (24.0 * 60.0);
      const SunPosition sun = precessed_sun(julian_day);
      const double time_angle = greenwich_time_angle_rad(julian_day, sun);
      for (std::size_t k = 0; k < latitude_limits.size(); ++k) {
        const double latitude = radians(latitude_limits[k].latitude_deg);
        const double sine =
            std::sin(latitude) * std::sin(sun.declination_rad) +
            std::cos(latitude) * std::cos(sun.declination_rad) * std::cos(time_angle);
        radiation[k] += std::max(sine, 0.0) * minutes * solar_constant_mj_m2_min /
                        (noon.distance_au * noon.distance_au);
      }
    }
    for (std::size_t k = 0; k < latitude_limits.size(); ++k) {
      const double latitude = radians(latitude_limits[k].latitude_deg);
      largest[k].see(extraterrestrial_radiation_mj_m2(latitude, noon.day_number) - radiation[k],
                     noon.date);
    }
  }
  for (std::size_t k = 0; k < latitude_limits.size(); ++k) {
    checks.push_back(largest[k].check(fmt::format("extraterrestrial radiation at {:.0f} degrees",
                                                  latitude_limits[k].latitude_deg),
                                      "MJ/m2", latitude_limits[k].radiation_mj_m2));
  }
}

void add_seasonal_correction(std::vector<SunCheck>& checks) {
  Largest largest;
  for (const Noon& noon : noons()) {
    // At mean noon in Greenwich the sun's time angle is the correction itself.
    const double angle = greenwich_time_angle_rad(noon.julian_day, noon.sun);
    const double correction_h = std::remainder(angle, 2.0 * pi) * 12.0 / pi;
    largest.see(seasonal_correction_h(noon.day_number) - correction_h, noon.date);
  }
  checks.push_back(largest.check("seasonal correction of solar time", "h", 0.03));  // two minutes
}

}  // namespace

const std::vector<Noon>& noons() {
  static const std::vector<Noon> all = [] {
    std::vector<Noon> result;
    for (Date date = make_date(2021, 1, 1); date < make_date(2025, 1, 1);
         date += std::chrono::days(1)) {
      // Julian day 2451545.0 is noon of 2000-01-01.
      const double julian_day =
          2451545.0 + static_cast<double>((date - make_date(2000, 1, 1)).count());
      result.push_back({date, day_of_year(date), julian_day, precessed_sun(julian_day),
                        ln_get_earth_solar_dist(julian_day)});
    }
    return result;
  }();
  return all;
}

std::vector<SunCheck> sun_checks() {
  std::vector<SunCheck> checks;
  add_declination(checks);
  add_distance(checks);
  add_day_length(checks);
  add_radiation(checks);
  add_seasonal_correction(checks);
  return checks;
}

}  // namespace wiltline::test
