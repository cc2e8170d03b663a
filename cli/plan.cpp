// wiltline plan: the visits of the coming days.

#include "wiltline/questions/plan.hpp"

#include <fmt/format.h>

#include "calendar.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "forecast_question.hpp"
#include "plan_answer.hpp"
#include "shared_options.hpp"
#include "wiltline/base/errors.hpp"

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
  const auto calendar = calendar_output(arguments);
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
    calendar->write(calendar_text({.garden_file = question.garden.file,
                                   .now = question.options.now,
                                   .site = question.place.record().site(),
                                   .lines = plan_calendar(result, how.us_units),
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
  return described("plan", run_plan_command, sections_of(plan_table()));
}

}  // namespace wiltline::cli
