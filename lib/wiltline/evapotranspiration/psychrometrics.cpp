#include "wiltline/evapotranspiration/psychrometrics.hpp"

#include <cmath>

namespace wiltline {

double atmospheric_pressure_kpa(double elevation_m) {
  return 101.3 * std::pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26);  // eq. 7
}

double psychrometric_constant_kpa_c(double pressure_kpa) {
  return 0.665e-3 * pressure_kpa;  // eq. 8: cp / (0.622 * latent heat), rounded as printed
}

double relative_humidity_pct(double vapour_pressure_kpa, double temperature_c) {
  return 100.0 * vapour_pressure_kpa / saturation_vapour_pressure_kpa(temperature_c);
}

double vapour_pressure_from_psychrometer_kpa(double dry_bulb_c, double wet_bulb_c,
                                             double pressure_kpa, double psychrometer_per_c) {
  const double psychrometer_kpa_c = psychrometer_per_c * pressure_kpa;  // eq. 16
  return saturation_vapour_pressure_kpa(wet_bulb_c) -
         psychrometer_kpa_c * (dry_bulb_c - wet_bulb_c);  // eq. 15
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
