#include "wiltline/evapotranspiration/radiation.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {

double equivalent_evaporation_mm(double radiation_mj_m2) {
  return 0.408 * radiation_mj_m2;
}

double solar_radiation_from_sunshine_mj_m2(double sunshine_h, double daylight_h,
                                           double extraterrestrial_mj_m2, double a, double b) {
  const double relative_sunshine = daylight_h > 0.0 ? sunshine_h / daylight_h : 0.0;
  return (a + b * relative_sunshine) * extraterrestrial_mj_m2;
}

double clear_sky_radiation_from_angstrom_mj_m2(double extraterrestrial_mj_m2, double a, double b) {
  return (a + b) * extraterrestrial_mj_m2;
}

double solar_radiation_from_neighbour_mj_m2(double neighbour_mj_m2,
                                            double neighbour_extraterrestrial_mj_m2,
                                            double extraterrestrial_mj_m2) {
  return neighbour_mj_m2 / neighbour_extraterrestrial_mj_m2 * extraterrestrial_mj_m2;
}

double solar_radiation_from_range_mj_m2(double tmax_c, double tmin_c, double extraterrestrial_mj_m2,
                                        double range_coefficient) {
  return range_coefficient * std::sqrt(tmax_c - tmin_c) * extraterrestrial_mj_m2;
}

double solar_radiation_on_island_mj_m2(double extraterrestrial_mj_m2) {
  return 0.7 * extraterrestrial_mj_m2 - 4.0;
}

double net_short_wave_mj_m2(double solar_mj_m2, double albedo) {
  return (1.0 - albedo) * solar_mj_m2;
}

double black_body_mj_m2(double temperature_c) {
  const double kelvin = temperature_c + long_wave_kelvin_offset;
  const double squared = kelvin * kelvin;
  return stefan_boltzmann_mj_k4_m2_day * squared * squared;
}

double long_wave_humidity_factor(double vapour_pressure_kpa) {
  return 0.34 - 0.14 * std::sqrt(vapour_pressure_kpa);
}

double long_wave_cloud_factor(double relative_short_wave) {
  return 1.35 * std::min(relative_short_wave, 1.0) - 0.35;
}

double net_long_wave_mj_m2(double tmax_c, double tmin_c, double vapour_pressure_kpa,
                           double relative_short_wave) {
  return (black_body_mj_m2(tmax_c) + black_body_mj_m2(tmin_c)) / 2.0 *
         long_wave_humidity_factor(vapour_pressure_kpa) *
         long_wave_cloud_factor(relative_short_wave);
}

double hourly_net_long_wave_mj_m2(double temperature_c, double vapour_pressure_kpa,
                                  double relative_short_wave) {
  return black_body_mj_m2(temperature_c) / 24.0 * long_wave_humidity_factor(vapour_pressure_kpa) *
         long_wave_cloud_factor(relative_short_wave);
}

double net_radiation_mj_m2(double net_short_wave_mj_m2, double net_long_wave_mj_m2) {
  return net_short_wave_mj_m2 - net_long_wave_mj_m2;
}

double soil_heat_flux_mj_m2(double heat_capacity_mj_m3_c, double temperature_c,
                            double earlier_temperature_c, double days, double depth_m) {
  return heat_capacity_mj_m3_c * (temperature_c - earlier_temperature_c) / days * depth_m;
}

double monthly_soil_heat_flux_mj_m2(double previous_month_c, double next_month_c) {
  return 0.07 * (next_month_c - previous_month_c);
}

double monthly_soil_heat_flux_so_far_mj_m2(double previous_month_c, double month_c) {
  return 0.14 * (month_c - previous_month_c);
}

double hourly_soil_heat_flux_mj_m2(double net_radiation_mj_m2, bool night) {
  return (night ? 0.5 : 0.1) * net_radiation_mj_m2;
}

}  // namespace wiltline
