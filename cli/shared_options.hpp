// Options several commands take, and what they lead to.
#pragma once

#include <memory>
#include <optional>
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
/// The same with --weather-dir for --weather.
[[nodiscard]] po::options_description weather_folder_options();
/// --garden, --models.
[[nodiscard]] po::options_description garden_options();
[[nodiscard]] po::options_description models_options();
/// --format, --units, --output.
[[nodiscard]] po::options_description output_options();

/// An option that is a whole number in these limits; empty if it is not given.
[[nodiscard]] std::optional<int> whole_number(const Arguments& arguments, const std::string& option,
                                              int least, int most);

/// --threads, for commands that run many seasons.
void add_threads_option(po::options_description& options);
/// As asked, or 0: one for each core. The answer does not depend on it.
[[nodiscard]] std::size_t thread_count(const Arguments& arguments);

/// The records named by --weather, each read, checked and cut to --from and --to.
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

 private:
  WeatherReading how_;
  std::optional<Date> from_;
  std::optional<Date> to_;
};
/// The record and, if --forecast is given, its days after the record's last. Throws InputError if
/// it does not join on or brings no new day.
[[nodiscard]] WeatherRecord with_forecast(const Arguments& arguments, const WeatherRecord& record);
[[nodiscard]] MissingDataOptions missing_data_options(const Arguments& arguments);

/// The built-in catalogue or the folder of --models; `notes` says which tables came from where.
[[nodiscard]] Catalogue load_catalogue(const Arguments& arguments, std::vector<std::string>& notes);

/// A garden with the name of its file.
struct Garden {
  std::string file;
  std::vector<Planting> plantings;
};
[[nodiscard]] Garden load_garden(const Arguments& arguments, const Catalogue& catalogue);

/// How and where to answer.
struct Presentation {
  Format format = Format::table;
  bool us_units = false;
  std::shared_ptr<Output> page;  // where --page says, opened; null without it
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

/// --growth: days or degree-days.
[[nodiscard]] GrowthClock growth_clock(const Arguments& arguments);

}  // namespace wiltline::cli
