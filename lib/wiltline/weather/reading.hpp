// From a weather file to a checked WeatherRecord.
#pragma once

#include "wiltline/base/csv.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// Beyond a month the days on either side say nothing of those between.
inline constexpr int longest_gap_fillable_days = 31;

/// How to read a weather file.
struct WeatherReading {
  /// Site values that override the file's own comment lines.
  SiteValues site;
  /// Site values where neither `site` nor the file has one.
  SiteValues otherwise;
  /// Longest run of days, missing or blank, to fill from the days around it; 0 = none, a gap is an
  /// error. At most longest_gap_fillable_days: RequestError.
  int longest_gap_filled_days = 0;
  /// The account needs rain: a blank rain cell is then an error (ET0 alone does not).
  bool rain_needed = false;
};

/// Reads, checks and, where asked, fills. Throws InputError with all problems of the file, up
/// to 20: among others radiation and sunshine above what the sun can give.
[[nodiscard]] WeatherRecord read_weather(FileBytes file, const WeatherReading& how = {});

/// The names of all weather columns, for help and messages.
[[nodiscard]] const std::vector<std::string>& weather_columns();

}  // namespace wiltline
