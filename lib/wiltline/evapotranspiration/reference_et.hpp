// Reference evapotranspiration (ET0): FAO-56 chapters 2 and 4. A grass 0.12 m tall, 70 s/m surface
// resistance, albedo 0.23. The daily and the hourly form are kept as their two terms, radiation and
// aerodynamic, because pots answer to sun and to wind separately; the terms add up to ET0.
#pragma once

#include "wiltline/evapotranspiration/radiation.hpp"

namespace wiltline {

inline constexpr double grass_height_m = 0.12;
inline constexpr double von_karman = 0.41;
/// FAO-56's wind where none was measured, m/s at 2 m.
inline constexpr double missing_wind_m_s = 2.0;

/// Wind at 2 m from wind at another height over grass, m/s (eq. 47).
[[nodiscard]] double wind_at_2m_m_s(double wind_m_s, double height_m);
/// The factor of eq. 47 alone.
[[nodiscard]] double wind_height_factor(double height_m);

/// Aerodynamic resistance, s/m, of a crop of height `crop_height_m` (eq. 4; d = 2/3 h,
/// zom = 0.123 h, zoh = 0.1 zom).
[[nodiscard]] double aerodynamic_resistance_s_m(double crop_height_m, double wind_measured_m,
                                                double humidity_measured_m, double wind_m_s);
/// Bulk surface resistance of clipped grass, s/m: stomatal resistance over active leaf area, half
/// of LAI = 24 h (eq. 5).
[[nodiscard]] double grass_surface_resistance_s_m(double stomatal_resistance_s_m, double height_m);

/// The combination equation, MJ m-2 d-1 of latent heat (eq. 3). `air_density_kg_m3` and
/// `specific_heat_mj_kg_c` as in the paper; resistances in s/m.
[[nodiscard]] double penman_monteith_mj_m2(double slope_kpa_c, double net_radiation_mj_m2,
                                           double soil_heat_mj_m2, double air_density_kg_m3,
                                           double specific_heat_mj_kg_c,
                                           double vapour_pressure_deficit_kpa,
                                           double aerodynamic_resistance_s_m,
                                           double surface_resistance_s_m, double gamma_kpa_c);

/// The weights delta / (delta + gamma (1 + 0.34 u2)) and gamma / (the same).
struct TermWeights {
  double radiation = 0.0;
  double air = 0.0;
};
[[nodiscard]] inline TermWeights term_weights(double slope_kpa_c, double gamma_kpa_c,
                                              double wind_2m_m_s) {
  const double denominator = slope_kpa_c + gamma_kpa_c * (1.0 + 0.34 * wind_2m_m_s);
  return {.radiation = slope_kpa_c / denominator, .air = gamma_kpa_c / denominator};
}

/// ET0 as its two terms, mm a day or mm an hour.
struct ReferenceTerms {
  double radiation_mm = 0.0;
  double air_mm = 0.0;
  [[nodiscard]] double total_mm() const { return radiation_mm + air_mm; }
};

/// What eq. 6 and eq. 53 take.
struct PenmanMonteithInput {
  double temperature_c = 0.0;
  double net_radiation_mj_m2 = 0.0;
  double soil_heat_mj_m2 = 0.0;
  double wind_2m_m_s = 0.0;
  double vapour_pressure_deficit_kpa = 0.0;
  double slope_kpa_c = 0.0;
  double gamma_kpa_c = 0.0;
};
/// Eq. 6 and eq. 53, which differ in one number: 900 for a day, 37 for an hour.
[[nodiscard]] inline ReferenceTerms reference_terms(const PenmanMonteithInput& input,
                                                    double period_constant) {
  const TermWeights weights = term_weights(input.slope_kpa_c, input.gamma_kpa_c, input.wind_2m_m_s);
  return {
      .radiation_mm = equivalent_evaporation_mm(input.net_radiation_mj_m2 - input.soil_heat_mj_m2) *
                      weights.radiation,
      .air_mm = weights.air * period_constant / (input.temperature_c + 273.0) * input.wind_2m_m_s *
                input.vapour_pressure_deficit_kpa};
}
/// ET0 of a day (or a mean day of a month), mm/d (eq. 6).
[[nodiscard]] inline ReferenceTerms daily_reference_terms(const PenmanMonteithInput& input) {
  return reference_terms(input, 900.0);
}
/// ET0 of an hour, mm/h (eq. 53); radiation in MJ m-2 h-1.
[[nodiscard]] inline ReferenceTerms hourly_reference_terms(const PenmanMonteithInput& input) {
  return reference_terms(input, 37.0);
}

/// ET0 from temperature alone, mm/d (eq. 52, Hargreaves). `extraterrestrial_mj_m2` per day.
[[nodiscard]] double hargreaves_et0_mm(double tmax_c, double tmin_c, double extraterrestrial_mj_m2);

/// ET0 from an evaporation pan, mm/d (eq. 55).
[[nodiscard]] double pan_et0_mm(double pan_coefficient, double pan_evaporation_mm);

}  // namespace wiltline
