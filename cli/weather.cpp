// wiltline weather: what a weather file was understood to say, and the same as one of our own
// files.

#include <fmt/format.h>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "notes.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "weather_answer.hpp"
#include "weather_options.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/weather/typical.hpp"
#include "wiltline/weather/writing.hpp"

namespace wiltline::cli {
namespace {

/// Days drawn from the means of months that --typical names, and what is said of them.
struct TypicalDays {
  WeatherRecord record;
  std::string text;
};

TypicalDays typical_days(const Arguments& arguments) {
  for (const char* option : {"from", "to", "fill-gaps", "layout", "columns", "dates", "strict"}) {
    if (arguments.flag(option)) {
      refuse("found --{} beside --typical; expected it only with weather files", option);
    }
  }
  constexpr int usual_years = 20;
  const int years = whole_number(arguments, "years", 1, most_typical_years).value_or(usual_years);
  const std::uint64_t seed = seed_option(arguments);
  const Climate climate =
      read_climate(read_file(*arguments.text("typical")), site_values(arguments));
  WeatherRecord record = typical_weather(climate, years, seed);
  const MonthlyMeans& month = climate.months.front();
  std::vector<std::string_view> known{"highest and lowest temperature", "rain", "days with rain"};
  if (month.wind_m_s) known.emplace_back("wind");
  if (month.dew_point_c) known.emplace_back("dew point");
  if (month.rh_mean_pct) known.emplace_back("relative humidity");
  if (month.sunshine_h) known.emplace_back("sunshine");
  std::string text = parts_text(
      climate.name,
      {fmt::format("means of twelve months: {}", fmt::join(known, ", ")),
       fmt::format("made of them: {} year{} of days, {} to {}, drawn by chance (seed {})", years,
                   years == 1 ? "" : "s", to_string(record.first()), to_string(record.last()),
                   seed),
       "each month has these means over many years; which day is wet or hot is chance"});
  return {std::move(record), std::move(text)};
}

void run_weather(const Arguments& arguments) {
  const bool typical = arguments.flag("typical");
  if (typical && arguments.flag("weather")) {
    refuse("found a weather file beside --typical; expected one of them");
  }
  if (!typical && !arguments.flag("weather")) {
    refuse("no weather; expected its FILE, or --typical FILE");
  }
  for (const char* option : {"years", "seed"}) {
    if (!typical && arguments.flag(option)) {
      refuse("found --{} without --typical; expected both", option);
    }
  }
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  std::optional<Output> converted;
  if (arguments.flag("output")) {
    if (*arguments.text("output") == "-" && how.format != Format::table) {
      refuse("--format: found it beside --output -; expected one of them");
    }
    if (*arguments.text("output") == "-" && how.page) {
      refuse("--page: found it beside --output -; expected one of them");
    }
    refuse_overwriting(arguments, "output", *arguments.text("output"));
    converted.emplace(*arguments.text("output"));
  }
  LoadedWeather loaded;
  std::string understood;
  if (typical) {
    TypicalDays days = typical_days(arguments);
    loaded.places.push_back({std::move(days.record), std::nullopt});
    understood = std::move(days.text);
  } else {
    loaded = load_weather_files(arguments, false);
    understood = understood_text(loaded.understood);
  }
  if (converted && loaded.places.size() != 1) {
    refuse("--output: found {} places in these files; expected one, for a file of ours holds one",
           loaded.places.size());
  }
  Report report("weather", inputs_of(arguments));
  std::vector<WeatherRow> rows;
  for (const PlaceWeather& place : loaded.places) {
    SourceCounts sources;
    const std::vector<ReferenceDay> reference = reference_days(place.record, missing);
    for (const ReferenceDay& day : reference) sources.count(day);
    rows.push_back(weather_row(place.record, reference));
    if (how.page) add_months_picture(place.record, reference, how.us_units, report);
    for (std::string& note : weather_notes(place.record, sources)) {
      report.notes.push_back(std::move(note));
    }
    if (!place.record.rain_observed()) {
      report.notes.push_back(
          fmt::format("{}: no rain column, so rain is taken as none", place.record.name()));
    }
  }
  for (std::string& doubt : doubts_of(loaded.places)) report.notes.push_back(std::move(doubt));
  report.fill(weather_table(), rows);
  if (how.format != Format::table) {
    for (const Understanding& one : loaded.understood) report.notes.push_back(one.summary());
  }
  if (converted) converted->write(weather_text(loaded.places.front().record));
  const std::string answer =
      understood + '\n' + weather_text_table(rows, how.us_units) + notes_text(report);
  if (converted && arguments.text("output") == "-") return;
  Output out("-");
  deliver(report, how, out, [&] { return answer; });
}

}  // namespace

Command weather_command() {
  Command command = described("weather", run_weather, sections_of(weather_table()));
  command.takes_files = true;
  return command;
}

}  // namespace wiltline::cli
