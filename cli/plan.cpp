// wiltline plan: the visits of the coming days.

#include "wiltline/questions/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "calendar.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "forecast_question.hpp"
#include "garden_options.hpp"
#include "plan_answer.hpp"
#include "shared_options.hpp"
#include "weather_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

constexpr int default_days = 7;

/// Days away and helpers of the options that lie outside the days planned.
void add_outside(const Arguments& arguments, const ForecastOptions& options, Report& report) {
  const auto say = [&](std::string_view option, const std::string& text, const DaysAway& days) {
    for (int day = 0; day <= options.horizon_days; ++day) {
      if (days.covers(options.now.date + std::chrono::days(day))) return;
    }
    report.notes.push_back(fmt::format("without effect, on no day planned: --{} {}", option, text));
  };
  for (const std::string& text : arguments.texts("away")) {
    say("away", text, *parse_days_away(text));
  }
  for (const std::string& text : arguments.texts("helper")) {
    say("helper", text, parse_helper(text)->days);
  }
}

void run_plan_command(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const ForecastOptions options = forecast_options(arguments, default_days);
  const PlanLayout layout{.can_l = volume_option_l(arguments, "can", least_given_l, most_given_l,
                                                   "what it holds, as \"10 l\" or \"2 gal\""),
                          .compact = arguments.flag("compact"),
                          .us = how.us_units};
  Output output = open_output(arguments);
  std::optional<Output> calendar;
  if (const auto path = calendar_path(arguments)) calendar.emplace(*path);
  Report report("plan", inputs_of(arguments));
  const ForecastQuestion question = forecast_question(arguments, options, report);
  const PlanResult result =
      plan(question.inputs, question.place, question.catalogue, question.options);
  check_and_note(question, result.forecast, how.us_units, report);
  add_outside(arguments, question.options, report);
  if (how.format != Format::table) {
    const std::string text = unforeseen_text(result, question.options);
    if (!text.empty()) report.notes.push_back(text);
  }
  report.fill(plan_table(), result.waterings);
  if (calendar) {
    calendar->write(
        calendar_text({.garden_file = question.garden.file,
                       .now = question.options.now,
                       .site = question.place.record().site(),
                       .lines = plan_calendar(result, question.options.now, how.us_units),
                       .us = how.us_units,
                       .caution = report.caution}));
  }
  if (how.page) add_plan_sheet(result, question.options, layout, report);
  if (answers_on_terminal(arguments, how)) {
    report.on_terminal = days_text(result, question.options, layout);
  }
  deliver(report, how, output, [&] { return plan_text(result, question.options, layout, report); });
}

}  // namespace

Command plan_command() {
  Command command;
  command.name = "plan";
  command.purpose = "the visits of the coming days: which pots, how much, what will not last";
  command.usage = "--garden FILE --weather FILE [options]";
  command.explanation =
      "From where each pot stands now (as forecast has it), every routine is kept over many "
      "courses "
      "that the weather may take: the days of a forecast if one is given, then the weather of "
      "other "
      "years at the same time of year. Of each visit it says which pots are watered and how much "
      "each takes, which will not last to the next visit, and where soluble feed is due. A pot "
      "watered as needed is listed when it asks. A pot that wilts before anybody comes is listed "
      "first of all, with what it takes now; one that has wilted already is taken as watered "
      "then, so that it is not listed again for the same water. A visit at the very "
      "minute of now is still to come unless the log has a watering then. --weighings and --seen, "
      "as for forecast, make each "
      "pot "
      "what its readings say.\n"
      "\n"
      "Frost and heat are said of the days given as --forecast alone; of the others, in how many "
      "past "
      "years a night was too cold for what grows now.\n"
      "\n"
      "--calendar writes an event for each visit, at the hour of the garden's clock whatever time "
      "zone the calendar shows (floating time). A newer file, imported again, updates the events "
      "of the same visits; one that is no longer wanted stays until you delete it.\n"
      "\n"
      "Litres in CSV and JSON are of one pot. Times are to the minute, as the model has them; no "
      "plant is so exact.";
  command.examples = {
      {"the coming week, from a record of four years that ends yesterday, with a can of 10 litres",
       "wiltline plan --garden models/gardens/courtyard.csv --weather weather-samples/tolvenau.csv "
       "--to 2024-07-14 --now 2024-07-15T06:00 --can \"10 l\""},
      {"a neighbour has the can, in a line a visit",
       "wiltline plan --garden models/gardens/courtyard.csv --weather weather-samples/tolvenau.csv "
       "--to 2024-07-14 --helper \"07-15/07-25 every 2 days 18:00\" --compact"}};
  command.columns = plan_heads();
  po::options_description own("Plan");
  own.add_options()("days", text_value("N"), "how many days (default 7)")(
      "can", text_value("LITRES"), "what your can holds, \"10 l\" or \"2 gal\": counts the trips")(
      "compact", "one line a visit");
  add_calendar_option(own);
  add_time_away_options(own);
  add_forecast_options(own);
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own);
  command.option_groups.push_back(output_options());
  command.run = run_plan_command;
  return command;
}

}  // namespace wiltline::cli
