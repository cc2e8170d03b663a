#include "wiltline/evapotranspiration/psychrometrics.hpp"

#include <cmath>

namespace wiltline {

double atmospheric_pressure_kpa(double elevation_m) {
  return 101.3 * std::pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26);  // eq. 7
}

double psychrometric_constant_kpa_c(double pressure_kpa) {
  return 0.665e-3 * pressure_kpa;  // eq. 8: cp / (0.622 * latent heat), rounded as printed
}

double mean_temperature_c(double tmax_c, double tmin_c) {
  return (tmax_c + tmin_c) / 2.0;
}

double saturation_slope_kpa_c(double temperature_c) {
  const double from_pole = temperature_c + saturation_pole_c;
  return 4098.0 * saturation_vapour_pressure_kpa(temperature_c) /
         (from_pole * from_pole);  // eq. 13
}

double relative_humidity_pct(double vapour_pressure_kpa, double temperature_c) {
  return 100.0 * vapour_pressure_kpa / saturation_vapour_pressure_kpa(temperature_c);
}

double vapour_pressure_from_dew_point_kpa(double dew_point_c) {
  return saturation_vapour_pressure_kpa(dew_point_c);
}

double vapour_pressure_from_psychrometer_kpa(double dry_bulb_c, double wet_bulb_c,
                                             double pressure_kpa, double psychrometer_per_c) {
  const double psychrometer_kpa_c = psychrometer_per_c * pressure_kpa;  // eq. 16
  return saturation_vapour_pressure_kpa(wet_bulb_c) -
         psychrometer_kpa_c * (dry_bulb_c - wet_bulb_c);  // eq. 15
}

double vapour_pressure_from_rh_max_kpa(double tmin_c, double rh_max_pct) {
  return saturation_vapour_pressure_kpa(tmin_c) * rh_max_pct / 100.0;
}

double vapour_pressure_from_rh_mean_kpa(double tmax_c, double tmin_c, double rh_mean_pct) {
  return rh_mean_pct / 100.0 * mean_saturation_vapour_pressure_kpa(tmax_c, tmin_c);
}

double hourly_vapour_pressure_kpa(double temperature_c, double rh_pct) {
  return saturation_vapour_pressure_kpa(temperature_c) * rh_pct / 100.0;
}

double rh_min_from_dew_point_pct(double dew_point_c, double tmax_c) {
  return relative_humidity_pct(saturation_vapour_pressure_kpa(dew_point_c), tmax_c);
}

double rh_min_from_extremes_pct(double tmin_c, double tmax_c) {
  return rh_min_from_dew_point_pct(tmin_c, tmax_c);
}

}  // namespace wiltline
