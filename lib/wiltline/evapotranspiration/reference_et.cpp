#include "wiltline/evapotranspiration/reference_et.hpp"

#include <cmath>

#include "wiltline/evapotranspiration/psychrometrics.hpp"

namespace wiltline {
double wind_height_factor(double height_m) {
  return 4.87 / std::log(67.8 * height_m - 5.42);
}

double wind_at_2m_m_s(double wind_m_s, double height_m) {
  return wind_m_s * wind_height_factor(height_m);
}

double aerodynamic_resistance_s_m(double crop_height_m, double wind_measured_m,
                                  double humidity_measured_m, double wind_m_s) {
  const double displacement_m = 2.0 / 3.0 * crop_height_m;
  const double momentum_roughness_m = 0.123 * crop_height_m;
  const double heat_roughness_m = 0.1 * momentum_roughness_m;
  return std::log((wind_measured_m - displacement_m) / momentum_roughness_m) *
         std::log((humidity_measured_m - displacement_m) / heat_roughness_m) /
         (von_karman * von_karman * wind_m_s);
}

double grass_surface_resistance_s_m(double stomatal_resistance_s_m, double height_m) {
  const double leaf_area_index = 24.0 * height_m;
  return stomatal_resistance_s_m / (0.5 * leaf_area_index);
}

double penman_monteith_mj_m2(double slope_kpa_c, double net_radiation_mj_m2, double soil_heat_mj_m2,
                             double air_density_kg_m3, double specific_heat_mj_kg_c,
                             double vapour_pressure_deficit_kpa, double aerodynamic_resistance_s_m,
                             double surface_resistance_s_m, double gamma_kpa_c) {
  constexpr double seconds_per_day = 86400.0;
  const double drying_power = seconds_per_day * air_density_kg_m3 * specific_heat_mj_kg_c *
                              vapour_pressure_deficit_kpa / aerodynamic_resistance_s_m;
  return (slope_kpa_c * (net_radiation_mj_m2 - soil_heat_mj_m2) + drying_power) /
         (slope_kpa_c + gamma_kpa_c * (1.0 + surface_resistance_s_m / aerodynamic_resistance_s_m));
}

double hargreaves_et0_mm(double tmax_c, double tmin_c, double extraterrestrial_mj_m2) {
  return 0.0023 * (mean_temperature_c(tmax_c, tmin_c) + 17.8) * std::sqrt(tmax_c - tmin_c) *
         equivalent_evaporation_mm(extraterrestrial_mj_m2);
}

double pan_et0_mm(double pan_coefficient, double pan_evaporation_mm) {
  return pan_coefficient * pan_evaporation_mm;
}

}  // namespace wiltline
