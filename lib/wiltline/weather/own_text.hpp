// The columns of our own files, and the text of one that somebody else's file becomes.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/base/errors.hpp"
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

/// The text of one of our own files, written a column and then a day at a time, and where in
/// another file each of its cells stood.
class OwnText {
 public:
  struct Origin {
    std::size_t line = 0;
    std::size_t column = 0;
  };

  /// `their_date`: what the other file calls its dates.
  OwnText(std::size_t header_line, std::string their_date);

  void add_column(std::string_view name, std::string their_name);
  void begin_day(Date date, Origin origin);
  /// The next cell of the day; empty: nothing is known.
  void add_cell(std::string_view cell, Origin origin);

  [[nodiscard]] const std::string& text() const { return text_; }
  /// The problem of a line and column of the text, where it stood in the other file.
  [[nodiscard]] Problem where_it_stood(Problem problem) const;

 private:
  std::size_t header_line_;
  std::string text_;
  std::vector<std::string> their_names_;  // of each column
  std::vector<Origin> origins_;           // of each cell below the header, row by row
};

/// True for a file that names its columns as ours do and writes its first date as ours do.
[[nodiscard]] bool is_own_format(std::string_view text);

}  // namespace wiltline
