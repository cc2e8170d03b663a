// How much water a crown draws in a day: FAO-56 chapters 6, 8 and 9 where they reach; for a plant
// that stands alone the radiation and the air term of reference ET, each on an area of its own.
#pragma once

#include "wiltline/crop/canopy.hpp"

namespace wiltline {

/// Climate adjustment of a crop coefficient (the added term of FAO-56 eq. 62): wind 1 to 6 m/s,
/// lowest humidity 20 to 80 %, height 0.1 to 10 m, each held in its stated range.
[[nodiscard]] double climate_adjustment(double wind_2m_m_s, double rh_min_pct, double height_m);

/// Basal coefficient of full cover from a crop's table value (eq. 99) or from its height where no
/// table value is known (eq. 100, 101: 1.0 + 0.1 h, at most 1.20).
[[nodiscard]] double full_cover_coefficient(double kcb_mid_table, double wind_2m_m_s,
                                            double rh_min_pct, double height_m);
[[nodiscard]] double full_cover_coefficient_from_height(double wind_2m_m_s, double rh_min_pct,
                                                        double height_m);

/// Ceiling for a single tall row or plant: min(1.2 + Fr height / width, 2.5) (eq. 105).
/// `resistance_factor` is Fr of eq. 102, 1 for annual crops.
[[nodiscard]] double isolated_ceiling(double height_m, double width_m,
                                      double resistance_factor = 1.0);

/// The share of available water that can go before the crop is short: p = table + 0.04 (5 - ETc),
/// held to 0.1-0.8 (FAO-56 chapter 8). ETc is field-like, mm/d.
[[nodiscard]] double adjusted_depletion_fraction(double table_fraction, double etc_mm);

/// Sun and air around a crown on one day.
struct CrownWeather {
  double et_radiation_mm = 0.0;  // the two terms of ET0 at the spot
  double et_air_mm = 0.0;        // held to what leaves pass: saturated_air_mm
  double open_et0_mm = 0.0;      // of the open site
  double noon_elevation_rad = 0.0;
  double diffuse_share = 0.0;  // of the radiation that reaches the spot
  double advection = 1.0;      // of the spot, on the air term only
};

/// The air term as leaves answer to it: stomata close in dry air, so that beyond `limit_kpa` (daily
/// mean) it goes with the root of the vapour pressure deficit (Medlyn and others 2011, recalled).
[[nodiscard]] double saturated_air_mm(double et_air_mm, double vapour_pressure_deficit_kpa,
                                      double limit_kpa);

/// The free numbers that a crown needs: rows of models/parameters.csv of the same names.
struct CrownParameters {
  double leaf_extinction = 0.0;
  double leaf_area_per_reference = 0.0;  // m2 of leaf that draw as 1 m2 of reference grass
  double air_area_limit = 0.0;           // times plan area
  double ceiling = 0.0;                  // times the plan area's ET0
  double diffuse_area_factor = 0.0;      // times plan area
  double lowest_beam_elevation_rad = 0.0;
  double closing = 0.0;  // 0: neighbours take neither light nor air, 1: crowns meet all round
};

/// Area of the crown's shadow-casting, sunlit surface, m2: plan area times
/// sqrt(1 + (height / (width tan elevation))^2) for the beam, `diffuse_area_factor` times plan for
/// diffuse light; no more than the plan where crowns meet all round.
[[nodiscard]] double sunlit_area_m2(const Canopy& canopy, double noon_elevation_rad,
                                    double diffuse_share, const CrownParameters& parameters);
/// Area that takes up radiation: the leaves spread over the sunlit area, once.
[[nodiscard]] double radiation_area_m2(const Canopy& canopy, double sunlit_area_m2,
                                       const CrownParameters& parameters);
/// Area that answers to dry air: one m2 per `leaf_area_per_reference` of leaf, at most
/// `air_area_limit` times plan; no more than the plan where crowns meet all round.
[[nodiscard]] double air_area_m2(const Canopy& canopy, const CrownParameters& parameters);

/// Potential transpiration of a crown, litres a day: `full_cover` x (A_rad ET_rad + advection A_air
/// ET_air), never below zero, never above the lower of the ceiling and eq. 105 x plan area x the
/// open site's ET0.
[[nodiscard]] double potential_transpiration_l(const Canopy& canopy, double full_cover,
                                               const CrownWeather& weather,
                                               const CrownParameters& parameters);

}  // namespace wiltline
