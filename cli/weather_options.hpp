// The options that name weather, and the records they lead to.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::cli {

/// The option that sets a site value, without its dashes.
[[nodiscard]] std::string_view site_option(std::string_view key);
/// The site as options and --site say it.
[[nodiscard]] SiteValues site_values(const Arguments& arguments);
/// The *.csv of the folder of --weather-dir, by name.
[[nodiscard]] std::vector<std::string> weather_files(const Arguments& arguments);
/// Weather, and how its files were understood.
struct LoadedWeather {
  std::vector<PlaceWeather> places;
  std::vector<Understanding> understood;
};
/// All places of the files named by --weather and --weather-dir, those of one place joined, checked
/// and cut to --from and --to. With --strict, InputError for what makes no sense as a whole.
[[nodiscard]] LoadedWeather load_weather_files(const Arguments& arguments, bool rain_needed);
/// What makes no sense as a whole, a caution each.
[[nodiscard]] std::vector<std::string> doubts_of(const std::vector<PlaceWeather>& places);
/// How other layouts than ours were understood, and what makes no sense, to standard error.
void say_understood(const LoadedWeather& loaded);
/// The records alone; how other layouts than ours were understood, and what makes no sense, is said
/// on standard error.
[[nodiscard]] std::vector<WeatherRecord> load_weather(const Arguments& arguments, bool rain_needed);
/// The record of a command that is asked about one place. RequestError for several.
[[nodiscard]] WeatherRecord load_weather_of_one_place(const Arguments& arguments);
/// The place of each record, under one model.
[[nodiscard]] std::vector<Place> places_of(const std::vector<WeatherRecord>& records,
                                           const ModelParameters& model,
                                           const MissingDataOptions& missing);
/// One record, read, checked and cut as the weather options say; they are parsed once.
class RecordReader {
 public:
  RecordReader(const Arguments& arguments, bool rain_needed);
  [[nodiscard]] WeatherRecord read(FileBytes file) const;
  /// All places of a file, not yet cut.
  [[nodiscard]] WeatherFile read_all(FileBytes file) const;
  [[nodiscard]] WeatherRecord cut(WeatherRecord record) const;

 private:
  WeatherReading how_;
  std::optional<Date> from_;
  std::optional<Date> to_;
};
/// The record and, if --forecast is given, its days after the record's last. Throws InputError if
/// it does not join on or brings no new day.
[[nodiscard]] WeatherRecord with_forecast(const Arguments& arguments, const WeatherRecord& record);
[[nodiscard]] MissingDataOptions missing_data_options(const Arguments& arguments);

}  // namespace wiltline::cli
