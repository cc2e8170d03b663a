// The columns of our own files, and the text of one that somebody else's file becomes.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "wiltline/weather/layout.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// A column of our own files but the date's.
struct OwnColumn {
  Quantity quantity;
  std::string_view stem;
  std::string_view ending;  // in the library's unit
  std::optional<double> WeatherDay::*element =
      nullptr;  // of temperatures, which every day has: none

  /// In the library's unit.
  [[nodiscard]] std::string name() const { return std::string(stem) + std::string(ending); }
};

/// In the order in which they are written.
inline constexpr std::array<OwnColumn, 11> own_columns{{
    {Quantity::tmin, "tmin", "_c"},
    {Quantity::tmax, "tmax", "_c"},
    {Quantity::dew_point, "dewpoint", "_c", &WeatherDay::dew_point_c},
    {Quantity::vapour_pressure, "vapour_pressure", "_kpa", &WeatherDay::vapour_pressure_kpa},
    {Quantity::rh_max, "rh_max", "_pct", &WeatherDay::rh_max_pct},
    {Quantity::rh_min, "rh_min", "_pct", &WeatherDay::rh_min_pct},
    {Quantity::rh, "rh_mean", "_pct", &WeatherDay::rh_mean_pct},
    {Quantity::wind, "wind", "_m_s", &WeatherDay::wind_m_s},
    {Quantity::solar, "solar", "_mj_m2", &WeatherDay::solar_mj_m2},
    {Quantity::sunshine, "sunshine", "_h", &WeatherDay::sunshine_h},
    {Quantity::rain, "rain", "_mm", &WeatherDay::rain_mm},
}};

}  // namespace wiltline
