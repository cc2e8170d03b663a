#include "shared_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>

#include "page/page.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::cli {
namespace {

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

/// Standard input can be read once.
void refuse_second_standard_input(const Arguments& arguments) {
  std::vector<std::string> files = arguments.texts("weather");
  for (const char* option : {"site", "garden", "forecast", "log", "state"})
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
      "coastal", "missing radiation: use the coastal coefficient 0.19, not 0.16")(
      "dew-offset", text_value("C"),
      "missing humidity: dew point this far below the day's lowest; 2 to 3 at dry sites");
}

}  // namespace

po::options_description weather_options() {
  po::options_description options("Weather");
  options.add_options()("weather", texts_value("FILE"),
                        "daily weather, CSV; - reads standard input; may be given several times");
  add_record_options(options);
  return options;
}

po::options_description weather_folder_options() {
  po::options_description options("Weather");
  options.add_options()("weather-dir", text_value("DIR"),
                        "folder of daily weather: every *.csv in it, in the order of their names");
  add_record_options(options);
  return options;
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
      "page", text_value("FILE"), "write the answer as a page with pictures, for a browser, too");
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

std::vector<WeatherRecord> load_weather(const Arguments& arguments, bool rain_needed) {
  const auto files = arguments.texts("weather");
  if (files.empty()) throw RequestError("no weather; expected --weather FILE");
  refuse_second_standard_input(arguments);
  const RecordReader reader(arguments, rain_needed);
  std::vector<WeatherRecord> records;
  for (const std::string& file : files) {
    records.push_back(reader.read(read_file(file)));
  }
  for (std::size_t i = 1; i < records.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) refuse_repeated(records[k], records[i]);
  }
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
}

WeatherRecord RecordReader::read(FileBytes file) const {
  return cut(read_weather(std::move(file), how_), from_, to_);
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
  const WeatherRecord next =
      with_wind_height(read_weather(read_file(*file), how), site.wind_height_m);
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

Catalogue load_catalogue(const Arguments& arguments, std::vector<std::string>& notes) {
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
  if (const auto page = arguments.text("page")) {
    refuse_overwriting(arguments, "page", *page);
    if (same_file(*page, arguments.text("output").value_or("-"))) {
      throw RequestError("--page: found the file of --output; expected another");
    }
    how.page = std::make_shared<Output>(*page);
  }
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
  if (std::filesystem::equivalent(one, other, error) && !error) return true;
  const auto target = [&](const std::string& path) {
    return std::filesystem::weakly_canonical(std::filesystem::absolute(end_of_links(path), error),
                                             error);
  };
  return target(one) == target(other);
}

void refuse_overwriting(const Arguments& arguments, const char* option, const std::string& path,
                        const char* may_replace) {
  std::error_code error;
  if (path == "-" || !std::filesystem::is_regular_file(path, error)) return;
  const auto refuse_if = [&](const std::string& input, const std::string& read_as) {
    // Standard input may be a file.
    const std::string file = input == "-" ? "/dev/stdin" : input;
    if (!std::filesystem::equivalent(path, file, error) || error) return;
    throw RequestError(fmt::format("--{}: found {}, the file read as {}; expected another file",
                                   option, in_quotes(path), read_as));
  };
  for (const std::string& file : arguments.texts("weather")) refuse_if(file, "--weather");
  for (const char* input : {"garden", "site", "forecast", "log", "state"}) {
    if (may_replace != nullptr && std::string_view(input) == may_replace) continue;
    if (const auto file = arguments.text(input)) refuse_if(*file, fmt::format("--{}", input));
  }
  if (const auto folder = arguments.text("models")) {
    for (const std::string& table : model_table_names()) {
      refuse_if((std::filesystem::path(*folder) / table).string(), "a table of --models");
    }
  }
  if (const auto folder = arguments.text("weather-dir")) {
    for (std::filesystem::directory_iterator entry(*folder, error), end; !error && entry != end;
         entry.increment(error)) {
      const std::filesystem::path& file = entry->path();
      if (file.extension() == ".csv") refuse_if(file.string(), "a record of --weather-dir");
    }
  }
}

Output open_output(const Arguments& arguments) {
  const std::string path = arguments.text("output").value_or("-");
  refuse_overwriting(arguments, "output", path);
  return Output(path);
}

void deliver(const Report& report, const Presentation& how, Output& output,
             const std::function<std::string()>& table) {
  if (how.page) how.page->write(to_page(report, table(), how.us_units));
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
  return {fmt::format("{}: {}", record.name(), fmt::join(sources.lines(), "; "))};
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
  }
  for (const auto& [what, names] : shared) {
    report.notes.push_back(
        fmt::format("without effect, on no day of growth in this weather: {} of {}", what,
                    fmt::join(names, ", ")));
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

GrowthClock growth_clock(const Arguments& arguments) {
  const std::string text = arguments.text("growth").value_or("days");
  if (text == "days") return GrowthClock::stage_days;
  if (text == "degree-days") return GrowthClock::degree_days;
  throw RequestError(
      fmt::format("--growth: found {}; expected days or degree-days", in_quotes(text)));
}

}  // namespace wiltline::cli
