// How the library gives what FAO Irrigation and Drainage Paper 56 prints in chapters 6 to 10: of
// the day tables its rates at an instant, its watering and its limits, in a pot of 1 m2, whose
// litres are the handbook's mm. The daily stepping alone, which holds the rates of a day's start
// all day, is written out here. Quantities that the library does not have are the handbook's own
// arithmetic.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "budget/fao56_days.hpp"
#include "handbook/chapters.hpp"
#include "wiltline/budget/day.hpp"
#include "wiltline/crop/canopy.hpp"
#include "wiltline/crop/water_use.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline::test::printed {
namespace {

/// The rate at an instant of what `lost` says is gone after a time: of two short times, so that
/// what the rate falls by meanwhile cancels to the second order.
template <typename Lost>
double rate(const Lost& lost) {
  constexpr double short_time = 1e-5;
  return (4.0 * lost(short_time / 2.0) - lost(short_time)) / short_time;
}

/// A pot that holds so much, with nothing standing below or above the mix.
PotParameters plain_pot(double total_available_mm) {
  PotParameters pot;
  pot.total_available_l = total_available_mm;
  pot.refilled_l = 3.0 * total_available_mm;
  pot.readily_evaporable_l = 1.0;
  pot.total_evaporable_l = 2.0;
  return pot;
}

// Day tables.

/// A day of the surface layer, in the handbook's daily order.
struct SurfaceDay {
  double few = 0.0;
  double de_start = 0.0;  // after the day's water
  double kr = 0.0;
  double ke = 0.0;
  double evaporated = 0.0;  // over the whole ground: E
  double from_exposed = 0.0;
  double drained = 0.0;  // DPe
  double de_end = 0.0;
  double kc = 0.0;
  double etc = 0.0;
};

SurfaceDay surface_day(const Inputs& in, double de_before) {
  constexpr double out_of_reach = 1e6;  // a root zone that never interferes
  PotParameters pot = plain_pot(out_of_reach);
  pot.readily_evaporable_l = in["REW_mm"];
  pot.total_evaporable_l = in["TEW_mm"];
  const WateringResult wetted = water(
      pot, {.rooted_depletion_l = de_before, .top_depletion_l = de_before}, surface_water(in));
  SurfaceDay day;
  day.few = exposed_and_wetted(in);
  day.drained = wetted.drained_l;  // eq. 79
  day.de_start = wetted.state.top_depletion_l;
  const double wet_loss = wet_surface_loss(in);
  const IntervalLimits limits = interval_limits(pot, 0.5, 1.0);
  day.from_exposed = rate([&](double dx) {
    return flow({.top_l = wet_loss}, limits, {}, wetted.state, dx).top_evaporated_l;
  });
  day.kr = day.from_exposed / wet_loss;  // eq. 74
  day.evaporated = day.from_exposed * day.few;
  day.ke = day.evaporated / in["ET0_mm"];                                // eq. 71
  day.de_end = std::min(day.de_start + day.from_exposed, in["TEW_mm"]);  // eq. 77, 78
  day.kc = in["Kcb"] + day.ke;                                           // eq. 69
  day.etc = day.kc * in["ET0_mm"];
  return day;
}

SurfaceDay surface_day(const Inputs& in) {
  double de = in["De_day0_mm"];
  for (int day = 1; day < day_of(in); ++day) {
    de = surface_day(day_inputs(in.example(), day), de).de_end;
  }
  return surface_day(in, de);
}

/// TAW (eq. 82) of a mix that holds field capacity at any height, in a pot of 1 m2 as deep as the
/// roots: what the library says such a pot holds.
double total_available(const Inputs& in, double roots_m) {
  // At alpha = 1e-9 nothing has drained at any height.
  const VanGenuchten field_capacity{in["FC"], 0.0, 1e-9, 2.0};
  const Mix mix{.name = {},
                .composition = {},
                .curve = ReleaseCurve({{1.0, field_capacity}}),
                .lower_limit_m3_m3 = in["WP"]};
  const Pot pot{.name = {},
                .kind = {},
                .shape = PotShape::rectangular(100.0, 100.0, 100.0, 100.0, 100.0 * roots_m),
                .wall = {}};
  return held_water(pot, mix, 1.0).available_l();
}

/// RAW (eq. 83). The examples take p as tabled, which is p of a day that uses 5 mm.
double readily_available(double table_fraction, double taw) {
  constexpr double etc_of_the_table_mm = 5.0;
  const double p = adjusted_depletion_fraction(table_fraction, etc_of_the_table_mm);
  return interval_limits(plain_pot(taw), p, 1.0).raw_l;
}

/// What a root zone loses at an instant of the full rate (eq. 81, 84).
double transpired(double full_rate, double dr, double raw, double taw) {
  const IntervalLimits limits = interval_limits(plain_pot(taw), raw / taw, 1.0);
  const PotState state{.rooted_depletion_l = dr};
  return rate([&](double dx) {
    return flow({.transpiration_l = full_rate}, limits, {}, state, dx).transpired_l;
  });
}

/// A day of the root zone. The surplus of a wet day leaves before the day's use, as it does from a
/// pot and on the first day that Example 38 prints; eq. 88 is written the other way round.
struct RootZoneDay {
  double zr_m = 0.0;
  double taw = 0.0;
  double raw = 0.0;
  double dr_start = 0.0;  // after the day's water
  double ks = 0.0;
  double etc = 0.0;
  double drained = 0.0;  // DP
  double dr_end = 0.0;
};

RootZoneDay root_zone_day(const Inputs& in, double dr_before) {
  RootZoneDay day;
  if (in.has("TAW_mm")) {
    day.taw = in["TAW_mm"];
    day.raw = in["RAW_mm"];
  } else {
    day.zr_m = root_depth_m(in);
    day.taw = total_available(in, day.zr_m);
    day.raw = readily_available(in["p"], day.taw);
  }
  const WateringResult watered =
      water(plain_pot(day.taw), {.rooted_depletion_l = dr_before}, root_zone_water(in));
  day.dr_start = watered.state.rooted_depletion_l;
  day.drained = watered.drained_l;
  const double full_rate = in["Kc"] * in["ET0_mm"];
  day.etc = transpired(full_rate, day.dr_start, day.raw, day.taw);
  day.ks = day.etc / full_rate;
  const auto stated = in.if_stated("Ks");
  if (stated && std::abs(day.ks - *stated) > 1e-9) throw std::runtime_error("Ks is another");
  day.dr_end = std::min(day.dr_start + day.etc, day.taw);  // eq. 85, 86
  return day;
}

/// The depletion before the first day's water: stated, or RAW of that day.
double first_depletion(const Inputs& in) {
  if (in.has("Dr_day0_mm")) return in["Dr_day0_mm"];
  if (in.text("Dr_day0") != "RAW") throw std::runtime_error("unknown start");
  return root_zone_day(day_inputs(in.example(), 1), 0.0).raw;
}

RootZoneDay root_zone_day(const Inputs& in) {
  double dr = first_depletion(in);
  for (int day = 1; day < day_of(in); ++day) {
    dr = root_zone_day(day_inputs(in.example(), day), dr).dr_end;
  }
  return root_zone_day(in, dr);
}

// Rows that stand alone, or that a day table and a row alone may both give.

double adjustment(const Inputs& in) {
  return climate_adjustment(in["u2_m_s"], in["RHmin_pct"], in["h_m"]);
}

/// Eq. 62 and 70, mid-season.
double adjusted(const Inputs& in) {
  return in["table"] + adjustment(in);
}

/// Eq. 101: eq. 100 in the climate of the tables, where it adjusts nothing.
double by_height(const Inputs& in) {
  return full_cover_coefficient_from_height(2.0, 45.0, in["h_m"]);
}

/// Eq. 99, from a table value, or eq. 100.
double full_cover(const Inputs& in) {
  if (in.has("table")) {
    return full_cover_coefficient(in["table"], in["u2_m_s"], in["RHmin_pct"], in["h_m"]);
  }
  if (std::abs(by_height(in) - in["Kcb_h"]) > 1e-12)
    throw std::runtime_error("Kcb_h is not of eq. 101");
  return full_cover_coefficient_from_height(in["u2_m_s"], in["RHmin_pct"], in["h_m"]);
}

double declination(const Inputs& in) {
  return solar_declination_rad(static_cast<int>(in["J"]));
}

double noon_elevation(const Inputs& in) {
  return noon_elevation_rad(radians(in["lat_deg"]), declination(in));
}

/// Eq. 102 as a ratio of eq. 6's radiation weights: resistance counts as so much more wind.
double resistance_factor(const Inputs& in) {
  const auto weight = [&in](double wind) {
    return term_weights(in["Delta"], in["gamma"], wind).radiation;
  };
  constexpr double grass_s_m = 100.0;
  return weight(in["u2_m_s"] * in["rl_s_m"] / grass_s_m) / weight(in["u2_m_s"]);
}

double available(const Inputs& in) {
  return total_available(in, in.if_stated("Zr_m").value_or(1.0));
}

double readily(const Inputs& in) {
  if (in.has("day")) return root_zone_day(in).raw;
  return readily_available(in["p"], in.has("TAW_mm") ? in["TAW_mm"] : available(in));
}

double stress(const Inputs& in) {
  if (in.has("day")) return root_zone_day(in).ks;
  return transpired(1.0, in["Dr_mm"], in["RAW_mm"], in["TAW_mm"]);
}

double crop_use(const Inputs& in) {
  return in.has("De_day0_mm") ? surface_day(in).etc : root_zone_day(in).etc;
}

/// Share of the ground under round crowns that stand so far apart.
double round_cover(const Inputs& in) {
  Crop crop;
  crop.canopy_diameter_m.value = in["diameter_m"];
  return canopy(crop, {}, 1.0, 1.0).plan_area_m2 / (in["spacing_a_m"] * in["spacing_b_m"]);
}

/// Box 18: the shadow of a sphere over its plan area.
double round_effective_cover(const Inputs& in) {
  const Canopy crown{.plan_area_m2 = in["fc"], .width_m = 1.0, .height_m = 1.0};
  return sunlit_area_m2(crown, std::asin(in["sin_eta"]), 0.0, {});
}

/// What leaves take up of the radiation on their ground (eq. 97, whose extinction is 0.7).
double covered_by_leaves(double leaf_area_index) {
  return radiation_area_m2({.leaf_area_m2 = leaf_area_index}, 1.0, {.leaf_extinction = 0.7});
}

}  // namespace

