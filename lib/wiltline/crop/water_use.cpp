#include "wiltline/crop/water_use.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {

double climate_adjustment(double wind_2m_m_s, double rh_min_pct, double height_m) {
  const double wind = std::clamp(wind_2m_m_s, 1.0, 6.0);
  const double humidity = std::clamp(rh_min_pct, 20.0, 80.0);
  const double height = std::clamp(height_m, 0.1, 10.0);
  return (0.04 * (wind - 2.0) - 0.004 * (humidity - 45.0)) * std::pow(height / 3.0, 0.3);
}

double full_cover_coefficient(double kcb_mid_table, double wind_2m_m_s, double rh_min_pct,
                              double height_m) {
  return kcb_mid_table + climate_adjustment(wind_2m_m_s, rh_min_pct, height_m);  // eq. 99
}

double full_cover_coefficient_from_height(double wind_2m_m_s, double rh_min_pct, double height_m) {
  const double by_height = std::min(1.0 + 0.1 * height_m, 1.20);             // eq. 101
  return by_height + climate_adjustment(wind_2m_m_s, rh_min_pct, height_m);  // eq. 100
}

double isolated_ceiling(double height_m, double width_m, double resistance_factor) {
  return std::min(1.2 + resistance_factor * height_m / width_m, 2.5);
}

double adjusted_depletion_fraction(double table_fraction, double etc_mm) {
  return std::clamp(table_fraction + 0.04 * (5.0 - etc_mm), 0.1, 0.8);
}

double saturated_air_mm(double et_air_mm, double vapour_pressure_deficit_kpa, double limit_kpa) {
  return vapour_pressure_deficit_kpa > limit_kpa
             ? et_air_mm * std::sqrt(limit_kpa / vapour_pressure_deficit_kpa)
             : et_air_mm;
}

namespace {

/// An area of a crown among neighbours: what exceeds its plan is lost as they close in.
double among_neighbours_m2(double area_m2, double plan_area_m2, double closing) {
  return area_m2 - closing * std::max(area_m2 - plan_area_m2, 0.0);
}

}  // namespace

double sunlit_area_m2(const Canopy& canopy, double noon_elevation_rad, double diffuse_share,
                      const CrownParameters& parameters) {
  const double elevation = std::max(noon_elevation_rad, parameters.lowest_beam_elevation_rad);
  const double lean = canopy.height_m / (canopy.width_m * std::tan(elevation));
  const double beam_m2 = canopy.plan_area_m2 * std::sqrt(1.0 + lean * lean);
  const double diffuse_m2 = parameters.diffuse_area_factor * canopy.plan_area_m2;
  return among_neighbours_m2((1.0 - diffuse_share) * beam_m2 + diffuse_share * diffuse_m2,
                             canopy.plan_area_m2, parameters.closing);
}

double radiation_area_m2(const Canopy& canopy, double sunlit_m2,
                         const CrownParameters& parameters) {
  return sunlit_m2 *
         (1.0 - std::exp(-parameters.leaf_extinction * canopy.leaf_area_m2 / sunlit_m2));
}

double air_area_m2(const Canopy& canopy, const CrownParameters& parameters) {
  return among_neighbours_m2(std::min(canopy.leaf_area_m2 / parameters.leaf_area_per_reference,
                                      parameters.air_area_limit * canopy.plan_area_m2),
                             canopy.plan_area_m2, parameters.closing);
}

double potential_transpiration_l(const Canopy& canopy, double full_cover,
                                 const CrownWeather& weather, const CrownParameters& parameters) {
  if (canopy.plan_area_m2 <= 0.0) return 0.0;
  const double sunlit =
      sunlit_area_m2(canopy, weather.noon_elevation_rad, weather.diffuse_share, parameters);
  // mm x m2 = litres
  const double litres =
      full_cover * (radiation_area_m2(canopy, sunlit, parameters) * weather.et_radiation_mm +
                    weather.advection * air_area_m2(canopy, parameters) * weather.et_air_mm);
  const double ceiling =
      std::min(parameters.ceiling, isolated_ceiling(canopy.height_m, canopy.width_m)) *
      canopy.plan_area_m2 * weather.open_et0_mm;
  return std::clamp(litres, 0.0, std::max(ceiling, 0.0));
}

}  // namespace wiltline
