// wiltline absence: the smallest pot that keeps a crop watered while nobody is there.

#include "wiltline/questions/absence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>

#include "absence_answer.hpp"
#include "absence_options.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "last_days.hpp"
#include "notes.hpp"
#include "page/page.hpp"
#include "planting_options.hpp"
#include "progress.hpp"
#include "refuse.hpp"
#include "uncertain.hpp"
#include "weather_options.hpp"
#include "what_matters.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/candidates.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int fewest_summers = 3;  // fewer say little of a share

/// Asks again, for draws, about the pots that get a row: all together, so that a draw's places are
/// worked out once.
void add_spreads(std::vector<AbsenceAnswer>& all, const std::vector<Place>& places,
                 const Catalogue& catalogue, const AbsenceOptions& options,
                 const DrawOptions& draws) {
  std::vector<Planting> shown;
  for (const AbsenceAnswer& asked : all) {
    for (const std::size_t i : asked.shown) shown.push_back(asked.candidates[i]);
  }
  const auto spreads = absence_spreads(shown, places, catalogue, options, draws);
  auto next = spreads.begin();
  for (AbsenceAnswer& asked : all) {
    const auto end = next + static_cast<std::ptrdiff_t>(asked.shown.size());
    asked.spreads.assign(next, end);
    next = end;
  }
}

/// One planting's candidates, run. `own`: of a garden.
AbsenceAnswer ask(const Arguments& arguments, const Planting& planting, bool own,
                  const std::vector<Pot>& pots, const std::vector<Place>& places,
                  const AbsenceOptions& options) {
  AbsenceAnswer asked;
  asked.own = own ? &planting : nullptr;
  asked.candidates = own ? own_and_other_pots(planting, pots, places.front().model())
                         : in_pots(planting, pots, places.front().model());
  if (asked.candidates.empty()) {
    refuse(
        "--mix: found {}, which holds no water that plants can use in any of the pots; expected a "
        "mix that holds water",
        in_quotes(planting.mix.name));
  }
  keep_roomy(arguments, asked.candidates);
  asked.result = absence(asked.candidates, places, options);
  for (std::size_t i = 0; i < asked.result.pots.size(); ++i) {
    // Of a garden's planting: its own pot and the smallest that passes.
    if (!own || i == 0 || asked.result.smallest == i) asked.shown.push_back(i);
  }
  return asked;
}

/// An absence longer than every record.
void check_length(const std::vector<WeatherRecord>& records, const Arguments& arguments,
                  const AbsenceOptions& options) {
  const auto longest = std::ranges::max_element(records, {}, &WeatherRecord::size);
  if (options.leave_h + options.away_h <= 24.0 * static_cast<double>(longest->size())) return;
  const char* const trip = options.start_day ? "on" : "days";
  refuse("--{}: found {}, longer than the {} days of {}; expected an absence that fits in", trip,
         in_quotes(*arguments.text(trip)), longest->size(), longest->name());
}

/// No window at all: the months hold no day of the planting, or the absence is too long for it.
[[noreturn]] void refuse_trip(const AbsenceAnswer& asked, const std::vector<Place>& places,
                              const AbsenceOptions& options) {
  const Planting& planting = asked.candidates.front();
  const std::string name = in_quotes(planting.name);
  AbsenceOptions shortest = options;
  shortest.leave_h = 0.0;
  shortest.away_h = 1.0;
  const auto any_trip = [&] {
    return absence(planting, places, shortest).pots.front().windows > 0;
  };
  if (any_trip()) {
    refuse("--{}: found {} from {}, beyond the weather or the life of {}; expected fewer",
           options.start_day ? "on" : "days", away_text(options.away_h), months_text(options),
           name);
  }
  if (options.start_day) {
    refuse("--on: found {} from {}, when {} does not grow or has not settled in; expected others",
           away_text(options.away_h), months_text(options), name);
  }
  std::vector<std::string_view> months;
  for (unsigned month = 1; month <= 12; ++month) {
    shortest.first_month = shortest.last_month = month;
    if (any_trip()) months.push_back(month_name(month));
  }
  refuse(
      "--months: found {}, when {}, planted {}, does not grow in this weather; expected {}",
      months_text(options), name, planted_in_words(planting.planted),
      months.empty() ? "other weather, or --planted" : fmt::format("{}", fmt::join(months, ", ")));
}

void refuse_without_windows(const std::vector<AbsenceAnswer>& all, const std::vector<Place>& places,
                            const AbsenceOptions& options, Report& report) {
  std::vector<std::string> without;
  for (const AbsenceAnswer& asked : all) {
    if (asked.windows() == 0) without.push_back(asked.candidates.front().name);
  }
  if (without.size() == all.size()) refuse_trip(all.front(), places, options);
  if (!without.empty()) {
    report.notes.push_back(
        fmt::format("not growing on any such trip: {}", fmt::join(without, "; ")));
  }
}

void add_summers_note(const std::vector<AbsenceAnswer>& all, Report& report) {
  int fewest = all.front().summers();
  for (const AbsenceAnswer& asked : all) {
    if (asked.windows() > 0) fewest = std::min(fewest, asked.summers());
  }
  if (fewest == 0 || fewest >= fewest_summers) return;
  report.notes.push_back(fmt::format("only {} of weather: give several, or the share says little",
                                     counted(fewest, "summer")));
}

void add_life_note(const std::vector<AbsenceAnswer>& all, Report& report) {
  std::vector<LastDay> ends;
  for (const AbsenceAnswer& asked : all) {
    const AbsencePot& pot = asked.result.pots.front();
    for (const PlantingDays& life : pot.lives) {
      ends.push_back({pot.planting->name, life.planted, life.last, life.ended_by});
    }
  }
  if (!ends.empty()) report.notes.push_back(last_days_text(ends, all.size() > 1));
}

