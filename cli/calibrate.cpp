// wiltline calibrate: what the gardener's own pots say of themselves.

#include "wiltline/questions/calibrate.hpp"

#include <fmt/format.h>

#include "calibrate_answer.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "notes.hpp"
#include "weather_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/questions/learned_garden.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

std::vector<PotReadings> load_readings(const Arguments& arguments, const ReadingsOf& of) {
  std::vector<PotReadings> readings;
  for (const Planting& planting : of.garden) readings.push_back({&planting, {}});
  const auto weighings = arguments.text("weighings");
  const auto log = arguments.text("log");
  const auto seen = arguments.text("seen");
  if (!weighings && !log && !seen) {
    throw RequestError("no readings; expected --weighings FILE, --log FILE or --seen FILE");
  }
  if (weighings) add_readings(readings, read_weighings(read_file(*weighings), of));
  if (seen) add_readings(readings, read_sightings(read_file(*seen), of));
  if (log) {
    const Instant end{of.weather->last(), units::hours_per_day};
    add_log(readings, read_watering_log(read_file(*log), of.garden, end));
  }
  return readings;
}

void run_calibrate(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  CalibrationOptions options;
  options.growth = growth_clock(arguments);
  const auto write_to = arguments.text("write");
  if (write_to &&
      (*write_to == "-" || same_file(*write_to, arguments.text("output").value_or("-")))) {
    throw RequestError(
        fmt::format("--write: found {}; expected a file of its own", in_quotes(*write_to)));
  }
  if (write_to && arguments.text("garden") == "-") {
    throw RequestError("--write: found a garden from standard input; expected one from a file");
  }
  Output output = open_output(arguments);
  std::optional<Output> garden_output;
  if (write_to) {
    refuse_overwriting(arguments, "write", *write_to);
    garden_output.emplace(*write_to);
  }
  Report report("calibrate", inputs_of(arguments));
  const MissingDataOptions missing = missing_data_options(arguments);
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const std::vector<WeatherRecord> records = load_weather(arguments, true);
  if (records.size() > 1) {
    throw RequestError(
        fmt::format("--weather: found {} records that do not go on from each other; expected those "
                    "of one place",
                    records.size()));
  }
  const Place place(records.front(), catalogue.parameters, missing);
  const Garden garden = load_garden(arguments, catalogue);
  const std::vector<PotReadings> readings =
      load_readings(arguments, {.garden = garden.plantings,
                                .model = &catalogue.parameters,
                                .weather = &place.record(),
                                .growth = options.growth});
  const CalibrationResult result = calibrate(readings, place, catalogue, options);
  add_calibration_notes(result, report);
  add_weather_notes({place}, report);
  report.caution = caution_text("you water");
  const std::vector<CalibrationRow> rows = calibration_rows(result);
  report.fill(calibration_table(), rows);
  if (how.page) add_calibration_pictures(result, how.us_units, report);
  if (garden_output) {
    garden_output->write(learned_garden_csv(read_file(*arguments.text("garden")), result));
  }
  deliver(report, how, output, [&] { return calibration_text(result, report, how.us_units); });
}

}  // namespace

Command calibrate_command() {
  return described("calibrate", run_calibrate, calibration_heads());
}

}  // namespace wiltline::cli
