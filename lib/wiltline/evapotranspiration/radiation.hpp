// Radiation at the ground: FAO-56 chapter 3, equations 20 and 35 to 46, and what chapter 3 says of
// missing radiation (49 to 51). Radiation in MJ m-2 a day (or an hour, where a name says so).
#pragma once

#include <algorithm>
#include <cmath>

namespace wiltline {

inline constexpr double grass_albedo = 0.23;
/// Stefan-Boltzmann constant, MJ K-4 m-2 d-1, as FAO-56 prints it; the hourly one is a 24th of it.
inline constexpr double stefan_boltzmann_mj_k4_m2_day = 4.903e-9;
/// FAO-56 adds 273.16, not 273.15, in the long-wave term.
inline constexpr double long_wave_kelvin_offset = 273.16;

/// Depth of water the energy can evaporate, mm, by the printed 0.408 (eq. 20).
[[nodiscard]] inline double equivalent_evaporation_mm(double radiation_mj_m2) {
  return 0.408 * radiation_mj_m2;
}

/// Angstrom coefficients where none are calibrated.
inline constexpr double angstrom_a = 0.25;
inline constexpr double angstrom_b = 0.50;
/// Solar radiation from hours of sunshine (eq. 35). `daylight_h` 0 gives a * Ra.
[[nodiscard]] inline double solar_radiation_from_sunshine_mj_m2(double sunshine_h,
                                                                double daylight_h,
                                                                double extraterrestrial_mj_m2,
                                                                double a = angstrom_a,
                                                                double b = angstrom_b) {
  const double relative_sunshine = daylight_h > 0.0 ? sunshine_h / daylight_h : 0.0;
  return (a + b * relative_sunshine) * extraterrestrial_mj_m2;
}
/// Clear-sky radiation from the Angstrom coefficients (eq. 36); from elevation: sun/sun.hpp.
[[nodiscard]] double clear_sky_radiation_from_angstrom_mj_m2(double extraterrestrial_mj_m2,
                                                             double a = angstrom_a,
                                                             double b = angstrom_b);

/// Solar radiation where it was not measured: from a station near by (eq. 49), from the temperature
/// range (eq. 50; 0.16 inland, 0.19 on a coast; keep it at or below clear-sky), or monthly on an
/// island (eq. 51).
[[nodiscard]] double solar_radiation_from_neighbour_mj_m2(double neighbour_mj_m2,
                                                          double neighbour_extraterrestrial_mj_m2,
                                                          double extraterrestrial_mj_m2);
inline constexpr double range_coefficient_inland = 0.16;
inline constexpr double range_coefficient_coastal = 0.19;
[[nodiscard]] inline double solar_radiation_from_range_mj_m2(double tmax_c, double tmin_c,
                                                             double extraterrestrial_mj_m2,
                                                             double range_coefficient) {
  return range_coefficient * std::sqrt(tmax_c - tmin_c) * extraterrestrial_mj_m2;
}
[[nodiscard]] double solar_radiation_on_island_mj_m2(double extraterrestrial_mj_m2);

/// Net short-wave radiation (eq. 38).
[[nodiscard]] inline double net_short_wave_mj_m2(double solar_mj_m2, double albedo = grass_albedo) {
  return (1.0 - albedo) * solar_mj_m2;
}

/// Black-body radiation at an air temperature, MJ m-2 d-1 (the sigma T^4 of eq. 39).
[[nodiscard]] inline double black_body_mj_m2(double temperature_c) {
  const double kelvin = temperature_c + long_wave_kelvin_offset;
  const double squared = kelvin * kelvin;
  return stefan_boltzmann_mj_k4_m2_day * squared * squared;
}
/// The humidity factor 0.34 - 0.14 sqrt(ea) of eq. 39.
[[nodiscard]] inline double long_wave_humidity_factor(double vapour_pressure_kpa) {
  return 0.34 - 0.14 * std::sqrt(vapour_pressure_kpa);
}
/// The cloud factor 1.35 Rs/Rso - 0.35 of eq. 39, the ratio held at or below 1.
[[nodiscard]] inline double long_wave_cloud_factor(double relative_short_wave) {
  return 1.35 * std::min(relative_short_wave, 1.0) - 0.35;
}
/// Net outgoing long-wave radiation of a day (eq. 39).
[[nodiscard]] inline double net_long_wave_mj_m2(double tmax_c, double tmin_c,
                                                double vapour_pressure_kpa,
                                                double relative_short_wave) {
  return (black_body_mj_m2(tmax_c) + black_body_mj_m2(tmin_c)) / 2.0 *
         long_wave_humidity_factor(vapour_pressure_kpa) *
         long_wave_cloud_factor(relative_short_wave);
}
/// Of an hour, MJ m-2 h-1 (eq. 39 with a 24th of the constant).
[[nodiscard]] double hourly_net_long_wave_mj_m2(double temperature_c, double vapour_pressure_kpa,
                                                double relative_short_wave);
/// Net radiation (eq. 40).
[[nodiscard]] inline double net_radiation_mj_m2(double net_short_wave_mj_m2,
                                                double net_long_wave_mj_m2) {
  return net_short_wave_mj_m2 - net_long_wave_mj_m2;
}

/// Soil heat flux, MJ m-2 d-1, from a layer's heat capacity (MJ m-3 °C-1), depth and change in
/// temperature over `days` (eq. 41; the paper prints a plus between the temperatures, a difference
/// is meant).
[[nodiscard]] double soil_heat_flux_mj_m2(double heat_capacity_mj_m3_c, double temperature_c,
                                          double earlier_temperature_c, double days,
                                          double depth_m);
/// Of a day or of ten days: nothing (eq. 42).
inline constexpr double daily_soil_heat_flux_mj_m2 = 0.0;
/// Of a month, MJ m-2 d-1, from its neighbours' mean temperatures (eq. 43), or, while the next
/// month is unknown, from its own (eq. 44).
[[nodiscard]] double monthly_soil_heat_flux_mj_m2(double previous_month_c, double next_month_c);
[[nodiscard]] double monthly_soil_heat_flux_so_far_mj_m2(double previous_month_c, double month_c);
/// Of an hour, MJ m-2 h-1: by day (eq. 45) and by night (eq. 46).
[[nodiscard]] double hourly_soil_heat_flux_mj_m2(double net_radiation_mj_m2, bool night);

}  // namespace wiltline