const Table& chapters_6_to_9() {
  static const Table once(WILTLINE_TEST_DATA "/reference/fao56-chapters-6-9.csv");
  return once;
}

const Evaluations& evaluations_6_to_9() {
  static const Evaluations all{
      // Coefficients in another climate
      {"climate adjustment", adjustment},
      {"Kc_mid", adjusted},
      {"Kcb_mid", adjusted},
      {"Kc alfalfa/grass", adjusted},  // eq. 68: eq. 62 at 0.5 m
      {"Kc_max",                       // eq. 72
       [](const Inputs& in) { return std::max(1.2 + adjustment(in), in["Kcb"] + 0.05); }},

      // Surface layer
      {"De at start", [](const Inputs& in) { return surface_day(in).de_start; }},
      {"Kr", [](const Inputs& in) { return surface_day(in).kr; }},
      {"Ke", [](const Inputs& in) { return surface_day(in).ke; }},
      {"E", [](const Inputs& in) { return surface_day(in).evaporated; }},
      {"E/few", [](const Inputs& in) { return surface_day(in).from_exposed; }},
      {"DPe", [](const Inputs& in) { return surface_day(in).drained; }},
      {"De at end", [](const Inputs& in) { return surface_day(in).de_end; }},
      {"Kc", [](const Inputs& in) { return surface_day(in).kc; }},
      {"ETc", crop_use},

      // Root zone
      {"TAW per metre", available},
      {"RAW per metre", readily},
      {"TAW", available},
      {"RAW", readily},
      {"Dr at start", [](const Inputs& in) { return root_zone_day(in).dr_start; }},
      {"Ks", stress},
      {"ETc adjusted", [](const Inputs& in) { return root_zone_day(in).etc; }},
      {"DP", [](const Inputs& in) { return root_zone_day(in).drained; }},
      {"Dr at end", [](const Inputs& in) { return root_zone_day(in).dr_end; }},

      // Sparse stands
      {"phi", [](const Inputs& in) { return radians(in["lat_deg"]); }},
      {"delta", declination},
      {"eta at noon", noon_elevation},
      {"sin(eta) at noon", [](const Inputs& in) { return std::sin(noon_elevation(in)); }},
      {"tan(eta) at noon", [](const Inputs& in) { return std::tan(noon_elevation(in)); }},
      {"fc of round crowns", round_cover},
      {"fc_eff of round crowns", round_effective_cover},
      {"Kcb_h", by_height},
      {"Kcb_full", full_cover},
      {"Delta", [](const Inputs& in) { return saturation_slope_kpa_c(in["T_C"]); }},
      {"gamma",
       [](const Inputs& in) {
         return psychrometric_constant_kpa_c(atmospheric_pressure_kpa(in["z_m"]));
       }},
      {"Fr", resistance_factor},
      {"Kc of both layers",
       [](const Inputs& in) {
         return in["Kc_single"] * covered_by_leaves(in["LAI_combined"]) /
                covered_by_leaves(in["LAI_single"]);
       }},
  };
  return all;
}

