#include "wiltline/sun/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wiltline {
namespace {

constexpr double pi = std::numbers::pi;

/// pi/12 rad of time angle an hour.
constexpr double rad_per_hour = pi / 12.0;

double sunset_by_tangents_rad(double latitude_tangent, double declination_tangent) {
  const double cosine = -latitude_tangent * declination_tangent;
  return std::acos(std::clamp(cosine, -1.0, 1.0));  // beyond: no sunset, no sunrise
}

}  // namespace

double radians(double degrees) {
  return pi / 180.0 * degrees;
}

double inverse_relative_distance(int day_of_year) {
  return 1.0 + 0.033 * std::cos(2.0 * pi * day_of_year / 365.0);
}

double solar_declination_rad(int day_of_year) {
  return 0.409 * std::sin(2.0 * pi * day_of_year / 365.0 - 1.39);
}

double sunset_hour_angle_rad(double latitude_rad, double declination_rad) {
  return sunset_by_tangents_rad(std::tan(latitude_rad), std::tan(declination_rad));
}

double sunset_hour_angle_by_arctan_rad(double latitude_rad, double declination_rad) {
  const double product = std::tan(latitude_rad) * std::tan(declination_rad);
  const double x = 1.0 - product * product;                                  // eq. 27
  return pi / 2.0 - std::atan(-product / std::sqrt(x > 0.0 ? x : 0.00001));  // eq. 26
}

SunAtLatitude::SunAtLatitude(double latitude_rad)
    : sine_(std::sin(latitude_rad)),
      cosine_(std::cos(latitude_rad)),
      tangent_(std::tan(latitude_rad)) {}

SunOfDay SunAtLatitude::on(int day_of_year) const {
  const double declination = solar_declination_rad(day_of_year);
  const double sunset = sunset_by_tangents_rad(tangent_, std::tan(declination));
  const double geometry =
      sunset * sine_ * std::sin(declination) + cosine_ * std::cos(declination) * std::sin(sunset);
  const double radiation = 24.0 * 60.0 / pi * solar_constant_mj_m2_min *
                           inverse_relative_distance(day_of_year) * geometry;
  return {.extraterrestrial_mj_m2 =
              std::max(radiation, 0.0),  // rounding can leave -1e-16 on a day without sunrise
          .daylight_h = 24.0 / pi * sunset};
}

SunOfDay sun_of_day(double latitude_rad, int day_of_year) {
  return SunAtLatitude(latitude_rad).on(day_of_year);
}

double extraterrestrial_radiation_mj_m2(double latitude_rad, int day_of_year) {
  return sun_of_day(latitude_rad, day_of_year).extraterrestrial_mj_m2;
}

double clear_sky_radiation_mj_m2(double extraterrestrial_mj_m2, double elevation_m) {
  return (0.75 + 2e-5 * elevation_m) * extraterrestrial_mj_m2;
}

double daylight_h(double latitude_rad, int day_of_year) {
  return sun_of_day(latitude_rad, day_of_year).daylight_h;
}

double seasonal_correction_h(int day_of_year) {
  const double b = 2.0 * pi * (day_of_year - 81) / 364.0;  // eq. 33
  return 0.1645 * std::sin(2.0 * b) - 0.1255 * std::cos(b) - 0.025 * std::sin(b);
}

double solar_time_angle_rad(double clock_h, int day_of_year, double zone_longitude_deg_w,
                            double site_longitude_deg_w) {
  return rad_per_hour * ((clock_h + 0.06667 * (zone_longitude_deg_w - site_longitude_deg_w) +
                          seasonal_correction_h(day_of_year)) -
                         12.0);
}

double extraterrestrial_radiation_mj_m2_period(double latitude_rad, int day_of_year,
                                               double solar_time_angle_rad, double period_h) {
  const double declination = solar_declination_rad(day_of_year);
  const double sunset = sunset_hour_angle_rad(latitude_rad, declination);
  const double half_width = pi * period_h / 24.0;  // eq. 29, 30
  const double constant = std::sin(latitude_rad) * std::sin(declination);
  const double swing = std::cos(latitude_rad) * std::cos(declination);
  double geometry = 0.0;
  for (const double turn : {-2.0 * pi, 0.0, 2.0 * pi}) {  // the sunlit part returns every 2 pi
    const double begin = std::clamp(solar_time_angle_rad - half_width + turn, -sunset, sunset);
    const double end = std::clamp(solar_time_angle_rad + half_width + turn, -sunset, sunset);
    geometry += (end - begin) * constant + swing * (std::sin(end) - std::sin(begin));
  }
  return std::max(12.0 * 60.0 / pi * solar_constant_mj_m2_min *
                      inverse_relative_distance(day_of_year) * geometry,
                  0.0);
}

double noon_elevation_rad(double latitude_rad, double declination_rad) {
  return pi / 2.0 - std::abs(latitude_rad - declination_rad);
}

double solar_minus_clock_h(double longitude_deg, double utc_offset_h, int day_of_year) {
  return (longitude_deg - 15.0 * utc_offset_h) / 15.0 + seasonal_correction_h(day_of_year);
}

double beam_share_between(double latitude_rad, int day_of_year, double from_h, double to_h,
                          double transmittance) {
  constexpr int steps = 96;
  const double declination = solar_declination_rad(day_of_year);
  const double sunset = sunset_hour_angle_rad(latitude_rad, declination);
  if (sunset <= 0.0) return 0.0;
  const double constant = std::sin(latitude_rad) * std::sin(declination);
  const double swing = std::cos(latitude_rad) * std::cos(declination);
  // Midpoint rule over the daylight hours; a step cut by a limit counts by the part inside it.
  double inside = 0.0;
  double whole = 0.0;
  const double step = 2.0 * sunset / steps;
  const double from = (from_h - 12.0) * rad_per_hour;
  const double to = (to_h - 12.0) * rad_per_hour;
  for (int i = 0; i < steps; ++i) {
    const double begin = -sunset + i * step;
    const double sine = constant + swing * std::cos(begin + step / 2.0);
    if (sine <= 0.0) continue;
    const double beam = sine * std::pow(transmittance, 1.0 / sine);
    whole += beam;
    const double covered = std::min(begin + step, to) - std::max(begin, from);
    inside += beam * std::clamp(covered / step, 0.0, 1.0);
  }
  return whole > 0.0 ? inside / whole : 0.0;
}

}  // namespace wiltline
