// From a weather file to a checked WeatherRecord.
#pragma once

#include <functional>

#include "wiltline/base/csv.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// The most the sun can give on a day at a latitude: what a reading is checked against.
struct SolarLimit {
  double radiation_mj_m2 = 0.0;
  double daylight_h = 0.0;
};

/// How to read a weather file.
struct WeatherReading {
  /// Site values that override the file's own comment lines.
  SiteValues site;
  /// Longest run of missing days to fill from the days around it; 0 = none, a gap is an error.
  int longest_gap_filled_days = 0;
  /// The account needs rain: a blank rain cell is then an error (ET0 alone does not).
  bool rain_needed = false;
  /// Extraterrestrial radiation and daylight; given as a function because sun geometry lives in a
  /// later room. Empty: these two checks are left out.
  std::function<SolarLimit(double latitude_deg, Date date)> solar_limit;
};

/// Reads, checks and, where asked, fills. Throws InputError with all problems of the file, up
/// to 20.
[[nodiscard]] WeatherRecord read_weather(FileBytes file, const WeatherReading& how);

/// The names of all weather columns, for help and messages.
[[nodiscard]] const std::vector<std::string>& weather_columns();

}  // namespace wiltline
