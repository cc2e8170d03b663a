// What a number of an answer measures, and its units.
#pragma once

#include <string_view>

namespace wiltline::tables {

/// What a column holds; decides how it is written and how US units show it.
enum class Quantity {
  text,
  count,
  number,  // dimensionless
  litres,
  water_depth_mm,
  length_cm,
  area_m2,
  temperature_c,
  pressure_kpa,
  radiation_mj_m2,
  wind_m_s,
  hours,
  days,
  volume_share,  // m3/m3
  mass_kg,
};

/// Short unit as people read it, metric or US ("" for none).
[[nodiscard]] std::string_view unit_text(Quantity quantity, bool us);
/// A metric value as a person with these units reads it.
[[nodiscard]] double in_units(Quantity quantity, double value, bool us);

}  // namespace wiltline::tables
