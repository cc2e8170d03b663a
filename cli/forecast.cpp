// wiltline forecast: when each pot will want water, and which go dry before the next visit.

#include "wiltline/questions/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "calendar.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "forecast_answer.hpp"
#include "forecast_question.hpp"
#include "garden_options.hpp"
#include "shared_options.hpp"
#include "weather_options.hpp"
#include "what_matters.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/log_and_state.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int alarm_exit_code = 10;
constexpr int default_days = 14;

int run_forecast_command(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  ForecastOptions options = forecast_options(arguments, default_days);
  const auto matters =
      matters_options(arguments, {"alarm", "calendar", "save-state", "weighings", "seen"});
  if (matters) {  // it has members of its own
    options.uncertain = false;
    options.members = 1;
  }
  const auto save_to = arguments.text("save-state");
  if (save_to && (*save_to == "-" || same_file(*save_to, arguments.text("output").value_or("-")))) {
    throw RequestError(
        fmt::format("--save-state: found {}; expected a file of its own", in_quotes(*save_to)));
  }
  Output output = open_output(arguments);
  std::optional<Output> state_output;
  if (save_to) {
    // The state of yesterday may be replaced by today's: that is what it is for.
    refuse_overwriting(arguments, "save-state", *save_to, "state");
    state_output.emplace(*save_to);
  }
  std::optional<Output> calendar;
  if (const auto path = calendar_path(arguments)) calendar.emplace(*path);

  Report report("forecast", inputs_of(arguments));
  const ForecastQuestion question = forecast_question(arguments, options, report);
  const ForecastResult result =
      forecast(question.inputs, question.place, question.catalogue, question.options);
  check_and_note(question, result, how.us_units, report);
  if (matters) {
    deliver_what_matters(forecast_what_matters(question.inputs, question.place, question.catalogue,
                                               question.options, *matters),
                         *matters, shown_name, report, how, output);
    return 0;
  }
  const bool learned =
      std::any_of(result.pots.begin(), result.pots.end(),
                  [](const PlantingForecast& pot) { return pot.update.has_value(); });
  report.fill(forecast_table(options.uncertain, learned), result.pots);
  if (how.page) add_forecast_picture(result, question.options, report);
  if (state_output) {
    std::vector<SavedPlanting> states;
    for (const PlantingForecast& pot : result.pots) states.push_back(pot.saved);
    state_output->write(state_csv(states));
  }
  if (calendar) {
    calendar->write(
        calendar_text({.garden_file = question.garden.file,
                       .now = question.options.now,
                       .site = question.place.record().site(),
                       .lines = forecast_calendar(result, question.options, how.us_units),
                       .us = how.us_units,
                       .caution = report.caution}));
  }
  deliver(report, how, output,
          [&] { return forecast_table_text(result, question.options, report, how.us_units); });
  const bool any_dry =
      std::any_of(result.pots.begin(), result.pots.end(),
                  [](const PlantingForecast& pot) { return pot.dry_before_visit.value_or(false); });
  return arguments.flag("alarm") && any_dry ? alarm_exit_code : 0;
}

po::options_description own_options() {
  po::options_description own("Forecast");
  add_forecast_options(own);
  add_what_matters_option(own);
  add_calendar_option(own);
  own.add_options()("days", text_value("N"), "how far to look (default 14)")(
      "alarm", "exit with 10 if a pot is likelier than not to go dry before its next visit")(
      "save-state", text_value("FILE"), "save where each pot stands, to go on tomorrow");
  return own;
}

}  // namespace

Command forecast_command() {
  Command command;
  command.name = "forecast";
  command.purpose = "when each pot will want water, and which go dry before the next visit";
  command.usage = "--garden FILE --weather FILE [options]";
  command.explanation =
      "Runs each planting to now over the weather observed, and from there on, as if nobody "
      "watered, over many courses that the weather may take: the days of a forecast if one is "
      "given, then the weather of other years at the same time of year (within ten days of the "
      "date, in blocks of five so that hot and wet spells stay together). The same seed gives the "
      "same answer. The record should hold several years; it ends yesterday or today.\n"
      "\n"
      "Until now each pot was watered as its routine says. A log or --watered says better: from a "
      "planting's first entry on, the log is taken as complete. A visit at the very minute of now "
      "is still to come unless the log has a watering then. The log is CSV:\n"
      "  when,name,given_l\n"
      "  2022-07-10 18:30,broccoli,\n"
      "  2022-07-12 07:15,broccoli,1.5\n"
      "blank in given_l (or given_gal): until it drained. A pot with tare_kg in the garden may be "
      "weighed: its water is the weight less tare and dry mix.\n"
      "\n"
      "--weighings, --seen and what drained of the log's waterings (drained_l, where measured) "
      "teach "
      "the forecast: files as calibrate has them, to which you add "
      "as "
      "you weigh. Each pot begins with what the garden has of it (calibrate --write), else with "
      "the "
      "tables' ranges; each reading moves its use, its usable water and where it stands, as far as "
      "the scale is surer than the account. Begin the file after the readings that the garden was "
      "calibrated with, or they count twice. A weighing after a watering is an entry of the log. A "
      "weight far off is left out and named; if the next is "
      "as far off, it is taken as true.\n"
      "\n"
      "--save-state writes where every pot stands at the end of the observed weather, and what was "
      "done since; tomorrow --state goes on from there, with the same answer as without a stop. "
      "What was learned "
      "of the pots goes with it: readings before the state are taken as learned from.\n"
      "\n"
      "--calendar writes an event for the next watering of each pot, several of one visit "
      "together, "
      "at the hour of the garden's clock whatever time zone the calendar shows (floating time). A "
      "newer file, imported again, updates the events of the same visits; one that is no longer "
      "wanted stays until you delete it. plan --calendar has all visits of the coming days.\n"
      "\n"
      "Exit code 10 with --alarm: a pot is likelier than not to go dry before its next visit. The "
      "answer is written even so.\n"
      "\n"
      "Times in CSV and JSON are to the minute, as the model has them; no plant is so exact.";
  command.examples = {{"this morning, from a record of four years that ends yesterday",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-14 --now 2024-07-15T09:00"},
                      {"the basil was watered just now; how sure is that, plant and mix included",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-14 --now 2024-07-15T09:00 "
                       "--watered \"basil on the sill\" --uncertain 200"},
                      {"three pots weighed through a July teach it what they drink",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-15 --now 2024-07-16T07:00 "
                       "--weighings models/readings/courtyard-weighings.csv"},
                      {"for a script: CSV, the state kept for tomorrow, exit code 10 on alarm",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-14 --format csv --alarm "
                       "--save-state state.csv"}};
  command.columns = forecast_heads();
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own_options());
  command.option_groups.push_back(output_options());
  command.run = run_forecast_command;
  return command;
}

}  // namespace wiltline::cli
