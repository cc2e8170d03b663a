#include "weather_options.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <array>
#include <filesystem>

#include "output.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/joining.hpp"
#include "wiltline/weather/own_text.hpp"
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

WeatherRecord cut(WeatherRecord record, std::optional<Date> from, std::optional<Date> to) {
  const auto inside = [&](Date date, const char* option) {
    if (record.contains(date)) return;
    refuse("--{}: found {}; expected a day of {}, {} to {}", option, to_string(date), record.name(),
           to_string(record.first()), to_string(record.last()));
  };
  if (from) inside(*from, "from");
  if (to) inside(*to, "to");
  if (from && to && *from > *to) {
    refuse("--from: found {}, after --to {}; expected it before", to_string(*from), to_string(*to));
  }
  if (!from && !to) return record;
  return record.between(from.value_or(record.first()), to.value_or(record.last()));
}

/// What is told of the layout of weather files.
FileHints file_hints(const Arguments& arguments) {
  FileHints hints;
  hints.layout = arguments.text("layout", "");
  if (const auto file = arguments.text("columns")) hints.columns = read_layouts(read_file(*file));
  if (const auto order = arguments.text("dates")) {
    const auto found = std::ranges::find(date_order_names, *order);
    if (found == date_order_names.end()) {
      refuse("--dates: found {}; expected one of {}", in_quotes(*order),
             fmt::join(date_order_names, ", "));
    }
    hints.dates = static_cast<DateOrder>(found - date_order_names.begin());
  }
  return hints;
}

/// Standard input can be read once.
void refuse_second_standard_input(const Arguments& arguments) {
  std::vector<std::string> files = arguments.texts("weather");
  for (const char* option : input_file_options) files.push_back(arguments.text(option, ""));
  if (std::ranges::count(files, "-") > 1) {
    refuse("found - a second time; expected standard input once");
  }
}

int longest_gap_filled_days(const Arguments& arguments) {
  return whole_number(arguments, "fill-gaps", 1, longest_gap_fillable_days).value_or(0);
}

}  // namespace

std::string_view site_option(std::string_view key) {
  const auto found = std::ranges::find(site_options, key, &SiteOption::key);
  return found == site_options.end() ? key : found->option;
}

SiteValues site_values(const Arguments& arguments) {
  SiteValues values;
  for (const SiteOption& option : site_options) {
    const auto number = arguments.number(option.option, -1e9, 1e9);
    if (!number) continue;
    if (const std::string expected = set_site_value(values, option.key, *number);
        !expected.empty()) {
      refuse("--{}: found {}; expected {}", option.option, *arguments.text(option.option),
             expected);
    }
  }
  if (auto fault = clock_fault(values.longitude_deg, values.utc_offset_h)) {
    refuse("--longitude and --utc-offset: {}", fault->text());
  }
  if (const auto file = arguments.text("site"))
    values = values.or_else(read_site(read_file(*file)));
  return values;
}

std::vector<std::string> weather_files(const Arguments& arguments) {
  const auto folder = arguments.text("weather-dir");
  if (!folder) refuse("no weather; expected --weather-dir DIR");
  std::error_code error;
  if (!fs::is_directory(*folder, error)) {
    const bool exists = fs::exists(*folder, error);
    refuse("--weather-dir: found {} {}; expected a folder of weather files",
           exists ? "the file" : "no folder", in_quotes(*folder));
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
    refuse("{}: cannot be read: {}", *folder, error.message());
  }
  if (files.empty()) {
    refuse("--weather-dir: found no *.csv in {}; expected weather files", in_quotes(*folder));
  }
  std::ranges::sort(files);
  return files;
}

LoadedWeather load_weather_files(const Arguments& arguments, bool rain_needed) {
  auto files = arguments.texts("weather");
  if (arguments.flag("weather-dir")) {
    for (std::string& file : weather_files(arguments)) files.push_back(std::move(file));
  }
  if (files.empty()) refuse("no weather; expected --weather FILE");
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
  if (arguments.flag("strict")) {
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

WeatherRecord load_weather_of_one_place(const Arguments& arguments) {
  std::vector<WeatherRecord> records = load_weather(arguments, true);
  if (records.size() > 1) {
    refuse(
        "--weather: found {} records that do not go on from each other; expected those of one "
        "place",
        records.size());
  }
  return std::move(records.front());
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

}  // namespace wiltline::cli
