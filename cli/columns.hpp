// The one table of output columns: name, unit, digits, meaning. CSV, JSON, tables, help and tests
// are driven by it.
#pragma once

#include <span>
#include <string_view>

namespace wiltline::cli {

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
  percent,
};

struct Column {
  std::string_view name;
  Quantity quantity;
  int digits;  // after the point, in CSV and tables
  std::string_view meaning;
};

/// Short unit as people read it, metric or US ("" for none).
[[nodiscard]] std::string_view unit_text(Quantity quantity, bool us);
/// A metric value as a person with these units reads it.
[[nodiscard]] double in_units(Quantity quantity, double value, bool us);

[[nodiscard]] std::span<const Column> et0_columns();
[[nodiscard]] std::span<const Column> et0_step_columns();  // appended by --steps
[[nodiscard]] std::span<const Column> season_columns();
[[nodiscard]] std::span<const Column> ledger_columns();
[[nodiscard]] std::span<const Column> capacity_columns();
[[nodiscard]] std::span<const Column> season_care_columns();  // appended after year and weather
// Appended last of all.
[[nodiscard]] std::span<const Column> season_settling_columns();
[[nodiscard]] std::span<const Column> compare_settling_columns();
[[nodiscard]] std::span<const Column> ledger_care_columns();
[[nodiscard]] std::span<const Column> season_remedy_columns();  // appended by --remedies
[[nodiscard]] std::span<const Column> absence_columns();
[[nodiscard]] std::span<const Column> absence_more_columns();  // appended
// Appended by --uncertain.
[[nodiscard]] std::span<const Column> season_spread_columns();
[[nodiscard]] std::span<const Column> choice_spread_columns();
[[nodiscard]] std::span<const Column> absence_spread_columns();
[[nodiscard]] std::span<const Column> heatwave_spread_columns();
[[nodiscard]] std::span<const Column> forecast_columns();
[[nodiscard]] std::span<const Column> forecast_uncertain_columns();  // appended by --uncertain
[[nodiscard]] std::span<const Column> compare_columns();
[[nodiscard]] std::span<const Column> compare_more_columns();
[[nodiscard]] std::span<const Column> heatwave_columns();
[[nodiscard]] std::span<const Column> heatwave_more_columns();
[[nodiscard]] std::span<const Column> sweep_key_columns();  // before season_columns() from mix_l on
[[nodiscard]] std::span<const Column> sweep_record_columns();  // appended to a sweep
[[nodiscard]] const Column& year_column();                     // appended where `planted` repeats
[[nodiscard]] const Column& weather_column();  // appended where several records are given

}  // namespace wiltline::cli