namespace {

/// Eq. 65 and 70, end of season: adjusted only from 0.45 up.
double adjusted_end(const Inputs& in) {
  const double mid_season = adjusted(in);
  return in["table"] >= 0.45 ? mid_season : in["table"];
}

}  // namespace

const Evaluations& arithmetic_6_to_9() {
  static const Evaluations all{
      {"Kc_end below 0.45", adjusted_end},
      {"Kcb_end below 0.45", adjusted_end},
      {"TEW",  // eq. 73
       [](const Inputs& in) { return 1000.0 * (in["FC"] - 0.5 * in["WP"]) * in["Ze_m"]; }},
      {"fc",  // eq. 76
       [](const Inputs& in) {
         const double share =
             std::max(in["Kcb"] - in["Kc_min"], 0.01) / (in["Kc_max"] - in["Kc_min"]);
         return std::clamp(std::pow(share, 1.0 + 0.5 * in["h_m"]), 0.0, 0.99);
       }},
      {"few",  // eq. 75
       [](const Inputs& in) {
         return in.has("day") ? surface_day(in).few : exposed_and_wetted(in);
       }},
      {"few*Kc_max", [](const Inputs& in) { return in["few"] * in["Kc_max"]; }},
      {"Ke of wet soil",  // eq. 71
       [](const Inputs& in) {
         return std::min(in["Kr"] * (in["Kc_max"] - in["Kcb"]), in["few"] * in["Kc_max"]);
       }},
      {"Kc from Ke", [](const Inputs& in) { return in["Kcb"] + in["Ke"]; }},      // eq. 69
      {"ETc from Kc", [](const Inputs& in) { return in["Kc"] * in["ET0_mm"]; }},  // eq. 58
      {"Zr", [](const Inputs& in) { return root_zone_day(in).zr_m; }},
      {"fc_eff of rows",  // box 18, height to width stated
       [](const Inputs& in) {
         const double tangent = in.has("tan_eta") ? in["tan_eta"] : std::tan(in["eta_rad"]);
         return std::min(1.0, in["fc"] * (1.0 + in["HWR"] / tangent));
       }},
      {"Kcb_mid of sparse cover",  // eq. 98
       [](const Inputs& in) {
         const double cover =
             std::min({1.0, 2.0 * in["fc"], std::pow(in["fc_eff"], 1.0 / (1.0 + in["h_m"]))});
         return in["Kc_min"] + (in["Kcb_full"] - in["Kc_min"]) * cover;
       }},
      {"Kcb_mid adjusted", [](const Inputs& in) { return in["Fr"] * in["Kcb_mid"]; }},
  };
  return all;
}

}  // namespace wiltline::test::printed
