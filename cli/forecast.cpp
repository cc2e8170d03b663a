// wiltline forecast: when each pot will want water, and which go dry before the next visit.

#include "wiltline/questions/forecast.hpp"

#include <algorithm>

#include "calendar.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "forecast_answer.hpp"
#include "forecast_question.hpp"
#include "what_matters.hpp"
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
  Output output = open_output(arguments);
  // The state of yesterday may be replaced by today's: that is what it is for.
  const auto state_output = own_output(arguments, "save-state", "state");
  const auto calendar = calendar_output(arguments);

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
  const bool learned = std::ranges::any_of(
      result.pots, [](const PlantingForecast& pot) { return pot.update.has_value(); });
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
  const bool any_dry = std::ranges::any_of(result.pots, [](const PlantingForecast& pot) {
    return pot.dry_before_visit.value_or(false);
  });
  return arguments.flag("alarm") && any_dry ? alarm_exit_code : 0;
}

}  // namespace

Command forecast_command() {
  Command command =
      described("forecast", nullptr, sections_of(forecast_table(true, true), matters_table()));
  command.run = run_forecast_command;
  return command;
}

}  // namespace wiltline::cli
