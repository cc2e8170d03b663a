// wiltline weather: what a weather file was understood to say, and the same as one of our own
// files.

#include <fmt/format.h>

#include "command.hpp"
#include "delivery.hpp"
#include "notes.hpp"
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
      throw RequestError(
          fmt::format("found --{} beside --typical; expected it only with weather files", option));
    }
  }
  constexpr int usual_years = 20;
  constexpr int largest_seed = 1000000000;
  const int years = whole_number(arguments, "years", 1, most_typical_years).value_or(usual_years);
  const int seed = whole_number(arguments, "seed", 0, largest_seed).value_or(1);
  const Climate climate =
      read_climate(read_file(*arguments.text("typical")), site_values(arguments));
  WeatherRecord record = typical_weather(climate, years, static_cast<std::uint64_t>(seed));
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
    throw RequestError("found a weather file beside --typical; expected one of them");
  }
  if (!typical && !arguments.flag("weather")) {
    throw RequestError("no weather; expected its FILE, or --typical FILE");
  }
  for (const char* option : {"years", "seed"}) {
    if (!typical && arguments.flag(option)) {
      throw RequestError(fmt::format("found --{} without --typical; expected both", option));
    }
  }
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  std::optional<Output> converted;
  if (arguments.flag("output")) {
    if (*arguments.text("output") == "-" && how.format != Format::table) {
      throw RequestError("--format: found it beside --output -; expected one of them");
    }
    if (*arguments.text("output") == "-" && how.page) {
      throw RequestError("--page: found it beside --output -; expected one of them");
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
    throw RequestError(fmt::format(
        "--output: found {} places in these files; expected one, for a file of ours holds one",
        loaded.places.size()));
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
  Command command;
  command.name = "weather";
  command.purpose = "what a weather file was understood to say; writes it as one of ours";
  command.usage = "FILE... [options], or --typical FILE [options]";
  command.explanation =
      "Reads weather as it comes: daily values, hours or ten minutes; separated by commas, "
      "semicolons or tabs; with decimal commas; in UTF-8, UTF-16 or Latin-1; packed by gzip. "
      "Columns "
      "are known by their names, units in brackets behind the name, at its end, or in a second "
      "header row. Where a file leaves two readings open, a line says which option tells them "
      "apart; nothing is chosen in silence. All other commands read the same files directly.\n"
      "\n"
      "Dates: 2014-02-01, 20140201, 2014/2/1, 01.02.2014, 2/1/2014, columns of year, month and "
      "day, "
      "or of year and day of the year. Day or month first is found out from the whole file; where "
      "no day is beyond the 12th, --dates dmy or mdy says it.\n"
      "\n"
      "A column without a unit is taken only if one unit alone makes sense: a year of temperatures "
      "at a known latitude does, wind never.\n"
      "\n"
      "Hours are put into days by the date in the file (a reading at 24:00 ends a day; hours in "
      "UTC "
      "are first put on the site's clock): lowest and highest temperature, mean wind and vapour "
      "pressure, sums of radiation and rain. A day with under 20 hours is missing.\n"
      "\n"
      "Layouts with a name (--layout), recognised by their columns: ghcn-tenths, ghcn-us, "
      "ghcn-metric and ghcn-lines, daily summaries of the global historical climatology network "
      "(one row a day in tenths; in °F and inches; in °C and mm; one reading a line); klima-days, "
      "a "
      "national service's daily values by German names; synop-hours, hourly synoptic readings; "
      "logger-hours, a logger's export.\n"
      "\n"
      "--columns FILE says it for any other: a CSV with a row for each column.\n"
      "  column,is,unit,missing,zero\n"
      "  T high,tmax,c,-999,\n"
      "  Gauge,rain,0.1 mm,-1,trace\n"
      "is: date, clock, year, month, day, day of year, utc offset, place, latitude, longitude, "
      "elevation, tmin, tmax, temperature, dew point, vapour pressure, rh max, rh min, rh, wind, "
      "solar, sunshine, rain or none; with one reading a line, element and value, and a row for "
      "each element; quality, which is not blank where a reading failed its service's checks. "
      "unit: a number before it multiplies it; of a date: utc, ends (hours are named "
      "by their end), ymd, dmy or mdy. missing: what stands for no reading, zero: marks of nothing "
      "measurable; several with | between.\n"
      "\n"
      "Several files of one place are joined; where they overlap they must agree. Cautions say "
      "what "
      "looks wrong as a whole, such as wind in km/h; --strict makes them errors.\n"
      "\n"
      "--output writes one of our own files, site lines included; --format says how to print what "
      "was understood.\n"
      "\n"
      "No daily record at hand? --typical FILE makes days of the means of twelve months, which "
      "tables of climate give for most towns: a CSV with a row for each month and the columns "
      "month (1 to 12), tmax_c, tmin_c, rain_mm (of the month), rain_days, and where known "
      "wind_m_s, "
      "dewpoint_c or rh_mean_pct, and sunshine_h (hours a day); also in °F, inches, km/h and mph; "
      "the site as in a weather file. Such days are plausible, neither measured nor a forecast: "
      "months have these means over many years, which day is wet or hot is chance, and what the "
      "means do not tell (how long dry spells and heat waves last, how hot a hot day is) is "
      "judged: "
      "beside two real records the longest dry spell came out a fifth shorter and a half longer. "
      "Every answer from them says so. Prefer a record, however old.";
  command.examples = {
      {"what a file says", "wiltline weather weather-samples/tolvenau.csv"},
      {"a service's file as one of ours",
       "wiltline weather weather-samples/layouts/service.csv --wind-height 10 --output ours.csv"},
      {"the hours of a logger", "wiltline weather weather-samples/layouts/logger-hours.csv"},
      {"thirty years of days from the means of months",
       "wiltline weather --typical weather-samples/months/morvane.csv --years 30 --output "
       "typical.csv"}};
  command.add_columns(weather_table());
  command.option_groups.push_back(weather_file_options());
  po::options_description typical("No record at hand");
  typical.add_options()("typical", text_value("FILE"),
                        "make days of monthly means: neither measured nor a forecast")(
      "years", text_value("N"), "how many years of days (default 20)")(
      "seed", text_value("S"), "which random numbers (default 1)");
  command.option_groups.push_back(typical);
  po::options_description own("Answer");
  own.add_options()("format", text_value("FORM"),
                    "table (default), csv or json; csv and json are always metric")(
      "units", text_value("UNITS"), "metric (default) or us, for tables")(
      "output", text_value("FILE"), "write the weather as one of our own files")(
      "page", text_value("FILE"), "the answer with pictures, for a browser or to print (HTML)");
  command.option_groups.push_back(own);
  command.takes_files = true;
  command.run = run_weather;
  return command;
}

}  // namespace wiltline::cli
