// wiltline absence: the smallest pot that carries a crop through days away.

#include "wiltline/questions/absence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>

#include "absence_answer.hpp"
#include "absence_options.hpp"
#include "command.hpp"
#include "last_days.hpp"
#include "planting_options.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/candidates.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int fewest_summers = 3;  // fewer say little of a share

/// Asks again, for draws, about the pots that get a row.
void add_spreads(AbsenceAnswer& asked, const std::vector<Place>& places, const Catalogue& catalogue,
                 const AbsenceOptions& options, const DrawOptions& draws) {
  add_life_note(all, report);
  add_weather_notes(places, report);
  report.caution = caution_text("you leave");
  fill(all, draws.has_value(), report);
  deliver(report, how, output, [&] {
    return (of_garden ? garden_text(all, options, how.us_units)
                      : one_crop_text(all.front(), options, how.us_units)) +
           (draws ? spreads_text(all, options, *draws) : "") +
           closing(options, report, how.us_units);
  });
}

}  // namespace

Command absence_command() {
  Command command;
  command.name = "absence";
  command.purpose = "the smallest pot that carries a crop through days away";
  command.usage = "(--crop NAME | --garden FILE) --weather FILE --days N [options]";
  command.explanation =
      "Takes every pot through every such trip of the past: leaving at the same hour on each day "
      "of the months asked, in every year of the weather. Until then the pot is watered daily at "
      "that hour until it drains, and once more on leaving; then nobody comes. It survived a trip "
      "if it never went beyond the line (--line) in between. No pot is left out because a smaller "
      "one did well: a bigger pot grows a bigger plant.\n"
      "\n"
      "The smallest pot is that of least mix that survived at least --share of the trips. Trips "
      "that run beyond the weather or the planting's life are not counted. CSV and JSON call a "
      "trip a window, and one that was survived passed.\n"
      "\n"
      "With --garden each planting is asked for its own pot, and for the smallest that would do; "
      "its "
      "routine does not matter here.\n"
      "\n"
      "Lines:\n"
      "  stressed   growth slows\n"
      "  wilting    leaves droop by day and usually recover\n"
      "  dry        roots cannot draw enough, expect damage\n"
      "\n"
      "--days is a number of days, 2 or 2.5, or a time, 2d2h or 50h: leaving on Friday at 18:00 "
      "and "
      "back on Sunday at 20:00 is --days 2d2h --leave 18:00.";
  command.examples = {
      {"a weekend away from a tomato, in nursery pots",
       "wiltline absence --crop tomato --kind nursery --days 2 --weather "
       "weather-samples/tolvenau.csv"},
      {"from Friday 18:00 to Sunday 20:00 in July, if it does not rain",
       "wiltline absence --crop pepper --mix \"coir mix\" --spot \"morning sun\" --days 2d2h "
       "--leave "
       "18:00 --months jul --no-rain --weather weather-samples/tolvenau.csv"},
      {"three days away from a whole garden, short of damage",
       "wiltline absence --garden models/gardens/courtyard.csv --days 3 --line dry --weather "
       "weather-samples/tolvenau.csv"}};
  command.columns = absence_heads();
  po::options_description own("Absence");
  own.add_options()("days", text_value("N"), "how long nobody comes: 2, 2.5, 2d2h or 50h")(
      "leave", text_value("HH:MM"), "hour of leaving; else 18:00")(
      "months", text_value("MONTHS"),
      "months to leave in, such as jun-aug, 12-2 or jul; else the three warmest")(
      "line", text_value("LINE"), "not to be crossed: stressed, wilting (default) or dry")(
      "no-rain", "as if no rain fell")("share", text_value("SHARE"),
                                       "of past trips to be survived; else 0.95")(
      "growth", text_value("BY"), "days (default) or degree-days");
  command.option_groups.push_back(own);
  command.option_groups.push_back(planting_options());
  command.option_groups.push_back(pot_options());
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(uncertain_options());
  command.option_groups.push_back(output_options());
  command.run = run_absence;
  return command;
}

}  // namespace wiltline::cli
