// What the day tables of tests/reference/fao56-chapters-6-9.csv put in.
#pragma once

#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>

#include "handbook/chapters.hpp"

namespace wiltline::test::printed {

inline int day_of(const Inputs& in) {
  return static_cast<int>(in["day"]);
}

/// A day of an example's table: what the first row of that day puts in.
inline Inputs day_inputs(std::string_view example, int day) {
  const Table& table = chapters_6_to_9();
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.cell(row, "example") != example) continue;
    Inputs in(table.cell(row, "inputs"), example);
    if (in.has("day") && day_of(in) == day) return in;
  }
  throw std::runtime_error("no row of day " + std::to_string(day));
}

/// The share of the soil that is both exposed and wetted, few (eq. 75): stated, or of the cover, of
/// which drip emitters under the canopy leave less.
inline double exposed_and_wetted(const Inputs& in) {
  if (in.has("few")) return in["few"];
  const double exposed = in.has("one_minus_fc") ? in["one_minus_fc"] : 1.0 - in["fc"];
  const double drip = in.has("drip_share") ? 1.0 - in["drip_share"] * in["fc"] : 1.0;
  return std::clamp(std::min(exposed, drip * in["fw"]), 0.01, 1.0);
}

/// Water of a day, mm: on the wetted part of the surface, or into the root zone.
inline double surface_water(const Inputs& in) {
  return in.if_stated("P_mm").value_or(0.0) + in.if_stated("I_fw_mm").value_or(0.0);
}
inline double root_zone_water(const Inputs& in) {
  return in["P_mm"] + in["I_mm"];
}

/// What a wet, exposed and wetted surface loses in a day, mm: eq. 71 with Kr = 1, over few. Its
/// other limit, few Kc_max, holds on no day of the tables.
inline double wet_surface_loss(const Inputs& in) {
  const double ke = in["Kc_max"] - in["Kcb"];
  const double few = exposed_and_wetted(in);
  if (ke > few * in["Kc_max"]) throw std::runtime_error("limited by few");
  return ke * in["ET0_mm"] / few;
}

/// Roots grow by the day, in a straight line.
inline double root_depth_m(const Inputs& in) {
  constexpr double days_between = 9.0;
  const double grown = (in["day"] - 1.0) / days_between;
  return in["Zr_day1_m"] + grown * (in["Zr_day10_m"] - in["Zr_day1_m"]);
}

}  // namespace wiltline::test::printed
