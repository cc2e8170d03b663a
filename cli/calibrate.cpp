// wiltline calibrate: what the gardener's own pots say of themselves.

#include "wiltline/questions/calibrate.hpp"

#include <fmt/format.h>

#include "calibrate_answer.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "garden_options.hpp"
#include "notes.hpp"
#include "reading_options.hpp"
#include "shared_options.hpp"
#include "weather_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/questions/learned_garden.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

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
  const Place place(load_weather_of_one_place(arguments), catalogue.parameters, missing);
  const Garden garden = load_garden(arguments, catalogue);
  const auto log = arguments.text("log");
  if (!log && !arguments.text("weighings") && !arguments.text("seen")) {
    throw RequestError("no readings; expected --weighings FILE, --log FILE or --seen FILE");
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
  Command command;
  command.name = "calibrate";
  command.purpose = "what your own pots drink and hold, from weighings, a log and what was seen";
  command.usage = "--garden FILE --weather FILE --weighings FILE [options]";
  command.explanation =
      "Published figures for a plant in a pot differ by a factor of two; a kitchen or luggage "
      "scale does not. Each planting's account is run over the weather of that time with the "
      "waterings of the log (and of weighings after one; before the first of these: as its routine "
      "says, later no others), and its numbers "
      "are fitted so that the account foretells the weighings: what the plants use, the water they "
      "can use, the empty pot where the garden has no tare_kg, and what a porous wall loses. "
      "Pots of one crop learn from each other. The tables' ranges are where the fit begins; "
      "without "
      "readings it ends there. A reading that does not fit counts for little and is named.\n"
      "\n"
      "--weighings is CSV; watering (before or after, blank: before) says on which side of a "
      "watering at that time; after, without an entry of the log, means watered until it drained:\n"
      "  name,when,weight_kg,watering\n"
      "  basil on the sill,2024-07-10 18:30,4.35,before\n"
      "  basil on the sill,2024-07-10 18:40,5.1,after\n"
      "--log is that of forecast, with what drained if you measured it:\n"
      "  when,name,given_l,drained_l\n"
      "  2024-07-10 18:35,basil on the sill,1,0.15\n"
      "--seen has finger tests and wilting:\n"
      "  name,when,top_dry,wilting\n"
      "  basil on the sill,2024-07-12 15:00,yes,no\n"
      "\n"
      "--write saves the garden with what was learned (columns use_factor, use_factor_sd, "
      "usable_l, "
      "usable_sd_l, wall_factor, use_usable_correlation, calibrated_until, and tare_kg where it "
      "was unknown); every command uses them, and "
      "--uncertain draws from what is left uncertain instead of from the tables' ranges. "
      "Calibrating again begins with the tables, not with what is in those columns.\n"
      "\n"
      "The figures are for the account of this program: they take up what it has wrong of a plant, "
      "its size included.";
  command.examples = {
      {"an invented courtyard, three pots weighed through a July",
       "wiltline calibrate --garden models/gardens/courtyard.csv --weather "
       "weather-samples/tolvenau.csv --weighings models/readings/courtyard-weighings.csv"},
      {"with finger tests, and the garden to go on with",
       "wiltline calibrate --garden models/gardens/courtyard.csv --weather "
       "weather-samples/tolvenau.csv --weighings models/readings/courtyard-weighings.csv --seen "
       "models/readings/courtyard-seen.csv --write my-garden.csv"}};
  command.columns = calibration_heads();
  po::options_description own("Calibrate");
  own.add_options()(
      "weighings", text_value("FILE"),
      "weights, CSV: name, when, weight_kg (or weight_lb), watering (before or after)")(
      "log", text_value("FILE"),
      "waterings, CSV: when, name, given_l (blank: until it drained), drained_l")(
      "seen", text_value("FILE"), "finger tests and wilting, CSV: name, when, top_dry, wilting")(
      "write", text_value("FILE"), "save the garden with what was learned")(
      "growth", text_value("BY"), "days (default) or degree-days");
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own);
  command.option_groups.push_back(output_options());
  command.run = run_calibrate;
  return command;
}

}  // namespace wiltline::cli
