// Options several commands take, and what they lead to.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "command.hpp"
#include "output.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/questions/without_effect.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::cli {

/// An option that takes a text, shown in the help as `shown`.
[[nodiscard]] po::typed_value<std::string>* text_value(const char* shown);
/// The same for an option that may be given several times.
[[nodiscard]] po::typed_value<std::vector<std::string>>* texts_value(const char* shown);

/// --weather, --site and site values, --from, --to, --fill-gaps, missing-data choices.
[[nodiscard]] po::options_description weather_options();
/// The same without --weather, for a command whose words are the files.
[[nodiscard]] po::options_description weather_file_options();
/// The same with --weather-dir for --weather.
[[nodiscard]] po::options_description weather_folder_options();
/// --weather-dir, beside --weather.
void add_weather_folder_option(po::options_description& options);
/// The option that sets a site value, without its dashes.
[[nodiscard]] std::string_view site_option(std::string_view key);
/// --garden, --models.
[[nodiscard]] po::options_description garden_options();
[[nodiscard]] po::options_description models_options();
/// --format, --units, --output, --no-settings.
[[nodiscard]] po::options_description output_options();

/// An option that is a whole number in these limits; empty if it is not given.
[[nodiscard]] std::optional<int> whole_number(const Arguments& arguments, const std::string& option,
                                              int least, int most);

/// --threads, for commands that run many seasons.
void add_threads_option(po::options_description& options);
/// As asked, or 0: one for each core. The answer does not depend on it.
[[nodiscard]] std::size_t thread_count(const Arguments& arguments);

/// The *.csv of the folder of --weather-dir, by name.
[[nodiscard]] std::vector<std::string> weather_files(const Arguments& arguments);
/// Weather, and how its files were understood.
struct LoadedWeather {
  std::vector<PlaceWeather> places;
  std::vector<Understanding> understood;
};
/// All places of the files named by --weather, those of one place joined, checked and cut to --from
/// and --to. With --strict, InputError for what makes no sense as a whole.
[[nodiscard]] LoadedWeather load_weather_files(const Arguments& arguments, bool rain_needed);
/// What makes no sense as a whole, a caution each.
[[nodiscard]] std::vector<std::string> doubts_of(const std::vector<PlaceWeather>& places);
/// How other layouts than ours were understood, and what makes no sense, to standard error.
void say_understood(const LoadedWeather& loaded);
/// The records alone; how other layouts than ours were understood, and what makes no sense, is said
/// on standard error.
[[nodiscard]] std::vector<WeatherRecord> load_weather(const Arguments& arguments, bool rain_needed);
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

/// Notes what was taken from a settings file; load_catalogue does it, too.
void add_settings_note(const Arguments& arguments, std::vector<std::string>& notes);

/// The built-in catalogue or the folder of --models; `notes` says which tables came from where.
[[nodiscard]] Catalogue load_catalogue(const Arguments& arguments, std::vector<std::string>& notes);

/// A garden with the name of its file.
struct Garden {
  std::string file;
  std::vector<Planting> plantings;
};
[[nodiscard]] Garden load_garden(const Arguments& arguments, const Catalogue& catalogue);

/// --away and --helper.
void add_time_away_options(po::options_description& options);
/// What they say, added to the routine of each planting.
void take_time_away(const Arguments& arguments, Garden& garden);

/// How and where to answer.
struct Presentation {
  Format format = Format::table;
  bool us_units = false;
};
[[nodiscard]] Presentation presentation(const Arguments& arguments);

/// The options as given, for JSON.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> inputs_of(
    const Arguments& arguments);

/// True if both lead to one file, there already or not; `-` is none.
[[nodiscard]] bool same_file(const std::string& one, const std::string& other);
/// Throws RequestError if the file that an option names for writing is one of those read, under
/// whatever path; the file of the option `may_replace` (null: none) excepted.
void refuse_overwriting(const Arguments& arguments, const char* option, const std::string& path,
                        const char* may_replace = nullptr);
/// Where --output says, opened, or standard output.
[[nodiscard]] Output open_output(const Arguments& arguments);

/// Writes a report in its format; `table` makes the text for people when that is asked for. Notes
/// go to standard error with CSV.
void deliver(const Report& report, const Presentation& how, Output& output,
             const std::function<std::string()>& table);

/// What must be known of a record with every answer: what was estimated, rain, clock.
[[nodiscard]] std::vector<std::string> weather_notes(const WeatherRecord& record,
                                                     const SourceCounts& sources);

/// A planting's name for a table, with the number of its pots if there are several.
[[nodiscard]] std::string shown_name(const Planting& planting);
/// 2024-05-10, or 05-10 for every year.
[[nodiscard]] std::string planted_text(const PlantingDay& planted);
/// Throws InputError if no record holds a planting day of one of the plantings.
void check_planting_days(const Garden& garden, const std::vector<Place>& places);

/// A note for each day of pruning and stretch of days away without effect in this weather.
void add_without_effect(Plantings plantings, const std::vector<Place>& places, GrowthClock growth,
                        Report& report);

/// The notes of several places: sources, rain not observed, clock times.
void add_weather_notes(const std::vector<Place>& places, Report& report);

/// A note that names the pots without a drain hole, if there are any.
void add_holes_note(std::span<const Planting> plantings, Report& report);

/// --growth: days or degree-days.
[[nodiscard]] GrowthClock growth_clock(const Arguments& arguments);

}  // namespace wiltline::cli
