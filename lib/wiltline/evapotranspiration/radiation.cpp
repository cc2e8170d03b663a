#include "wiltline/evapotranspiration/radiation.hpp"

namespace wiltline {

double clear_sky_radiation_from_angstrom_mj_m2(double extraterrestrial_mj_m2, double a, double b) {
  return (a + b) * extraterrestrial_mj_m2;
}

double solar_radiation_from_neighbour_mj_m2(double neighbour_mj_m2,
                                            double neighbour_extraterrestrial_mj_m2,
                                            double extraterrestrial_mj_m2) {
  return neighbour_mj_m2 / neighbour_extraterrestrial_mj_m2 * extraterrestrial_mj_m2;
}

double solar_radiation_on_island_mj_m2(double extraterrestrial_mj_m2) {
  return 0.7 * extraterrestrial_mj_m2 - 4.0;
}

double hourly_net_long_wave_mj_m2(double temperature_c, double vapour_pressure_kpa,
                                  double relative_short_wave) {
  return black_body_mj_m2(temperature_c) / 24.0 * long_wave_humidity_factor(vapour_pressure_kpa) *
         long_wave_cloud_factor(relative_short_wave);
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
