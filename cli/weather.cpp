// wiltline weather: what a weather file was understood to say, and the same as one of our own
// files.

#include <fmt/format.h>

#include "command.hpp"
#include "delivery.hpp"
#include "notes.hpp"
#include "shared_options.hpp"
#include "weather_answer.hpp"
#include "weather_options.hpp"
#include "wiltline/weather/writing.hpp"

namespace wiltline::cli {
namespace {

void run_weather(const Arguments& arguments) {
  if (!arguments.flag("weather")) throw RequestError("no weather; expected its FILE");
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
  const LoadedWeather loaded = load_weather_files(arguments, false);
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
  const std::string answer = understood_text(loaded.understood) + '\n' +
                             weather_text_table(rows, how.us_units) + notes_text(report);
  if (converted && arguments.text("output") == "-") return;
  Output out("-");
  deliver(report, how, out, [&] { return answer; });
}

}  // namespace

Command weather_command() {
  Command command;
  command.name = "weather";
  command.purpose = "what a weather file was understood to say; writes it as one of ours";
  command.usage = "FILE... [options]";
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
      "(one row a day in tenths; in °F and inches; in °C and mm; one reading a line); synop-hours, "
      "hourly synoptic readings; logger-hours, a logger's export.\n"
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
      "was understood.";
  command.examples = {
      {"what a file says", "wiltline weather weather-samples/tolvenau.csv"},
      {"a service's file as one of ours",
       "wiltline weather weather-samples/layouts/service.csv --wind-height 10 --output ours.csv"},
      {"the hours of a logger", "wiltline weather weather-samples/layouts/logger-hours.csv"}};
  command.columns = {{"Columns of CSV and JSON", weather_heads()}};
  command.option_groups.push_back(weather_file_options());
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