/// The share of trips of the own pots of a garden; else of the smallest pot that would do or, if
/// none would, of the one that survived most.
void tell_what_matters(const std::vector<AbsenceAnswer>& all, const std::vector<Place>& places,
                       const Catalogue& catalogue, const AbsenceOptions& options,
                       const MattersOptions& matters, Report& report, const Presentation& how,
                       Output& output) {
  const bool of_garden = all.front().own != nullptr;
  std::vector<Planting> asked_of;
  for (const AbsenceAnswer& asked : all) {
    if (asked.windows() == 0) continue;
    const std::vector<AbsencePot>& pots = asked.result.pots;
    const auto most = std::ranges::max_element(pots, {}, &AbsencePot::share);
    const auto pot = asked.result.smallest.value_or(static_cast<std::size_t>(most - pots.begin()));
    asked_of.push_back(asked.candidates[of_garden ? 0 : pot]);
  }
  const MattersResult result = absence_what_matters(asked_of, places, catalogue, options, matters);
  if (!of_garden) {
    report.notes.emplace_back(
        "asked of the smallest pot that would do or, if none would, of the one that survived most");
  }
  add_holes_note(asked_of, report);
  add_weather_notes(places, report);
  report.caution = caution_text("you leave");
  deliver_what_matters(
      result, matters,
      [&](const Planting& one) { return of_garden ? shown_name(one) : printable(one.pot.name); },
      report, how, output);
}

void run_absence(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  AbsenceOptions options = absence_options(arguments);
  const std::optional<DrawOptions> draws = draw_options(arguments);
  const auto matters = matters_options(arguments);
  for (const char* option : {"crop", "mix", "spot", "plants", "planted"}) {
    refuse_together(arguments, "garden", option);
  }
  Output output = open_output(arguments);
  Report report("absence", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const std::vector<Pot> pots = pots_from_options(arguments, catalogue);
  const std::vector<WeatherRecord> records = load_weather(arguments, options.rain_counts);
  const bool of_garden = arguments.flag("garden");
  Garden garden;
  if (of_garden) {
    garden = load_garden(arguments, catalogue);
  } else {
    const bool south = records.front().site().latitude_deg < 0.0;
    garden.plantings.push_back(planting_from_options(arguments, catalogue, south));
  }
  check_length(records, arguments, options);
  const std::vector<Place> places = places_of(records, catalogue.parameters, missing);
  if (!arguments.text("months")) {
    const Months warmest = warmest_months(places);
    options.first_month = warmest.first;
    options.last_month = warmest.last;
  }
  if (of_garden) {
    check_planting_days(garden, places);
  } else {
    check_planted(garden.plantings.front(), places);
  }

  std::vector<AbsenceAnswer> all(garden.plantings.size());
  Progress progress(std::chrono::seconds(1));
  std::mutex showing;
  std::size_t begun = 0;
  run_tasks(all.size(), 0, [&](std::size_t i) {
    {
      const std::lock_guard lock(showing);
      progress.show(fmt::format("planting {} of {}", ++begun, all.size()));
    }
    const Planting& planting = garden.plantings[i];
    all[i] = ask(arguments, planting, of_garden, pots, places, options);
    if (of_garden && !matters && (how.format == Format::table || how.page)) {
      all[i].remedies =
          absence_remedies(planting, places, catalogue, options, {.growth = options.growth});
    }
  });
  progress.show("what a helper would have to do");
  refuse_without_windows(all, places, options, report);
  if (matters) {
    progress.clear();
    return tell_what_matters(all, places, catalogue, options, *matters, report, how, output);
  }
  std::optional<TripHelp> help;
  if (of_garden && options.helper.visits.empty()) {
    help = trip_help(garden.plantings, places, catalogue, options);
    for (std::size_t i = 0; i < all.size(); ++i) all[i].help = help->pots[i];
  }
  if (draws) add_spreads(all, places, catalogue, options, *draws);
  progress.clear();
  add_summers_note(all, report);
  if (of_garden) {
    if (auto note = saucers_note(garden.plantings)) report.notes.push_back(*std::move(note));
  }
  std::vector<Planting> shown;
  for (const AbsenceAnswer& asked : all) {
    for (const std::size_t i : asked.shown) shown.push_back(asked.candidates[i]);
  }
  add_holes_note(shown, report);
  add_life_note(all, report);
  add_weather_notes(places, report);
  report.caution = caution_text("you leave");
  fill(all, draws.has_value(), report);
  if (how.page) {
    report.title = "While nobody waters";
    report.answer = answer_sentence(all, options);
    add_ranges(report,
               {"Past trips that each pot survived",
                fmt::format("The share of past trips on which the pot never went beyond the line, "
                            "highest first{}.",
                            draws ? "; bar: 8 in 10 of the draws" : "")},
               {.label = {"name", "pot"},
                .value = "share",
                .low = "share_p10",
                .high = "share_p90",
                .words = {{"; trips: ", "passed"}, {" of ", "windows"}}},
               how.us_units);
  }
  deliver(report, how, output, [&] {
    return (of_garden ? garden_text(all, options, how.us_units)
                      : one_crop_text(all.front(), options, how.us_units)) +
           (help ? help_text(*help, options) : "") +
           (draws ? spreads_text(all, options, *draws) : "") +
           closing(options, report, how.us_units);
  });
}

}  // namespace

Command absence_command() {
  return described("absence", run_absence, sections_of(absence_table(true), matters_table()));
}

}  // namespace wiltline::cli
