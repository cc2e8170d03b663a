// What the columns of a weather file hold, whoever wrote it: quantities, the units they come in,
// and the table of names that says which column is which.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/files.hpp"

namespace wiltline {

/// What a column says of a day or an hour, or of where and when that was.
enum class WeatherQuantity {
  none,  // left out
  place,
  date,  // with or without a time of day
  clock,
  year,
  month,
  day,
  day_of_year,
  utc_offset,
  latitude,
  longitude,
  elevation,
  element,  // one reading a line: which quantity
  value,    // and the reading
  quality,  // not blank: the reading failed its service's own checks
  temperature,
  tmin,
  tmax,
  dew_point,
  vapour_pressure,
  rh_max,
  rh_min,
  rh,
  wind,
  solar,
  sunshine,
  rain,
};
inline constexpr std::size_t quantity_count = static_cast<std::size_t>(WeatherQuantity::rain) + 1;

/// As the table of names calls it.
[[nodiscard]] std::string_view name_of(WeatherQuantity quantity);
/// True for what is measured: temperature to rain.
[[nodiscard]] inline bool is_reading(WeatherQuantity quantity) {
  return quantity >= WeatherQuantity::temperature;
}

/// A unit, and how to come to the library's own: (value + offset) * factor.
struct WeatherUnit {
  std::string name;  // as it is shown
  std::string kind;  // what is measured in it
  double factor = 1.0;
  double per = 1.0;  // as the table has it: factor is divided by it when it is read
  double offset = 0.0;
  /// The ending of a column of our own files that takes the number as it stands; empty: none does.
  std::string ending;
  std::vector<std::string> written;  // all the ways to write it, folded
};

/// A unit as a file gives it: a number may stand before it, as in `0.1 c`.
struct ScaledUnit {
  const WeatherUnit* unit = nullptr;
  double scale = 1.0;

  /// In the library's unit. A scale below one divides, so that tenths keep their digits.
  [[nodiscard]] double convert(double value) const;
  [[nodiscard]] std::string text() const;
};

/// The kind of unit that a quantity is measured in; empty: it has none.
[[nodiscard]] std::string_view kind_of(WeatherQuantity quantity);
/// A unit of a kind by any of the ways it is written: `°C`, `deg c`, `[km/h]`. Empty if it is none.
[[nodiscard]] std::optional<ScaledUnit> find_unit(std::string_view text, std::string_view kind);
/// True for a text that is a unit of any kind.
[[nodiscard]] bool is_unit(std::string_view text);

/// One row of the table of names.
struct ColumnMeaning {
  std::string layout;              // empty: in use anywhere
  std::vector<std::string> names;  // folded
  WeatherQuantity quantity = WeatherQuantity::none;
  std::optional<ScaledUnit> unit;
  std::vector<std::string> date_words;  // of a date: utc, ends, ymd, dmy, mdy
  std::vector<std::string> missing;     // what stands for no reading
  std::vector<std::string> zero;        // marks that mean nothing measurable
  bool key = false;                     // its layout is recognised by it
};

/// Reads such a table. Throws InputError.
[[nodiscard]] std::vector<ColumnMeaning> read_layouts(FileBytes file);
/// The built-in one, models/weather/layouts.csv.
[[nodiscard]] const std::vector<ColumnMeaning>& builtin_column_meanings();
/// The names of its layouts, in order.
[[nodiscard]] std::vector<std::string> layout_names(std::span<const ColumnMeaning> meanings);

/// The rows of one layout.
[[nodiscard]] std::vector<ColumnMeaning> of_layout(std::span<const ColumnMeaning> meanings,
                                                   std::string_view layout);

/// A column of a file that is understood.
struct TakenColumn {
  std::size_t column = 0;
  std::string name;  // as the file has it
  WeatherQuantity quantity = WeatherQuantity::none;
  std::optional<ScaledUnit> unit;  // empty: it says none
  const ColumnMeaning* meaning = nullptr;
};

/// The column of a name under a layout: its meaning, and the unit that the layout, else the name,
/// gives. `unit_row`: the unit of a second header row, or nothing.
[[nodiscard]] std::optional<TakenColumn> understand(std::string_view name,
                                                    std::string_view unit_row,
                                                    std::span<const ColumnMeaning> meanings);

/// The files that lib/embed.cmake puts here.
[[nodiscard]] std::map<std::string, FileBytes> builtin_layouts();

}  // namespace wiltline
