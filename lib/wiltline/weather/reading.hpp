// From a weather file to a checked WeatherRecord.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/weather/hours.hpp"
#include "wiltline/weather/site.hpp"
#include "wiltline/weather/understanding.hpp"
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
  /// What is known of the file's layout; what is not is found out.
  FileHints hints{};
};

/// A record, and the hours it was made of if it was.
struct PlaceWeather {
  WeatherRecord record;
  std::optional<HourlyReadings> hours;
};

/// All that a file holds: a record for each of its places, and how it was understood.
struct WeatherFile {
  std::vector<PlaceWeather> places;
  Understanding understood;
};

/// Reads a weather file of any layout, checks and, where asked, fills. Throws InputError with all
/// problems of the file, up to 20: what cannot be understood, or in two ways; among others
/// radiation and sunshine above what the sun can give. Our own files are read as they stand.
[[nodiscard]] WeatherFile read_weather_file(FileBytes file, const WeatherReading& how = {});
/// The same of a file of one place: InputError if it holds several.
[[nodiscard]] WeatherRecord read_weather(FileBytes file, const WeatherReading& how = {});

/// The names of all weather columns, for help and messages.
[[nodiscard]] const std::vector<std::string>& weather_columns();

}  // namespace wiltline
