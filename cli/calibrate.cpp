// wiltline calibrate: what the gardener's own pots say of themselves.

#include "wiltline/questions/calibrate.hpp"

#include "calibrate_answer.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "notes.hpp"
#include "reading_options.hpp"
#include "refuse.hpp"
#include "weather_options.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/questions/learned_garden.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

void run_calibrate(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  CalibrationOptions options;
  options.growth = growth_clock(arguments);
  if (arguments.flag("write") && arguments.text("garden") == "-") {
    refuse("--write: found a garden from standard input; expected one from a file");
  }
  Output output = open_output(arguments);
  const auto garden_output = own_output(arguments, "write");
  Report report("calibrate", inputs_of(arguments));
  const MissingDataOptions missing = missing_data_options(arguments);
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const Place place(load_weather_of_one_place(arguments), catalogue.parameters, missing);
  const Garden garden = load_garden(arguments, catalogue);
  const auto log = arguments.text("log");
  if (!log && !arguments.text("weighings") && !arguments.text("seen")) {
    refuse("no readings; expected --weighings FILE, --log FILE or --seen FILE");
  }
  std::vector<PotReadings> readings = load_readings(arguments,
                                                    {.garden = garden.plantings,
                                                     .model = &catalogue.parameters,
                                                     .weather = &place.record(),
                                                     .growth = options.growth},
                                                    report.notes);
  if (log) {
    const Instant end{place.record().last(), units::hours_per_day};
    add_log(readings, read_watering_log(read_file(*log), garden.plantings, end));
  }
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
  return described("calibrate", run_calibrate, sections_of(calibration_table()));
}

}  // namespace wiltline::cli
