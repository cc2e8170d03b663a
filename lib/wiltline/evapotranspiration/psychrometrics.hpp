// Air pressure and humidity: FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes & Smith
// 1998), chapter 3, equations 7 to 19 (11: weather/saturation), with 54, 63 and 64. Pressures in
// kPa, temperatures in degrees Celsius, relative humidities in percent. Plain functions of their
// arguments: NaN in gives NaN out.
#pragma once

#include "wiltline/weather/saturation.hpp"

namespace wiltline {

/// Latent heat of vaporisation, MJ/kg, taken as constant (FAO-56 chapter 1: 2.45 at about 20 °C).
inline constexpr double latent_heat_mj_kg = 2.45;

/// Mean air pressure at an elevation above sea level, kPa (eq. 7).
[[nodiscard]] double atmospheric_pressure_kpa(double elevation_m);

/// Psychrometric constant, kPa/°C (eq. 8).
[[nodiscard]] double psychrometric_constant_kpa_c(double pressure_kpa);

/// Mean daily temperature as FAO-56 defines it: halfway between the extremes (eq. 9).
[[nodiscard]] inline double mean_temperature_c(double tmax_c, double tmin_c) {
  return (tmax_c + tmin_c) / 2.0;
}

/// Mean saturation vapour pressure of a day, kPa: mean of the two at the extremes (eq. 12).
[[nodiscard]] inline double mean_saturation_vapour_pressure_kpa(double tmax_c, double tmin_c) {
  return (saturation_vapour_pressure_kpa(tmax_c) + saturation_vapour_pressure_kpa(tmin_c)) / 2.0;
}

/// Slope of the saturation vapour pressure curve, kPa/°C (eq. 13).
[[nodiscard]] inline double saturation_slope_kpa_c(double temperature_c) {
  const double from_pole = temperature_c + saturation_pole_c;
  return 4098.0 * saturation_vapour_pressure_kpa(temperature_c) /
         (from_pole * from_pole);  // eq. 13
}

/// Relative humidity, % (eq. 10).
[[nodiscard]] double relative_humidity_pct(double vapour_pressure_kpa, double temperature_c);

/// Actual vapour pressure, kPa, by the listed routes, best first.
[[nodiscard]] inline double vapour_pressure_from_dew_point_kpa(double dew_point_c) {
  return saturation_vapour_pressure_kpa(dew_point_c);  // eq. 14
}
/// Psychrometer coefficient, 1/°C (eq. 16): ventilated at about 5 m/s, natural at 1 m/s, indoor.
inline constexpr double psychrometer_ventilated_per_c = 0.000662;
inline constexpr double psychrometer_natural_per_c = 0.000800;
inline constexpr double psychrometer_indoor_per_c = 0.001200;
[[nodiscard]] double vapour_pressure_from_psychrometer_kpa(
    double dry_bulb_c, double wet_bulb_c, double pressure_kpa,
    double psychrometer_per_c);  // eq. 15, 16
[[nodiscard]] inline double vapour_pressure_from_rh_max_min_kpa(double tmax_c, double tmin_c,
                                                                double rh_max_pct,
                                                                double rh_min_pct) {  // eq. 17
  return (saturation_vapour_pressure_kpa(tmin_c) * rh_max_pct / 100.0 +
          saturation_vapour_pressure_kpa(tmax_c) * rh_min_pct / 100.0) /
         2.0;
}
[[nodiscard]] inline double vapour_pressure_from_rh_max_kpa(double tmin_c, double rh_max_pct) {
  return saturation_vapour_pressure_kpa(tmin_c) * rh_max_pct / 100.0;  // eq. 18
}
[[nodiscard]] inline double vapour_pressure_from_rh_mean_kpa(double tmax_c, double tmin_c,
                                                             double rh_mean_pct) {
  return rh_mean_pct / 100.0 * mean_saturation_vapour_pressure_kpa(tmax_c, tmin_c);  // eq. 19
}
/// Of an hour, from its mean temperature and humidity (eq. 54).
[[nodiscard]] double hourly_vapour_pressure_kpa(double temperature_c, double rh_pct);

/// Lowest relative humidity of a day, %, from its dew point (eq. 63).
[[nodiscard]] double rh_min_from_dew_point_pct(double dew_point_c, double tmax_c);
/// The same with the dew point taken as the lowest temperature (eq. 64).
[[nodiscard]] double rh_min_from_extremes_pct(double tmin_c, double tmax_c);

}  // namespace wiltline
