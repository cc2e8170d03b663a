// The columns of our own files, and the text of one that somebody else's file becomes.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/date.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/weather/layout.hpp"
#include "wiltline/weather/reading_limits.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// Units that only columns of weather have, the library's own first as in unit_options.
namespace own_units {
inline constexpr UnitOption pressure[]{{"_kpa"}};
inline constexpr UnitOption humidity[]{{"_pct"}};
inline constexpr UnitOption radiation[]{{"_mj_m2"},
                                        {"_w_m2", units::mj_m2_per_w_m2_day}};  // MJ m-2 d-1
inline constexpr UnitOption time[]{{"_h"}};
}  // namespace own_units

/// A column of our own files but the date's: all that is said of it anywhere.
struct OwnColumn {
  WeatherQuantity quantity;
  std::string_view stem;
  std::optional<double> WeatherDay::*element;  // of temperatures, which every day has: none
  std::span<const UnitOption> units;
  double low;  // a cell beyond these is refused; in the library's unit
  double high;
  std::string_view allowed;  // the same in words

  /// The ending of its name in the library's unit, and that name.
  [[nodiscard]] std::string_view ending() const { return units.front().suffix; }
  [[nodiscard]] std::string name() const { return std::string(stem) + std::string(ending()); }
};

/// In the order in which they are written.
inline constexpr std::array<OwnColumn, 11> own_columns{{
    {WeatherQuantity::tmin, "tmin", nullptr, unit_options::temperature, reading_limits::coldest_c,
     reading_limits::hottest_c, "-60 to 60 °C"},
    {WeatherQuantity::tmax, "tmax", nullptr, unit_options::temperature, reading_limits::coldest_c,
     reading_limits::hottest_c, "-60 to 60 °C"},
    {WeatherQuantity::dew_point, "dewpoint", &WeatherDay::dew_point_c, unit_options::temperature,
     -90.0, reading_limits::hottest_c, "-90 to 60 °C"},
    {WeatherQuantity::vapour_pressure, "vapour_pressure", &WeatherDay::vapour_pressure_kpa,
     own_units::pressure, 0.0, 20.0, "0 to 20 kPa (10 hPa are 1 kPa)"},
    {WeatherQuantity::rh_max, "rh_max", &WeatherDay::rh_max_pct, own_units::humidity, 0.0, 100.0,
     "0 to 100 %"},
    {WeatherQuantity::rh_min, "rh_min", &WeatherDay::rh_min_pct, own_units::humidity, 0.0, 100.0,
     "0 to 100 %"},
    {WeatherQuantity::rh, "rh_mean", &WeatherDay::rh_mean_pct, own_units::humidity, 0.0, 100.0,
     "0 to 100 %"},
    {WeatherQuantity::wind, "wind", &WeatherDay::wind_m_s, unit_options::wind, 0.0,
     reading_limits::windiest_m_s, "0 to 80 m/s"},
    {WeatherQuantity::solar, "solar", &WeatherDay::solar_mj_m2, own_units::radiation, 0.0, 60.0,
     "0 to 60 MJ/m2 a day"},
    {WeatherQuantity::sunshine, "sunshine", &WeatherDay::sunshine_h, own_units::time, 0.0, 24.0,
     "0 to 24 hours"},
    {WeatherQuantity::rain, "rain", &WeatherDay::rain_mm, unit_options::depth_mm, 0.0,
     reading_limits::wettest_mm, "0 to 2000 mm"},
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
