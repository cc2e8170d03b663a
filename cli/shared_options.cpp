#include "shared_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <iterator>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/joining.hpp"
#include "wiltline/weather/own_text.hpp"
#include "wiltline/weather/reading.hpp"
#include "wiltline/weather/sense.hpp"

namespace wiltline::cli {
namespace {

namespace fs = std::filesystem;

/// Options that set a site value: option name and site key.
struct SiteOption {
  const char* option;
  std::string_view key;
};
constexpr std::array<SiteOption, 5> site_options{{{"latitude", "latitude_deg"},
                                                  {"elevation", "elevation_m"},
                                                  {"wind-height", "wind_height_m"},
                                                  {"longitude", "longitude_deg"},
                                                  {"utc-offset", "utc_offset_h"}}};

SiteValues site_values(const Arguments& arguments) {
  SiteValues values;
  for (const SiteOption& option : site_options) {
    const auto number = arguments.number(option.option, -1e9, 1e9);
    if (!number) continue;
    if (const std::string expected = set_site_value(values, option.key, *number);
        !expected.empty()) {
      throw RequestError(fmt::format("--{}: found {}; expected {}", option.option,
                                     *arguments.text(option.option), expected));
    }
  }
  if (auto fault = clock_fault(values.longitude_deg, values.utc_offset_h)) {
    throw RequestError(fmt::format("--longitude and --utc-offset: {}", fault->text()));
  }
  if (const auto file = arguments.text("site"))
    values = values.or_else(read_site(read_file(*file)));
  return values;
}

std::optional<Date> date_option(const Arguments& arguments, const char* name) {
  const auto text = arguments.text(name);
  if (!text) return std::nullopt;
  const auto date = parse_date(*text);
  if (!date) {
    throw RequestError(fmt::format("--{}: found {}; expected a date that exists, as 2024-05-31",
                                   name, in_quotes(*text)));
  }
  return date;
}

WeatherRecord cut(WeatherRecord record, std::optional<Date> from, std::optional<Date> to) {
  const auto inside = [&](Date date, const char* option) {
    if (record.contains(date)) return;
    throw RequestError(fmt::format("--{}: found {}; expected a day of {}, {} to {}", option,
                                   to_string(date), record.name(), to_string(record.first()),
                                   to_string(record.last())));
  };
  if (from) inside(*from, "from");
  if (to) inside(*to, "to");
  if (from && to && *from > *to) {
    throw RequestError(fmt::format("--from: found {}, after --to {}; expected it before",
                                   to_string(*from), to_string(*to)));
  }
  if (!from && !to) return record;
  return record.between(from.value_or(record.first()), to.value_or(record.last()));
}

/// What is told of the layout of weather files.
FileHints file_hints(const Arguments& arguments) {
  FileHints hints;
  hints.layout = arguments.text("layout").value_or("");
  if (const auto file = arguments.text("columns")) hints.columns = read_layouts(read_file(*file));
  if (const auto order = arguments.text("dates")) {
    const auto found = std::find(date_order_names.begin(), date_order_names.end(), *order);
    if (found == date_order_names.end()) {
      throw RequestError(fmt::format("--dates: found {}; expected one of {}", in_quotes(*order),
                                     fmt::join(date_order_names, ", ")));
    }
    hints.dates = static_cast<DateOrder>(found - date_order_names.begin());
  }
  return hints;
}

/// Standard input can be read once.
void refuse_second_standard_input(const Arguments& arguments) {
  std::vector<std::string> files = arguments.texts("weather");
  for (const char* option : {"site", "garden", "forecast", "log", "state", "columns"})
    files.push_back(arguments.text(option).value_or(""));
  if (std::count(files.begin(), files.end(), "-") > 1) {
    throw RequestError("found - a second time; expected standard input once");
  }
}

int longest_gap_filled_days(const Arguments& arguments) {
  return whole_number(arguments, "fill-gaps", 1, longest_gap_fillable_days).value_or(0);
}

/// What weather options have in common, wherever the records come from.
void add_record_options(po::options_description& options) {
  options.add_options()("site", text_value("FILE"), "site values, as latitude_deg = 44.2 lines")(
      "latitude", text_value("DEG"), "site latitude, south negative")(
      "elevation", text_value("M"), "site elevation")("wind-height", text_value("M"),
                                                      "height of the wind sensor")(
      "longitude", text_value("DEG"),
      "site longitude, west negative; with --utc-offset, for clock times")(
      "utc-offset", text_value("H"), "hours the clock is ahead of UTC")(
      "from", text_value("DATE"), "first day to use")("to", text_value("DATE"), "last day to use")(
      "fill-gaps", text_value("DAYS"), "fill gaps up to this long from the days around them")(
      "layout", text_value("NAME"), "layout of the file, if it is not found out")(
      "columns", text_value("FILE"), "CSV that says which column is what")(
      "dates", text_value("ORDER"), "order of dates: ymd, dmy or mdy")(
      "strict", "weather that looks like nonsense is an error, not a caution")(
      "coastal", "missing radiation: use the coastal coefficient 0.19, not 0.16")(
      "dew-offset", text_value("C"),
      "missing humidity: dew point this far below the day's lowest; 2 to 3 at dry sites");
}

/// Throws RequestError if the file is one of those read.
void refuse_inputs(const Arguments& arguments, const char* option, const std::string& path,
                   const char* may_replace) {
  std::error_code error;
  if (!fs::is_regular_file(path, error)) return;
  const auto refuse_if = [&](const std::string& input, const std::string& read_as) {
    // Standard input may be a file.
    const std::string file = input == "-" ? "/dev/stdin" : input;
    if (!fs::equivalent(path, file, error) || error) return;
    throw RequestError(fmt::format("--{}: found {}, the file read as {}; expected another file",
                                   option, in_quotes(path), read_as));
  };
  for (const std::string& file : arguments.texts("weather")) refuse_if(file, "--weather");
  for (const char* input : {"garden", "site", "forecast", "log", "state", "columns"}) {
    if (may_replace != nullptr && std::string_view(input) == may_replace) continue;
    if (const auto file = arguments.text(input)) refuse_if(*file, fmt::format("--{}", input));
  }
  if (!arguments.settings().file.empty()) refuse_if(arguments.settings().file, "settings");
  if (const auto folder = arguments.text("models")) {
    for (const std::string& table : model_table_names()) {
      refuse_if((fs::path(*folder) / table).string(), "a table of --models");
    }
  }
  if (const auto folder = arguments.text("weather-dir")) {
    for (fs::directory_iterator entry(*folder, error), end; !error && entry != end;
         entry.increment(error)) {
      const fs::path& file = entry->path();
      if (file.extension() == ".csv") refuse_if(file.string(), "a record of --weather-dir");
    }
  }
}

}  // namespace

std::string_view site_option(std::string_view key) {
  const auto found = std::find_if(site_options.begin(), site_options.end(),
                                  [&](const SiteOption& one) { return one.key == key; });
  return found == site_options.end() ? key : found->option;
}

po::options_description weather_options() {
  po::options_description options("Weather");
  options.add_options()("weather", texts_value("FILE"),
                        "weather, CSV of any layout; - reads standard input; may be given several "
                        "times: files of one place are joined");
  add_record_options(options);
  return options;
}

po::options_description weather_file_options() {
  po::options_description options("Weather");
  add_record_options(options);
  return options;
}

po::options_description weather_folder_options() {
  po::options_description options("Weather");
  add_weather_folder_option(options);
  add_record_options(options);
  return options;
}

void add_weather_folder_option(po::options_description& options) {
  options.add_options()("weather-dir", text_value("DIR"),
                        "folder of daily weather: every *.csv in it, in the order of their names");
}

po::options_description garden_options() {
  po::options_description options("Garden");
  options.add_options()("garden", text_value("FILE"), "plantings, CSV, one a row")(
      "models", text_value("DIR"), "folder of model tables to use instead of the built-in ones");
  return options;
}

po::options_description models_options() {
  po::options_description options("Models");
  options.add_options()("models", text_value("DIR"),
                        "folder of model tables to use instead of the built-in ones");
  return options;
}

po::typed_value<std::string>* text_value(const char* shown) {
  return po::value<std::string>()->value_name(shown);
}

po::typed_value<std::vector<std::string>>* texts_value(const char* shown) {
  return po::value<std::vector<std::string>>()->value_name(shown);
}

po::options_description output_options() {
  po::options_description options("Answer");
  options.add_options()("format", text_value("FORM"),
                        "table (default), csv or json; csv and json are always metric")(
      "units", text_value("UNITS"), "metric (default) or us, for tables")(
      "output", text_value("FILE"), "write the answer to a file instead of standard output")(
      "no-settings", "take nothing from a wiltline.ini beside the garden or in this folder");
  return options;
}

void add_threads_option(po::options_description& options) {
  options.add_options()("threads", text_value("N"), "threads to use (default: one for each core)");
}

std::size_t thread_count(const Arguments& arguments) {
  return static_cast<std::size_t>(whole_number(arguments, "threads", 1, 1024).value_or(0));
}

std::optional<int> whole_number(const Arguments& arguments, const std::string& option, int least,
                                int most) {
  const auto text = arguments.text(option.c_str());
  if (!text) return std::nullopt;
  const auto number = parse_integer(*text);
  if (!number || *number < least || *number > most) {
    throw RequestError(fmt::format("--{}: found {}; expected a whole number from {} to {}", option,
                                   parse_number(*text) ? *text : in_quotes(*text), least, most));
  }
  return number;
}

std::vector<std::string> weather_files(const Arguments& arguments) {
  const auto folder = arguments.text("weather-dir");
  if (!folder) throw RequestError("no weather; expected --weather-dir DIR");
  std::error_code error;
  if (!fs::is_directory(*folder, error)) {
    const bool exists = fs::exists(*folder, error);
    throw RequestError(fmt::format("--weather-dir: found {} {}; expected a folder of weather files",
                                   exists ? "the file" : "no folder", in_quotes(*folder)));
  }
  std::vector<std::string> files;
  for (fs::directory_iterator entry(*folder, error), end; !error && entry != end;
       entry.increment(error)) {
    const fs::path& path = entry->path();
    const bool hidden = path.filename().string().starts_with('.');
    if (path.extension() == ".csv" && !hidden && !fs::is_directory(path)) {
      files.push_back(path.string());
    }
  }
  if (error) {
    throw RequestError(fmt::format("{}: cannot be read: {}", *folder, error.message()));
  }
  if (files.empty()) {
    throw RequestError(fmt::format("--weather-dir: found no *.csv in {}; expected weather files",
                                   in_quotes(*folder)));
  }
  std::sort(files.begin(), files.end());
  return files;
}

LoadedWeather load_weather_files(const Arguments& arguments, bool rain_needed) {
  auto files = arguments.texts("weather");
  if (arguments.flag("weather-dir")) {
    for (std::string& file : weather_files(arguments)) files.push_back(std::move(file));
  }
  if (files.empty()) throw RequestError("no weather; expected --weather FILE");
  refuse_second_standard_input(arguments);
  const RecordReader reader(arguments, rain_needed);
  LoadedWeather loaded;
  for (const std::string& file : files) {
    WeatherFile read = reader.read_all(read_file(file));
    loaded.understood.push_back(std::move(read.understood));
    std::move(read.places.begin(), read.places.end(), std::back_inserter(loaded.places));
  }
  loaded.places = joined(std::move(loaded.places));
  for (std::size_t i = 0; i < loaded.places.size(); ++i) {
    PlaceWeather& place = loaded.places[i];
    for (std::size_t k = 0; k < i; ++k) refuse_repeated(loaded.places[k].record, place.record);
  }
  for (PlaceWeather& place : loaded.places) place.record = reader.cut(std::move(place.record));
  const std::vector<std::string> doubted = doubts_of(loaded.places);
  if (arguments.flag("strict") && !doubted.empty()) {
    ProblemList problems;
    for (const PlaceWeather& place : loaded.places) {
      for (std::string& doubt : doubts(place.record)) {
        problems.add(
            {place.record.name(), 0, 0, std::move(doubt), "weather that makes sense as a whole"});
      }
    }
    problems.throw_if_any();
  }
  return loaded;
}

std::vector<std::string> doubts_of(const std::vector<PlaceWeather>& places) {
  std::vector<std::string> all;
  for (const PlaceWeather& place : places) {
    for (const std::string& doubt : doubts(place.record)) {
      all.push_back(fmt::format("caution: {}: {}", place.record.name(), doubt));
    }
  }
  return all;
}

void say_understood(const LoadedWeather& loaded) {
  for (const Understanding& understood : loaded.understood) {
    if (!understood.own) say(understood.summary());
  }
  for (const std::string& doubt : doubts_of(loaded.places)) say(doubt);
}

std::vector<WeatherRecord> load_weather(const Arguments& arguments, bool rain_needed) {
  LoadedWeather loaded = load_weather_files(arguments, rain_needed);
  say_understood(loaded);
  std::vector<WeatherRecord> records;
  for (PlaceWeather& place : loaded.places) records.push_back(std::move(place.record));
  return records;
}

std::vector<Place> places_of(const std::vector<WeatherRecord>& records,
                             const ModelParameters& model, const MissingDataOptions& missing) {
  std::vector<Place> places;
  places.reserve(records.size());
  for (const WeatherRecord& record : records) places.emplace_back(record, model, missing);
  return places;
}

RecordReader::RecordReader(const Arguments& arguments, bool rain_needed)
    : from_(date_option(arguments, "from")), to_(date_option(arguments, "to")) {
  how_.site = site_values(arguments);
  how_.rain_needed = rain_needed;
  how_.longest_gap_filled_days = longest_gap_filled_days(arguments);
  how_.hints = file_hints(arguments);
}

WeatherRecord RecordReader::read(FileBytes file) const {
  return cut(read_weather(std::move(file), how_));
}

WeatherFile RecordReader::read_all(FileBytes file) const {
  return read_weather_file(std::move(file), how_);
}

WeatherRecord RecordReader::cut(WeatherRecord record) const {
  return cli::cut(std::move(record), from_, to_);
}

WeatherRecord with_forecast(const Arguments& arguments, const WeatherRecord& record) {
  const auto file = arguments.text("forecast");
  if (!file) return record;
  const Site& site = record.site();
  WeatherReading how;
  how.otherwise = {site.latitude_deg, site.elevation_m,
                   record.has_wind() ? std::optional(site.wind_height_m) : std::nullopt,
                   site.longitude_deg, site.utc_offset_h};
  how.rain_needed = true;
  FileBytes bytes = read_file(*file);
  if (!is_own_format(bytes.bytes)) how.hints = file_hints(arguments);
  WeatherFile days = read_weather_file(std::move(bytes), how);
  if (!days.understood.own) say(days.understood.summary());
  if (days.places.size() != 1) {
    throw InputError({{days.understood.file, 0, 0, fmt::format("{} places", days.places.size()),
                       "the days of one"}});
  }
  const WeatherRecord next = with_wind_height(days.places.front().record, site.wind_height_m);
  const Date after = record.last() + std::chrono::days(1);
  ProblemList problems;
  if (next.first() > after) {
    problems.add(
        {next.name(), 0, 0, fmt::format("first day {}", to_string(next.first())),
         fmt::format("at the latest {}, the day after {} ends", to_string(after), record.name())});
  } else if (next.last() < after) {
    problems.add({next.name(), 0, 0, fmt::format("last day {}", to_string(next.last())),
                  fmt::format("days up to {} at least, the day after {} ends", to_string(after),
                              record.name())});
  }
  problems.throw_if_any();
  return record.followed_by(next);
}

MissingDataOptions missing_data_options(const Arguments& arguments) {
  constexpr double driest_offset_c = 10.0;
  MissingDataOptions options;
  if (arguments.flag("coastal")) options.range_coefficient = 0.19;
  options.unknown_rain_is_none = longest_gap_filled_days(arguments) > 0;
  options.dew_point_offset_c = arguments.number("dew-offset", 0.0, driest_offset_c).value_or(0.0);
  return options;
}

void add_settings_note(const Arguments& arguments, std::vector<std::string>& notes) {
  if (!arguments.settings().note.empty()) notes.push_back(arguments.settings().note);
}

Catalogue load_catalogue(const Arguments& arguments, std::vector<std::string>& notes) {
  add_settings_note(arguments, notes);
  const auto folder = arguments.text("models");
  if (!folder) return read_catalogue(builtin_tables());
  const FolderTables found = tables_in_folder(*folder);
  if (!found.missing.empty()) {
    notes.push_back(fmt::format("model tables not in {}, so built-in: {}", *folder,
                                fmt::join(found.missing, ", ")));
  }
  return read_catalogue(found.tables);
}

Garden load_garden(const Arguments& arguments, const Catalogue& catalogue) {
  const auto file = arguments.text("garden");
  if (!file) throw RequestError("no garden; expected --garden FILE");
  FileBytes bytes = read_file(*file);
  std::string name = bytes.name;
  return {std::move(name), read_garden(std::move(bytes), catalogue)};
}

Presentation presentation(const Arguments& arguments) {
  Presentation how;
  const std::string format = arguments.text("format").value_or("table");
  if (format == "csv") {
    how.format = Format::csv;
  } else if (format == "json") {
    how.format = Format::json;
  } else if (format != "table") {
    throw RequestError(
        fmt::format("--format: found {}; expected table, csv or json", in_quotes(format)));
  }
  const std::string units = arguments.text("units").value_or("metric");
  if (units != "metric" && units != "us") {
    throw RequestError(fmt::format("--units: found {}; expected metric or us", in_quotes(units)));
  }
  how.us_units = units == "us";
  return how;
}

std::vector<std::pair<std::string, std::string>> inputs_of(const Arguments& arguments) {
  std::vector<std::pair<std::string, std::string>> inputs;
  if (arguments.topic()) inputs.emplace_back("topic", *arguments.topic());
  for (const auto& [name, value] : arguments.values()) {
    if (const auto* text = boost::any_cast<std::string>(&value.value())) {
      // An option without a value holds an empty text; one with a value is never empty but as "".
      inputs.emplace_back(name, text->empty() ? "yes" : *text);
    } else if (const auto* texts = boost::any_cast<std::vector<std::string>>(&value.value())) {
      for (const std::string& one : *texts) inputs.emplace_back(name, one);
    } else {
      inputs.emplace_back(name, "yes");
    }
  }
  return inputs;
}

bool same_file(const std::string& one, const std::string& other) {
  if (one == "-" || other == "-") return false;
  std::error_code error;
  if (fs::equivalent(one, other, error) && !error) return true;
  const auto target = [&](const std::string& path) {
    return fs::weakly_canonical(fs::absolute(end_of_links(path), error), error);
  };
  return target(one) == target(other);
}

void refuse_overwriting(const Arguments& arguments, const char* option, const std::string& path,
                        const char* may_replace) {
  if (path == "-") return;
  refuse_inputs(arguments, option, path, may_replace);
  // An answer among the weather would be read as weather the next time.
  const auto folder = arguments.text("weather-dir");
  if (!folder) return;
  std::error_code error;
  const fs::path parent = fs::path(end_of_links(path)).parent_path();
  if (!fs::equivalent(parent.empty() ? fs::path(".") : parent, *folder, error)) return;
  throw RequestError(
      fmt::format("--{}: found a file in the weather folder, {}; expected one elsewhere", option,
                  in_quotes(path)));
}

Output open_output(const Arguments& arguments) {
  const std::string path = arguments.text("output").value_or("-");
  refuse_overwriting(arguments, "output", path);
  return Output(path);
}

void deliver(const Report& report, const Presentation& how, Output& output,
             const std::function<std::string()>& table) {
  switch (how.format) {
    case Format::json:
      output.write(to_json(report));
      return;
    case Format::table:
      output.write(table());
      return;
    case Format::csv:
      break;
  }
  for (const std::string& note : report.notes) say(note);
  if (!report.caution.empty()) say(report.caution);
  output.write(to_csv(report));
}

std::vector<std::string> weather_notes(const WeatherRecord& record, const SourceCounts& sources) {
  std::vector<std::string> notes{
      fmt::format("{}: {}", record.name(), fmt::join(sources.lines(), "; "))};
  if (record.generated()) {
    notes.push_back(fmt::format(
        "{}: days drawn by chance from means of months, neither measured nor a forecast",
        record.name()));
  }
  return notes;
}

std::string shown_name(const Planting& planting) {
  const std::string name = printable(planting.name);
  return planting.count == 1 ? name : fmt::format("{} ×{}", name, planting.count);
}

std::string planted_text(const PlantingDay& planted) {
  if (const auto* date = std::get_if<Date>(&planted)) return to_string(*date);
  const MonthDay day = std::get<MonthDay>(planted);
  return fmt::format("{:02}-{:02}", day.month, day.day);
}

void check_planting_days(const Garden& garden, const std::vector<Place>& places) {
  ProblemList problems;
  for (const Planting& planting : garden.plantings) {
    const bool anywhere = std::any_of(places.begin(), places.end(), [&](const Place& place) {
      return !planting_dates(planting, place.record()).empty();
    });
    if (anywhere) continue;
    const WeatherRecord& record = places.front().record();
    problems.add(
        {garden.file, planting.line, 0,
         fmt::format("{} planted {}", in_quotes(planting.name), planted_text(planting.planted)),
         fmt::format("a day within the weather, {} to {}", to_string(record.first()),
                     to_string(record.last()))});
  }
  problems.throw_if_any();
}

void add_without_effect(Plantings plantings, const std::vector<Place>& places, GrowthClock growth,
                        Report& report) {
  // One line for what several plantings share.
  std::vector<std::pair<std::string, std::vector<std::string>>> shared;
  const auto add = [&](const std::string& what, const Planting& planting) {
    auto known = std::find_if(shared.begin(), shared.end(),
                              [&](const auto& one) { return one.first == what; });
    if (known == shared.end()) known = shared.insert(shared.end(), {what, {}});
    known->second.push_back(planting.name);
  };
  for (const WithoutEffect& one : without_effect(plantings, places, growth)) {
    for (const PlantingDay& day : one.pruned) add("pruned " + planted_text(day), *one.planting);
    for (const DaysAway& away : one.days_away) add("away " + to_string(away), *one.planting);
    for (const Helper& helper : one.helpers) add("helper " + to_string(helper.days), *one.planting);
  }
  for (const auto& [what, names] : shared) {
    report.notes.push_back(
        fmt::format("without effect, on no day of growth in this weather: {} of {}", what,
                    fmt::join(names, ", ")));
  }
}

void add_time_away_options(po::options_description& options) {
  options.add_options()(
      "away", texts_value("DAYS"),
      "nobody comes between these days, 07-08/07-15; visits on both days themselves take place")(
      "helper", texts_value("WHEN"),
      "somebody else comes between two days: 08-03/08-17 every 2 days 18:00 give 2 l, counted from "
      "the first day");
}

void take_time_away(const Arguments& arguments, Garden& garden) {
  for (const std::string& text : arguments.texts("away")) {
    const auto away = parse_days_away(text);
    if (!away) {
      throw RequestError(
          fmt::format("--away: found {}; expected {}", in_quotes(text), days_away_example));
    }
    for (Planting& planting : garden.plantings) planting.routine.days_away.push_back(*away);
  }
  for (const std::string& text : arguments.texts("helper")) {
    const Helper helper = accepted("helper", parse_helper(text));
    for (Planting& planting : garden.plantings) planting.routine.helpers.push_back(helper);
  }
}

void add_weather_notes(const std::vector<Place>& places, Report& report) {
  bool any_solar_clock = false;
  for (const Place& place : places) {
    const WeatherRecord& record = place.record();
    for (std::string& note : weather_notes(record, place.sources())) {
      report.notes.push_back(std::move(note));
    }
    if (!record.rain_observed()) {
      report.notes.push_back(
          fmt::format("{}: no rain column, so rain is taken as none", record.name()));
    } else if (place.days_without_rain_reading() > 0) {
      report.notes.push_back(fmt::format("{}: rain unknown on {} of {} days, taken as none",
                                         record.name(), place.days_without_rain_reading(),
                                         record.size()));
    }
    any_solar_clock = any_solar_clock || record.site().clock_is_solar();
  }
  if (any_solar_clock) {
    report.notes.emplace_back(
        "clock times are solar time (noon when the sun is highest): no longitude and UTC offset "
        "given");
  }
}

void add_holes_note(std::span<const Planting> plantings, Report& report) {
  std::vector<std::string> names;
  for (const Planting& planting : plantings) {
    const Pot& pot = planting.pot;
    if (!pot.drains && std::find(names.begin(), names.end(), pot.name) == names.end()) {
      names.push_back(pot.name);
    }
  }
  if (names.empty()) return;
  report.notes.push_back(
      fmt::format("caution: no drain hole in {}: after rain or a full watering roots stand in "
                  "water; make holes",
                  fmt::join(names, ", ")));
}

GrowthClock growth_clock(const Arguments& arguments) {
  const std::string text = arguments.text("growth").value_or("days");
  if (text == "days") return GrowthClock::stage_days;
  if (text == "degree-days") return GrowthClock::degree_days;
  throw RequestError(
      fmt::format("--growth: found {}; expected days or degree-days", in_quotes(text)));
}

}  // namespace wiltline::cli
