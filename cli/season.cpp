// wiltline season: every planting's account over a weather record.

#include "wiltline/questions/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "notes.hpp"
#include "page/season_page.hpp"
#include "planting_options.hpp"
#include "season_answer.hpp"
#include "season_periods_answer.hpp"
#include "shared_options.hpp"
#include "terminal.hpp"
#include "uncertain.hpp"
#include "weather_options.hpp"
#include "what_matters.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/word_of.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

RemediesOf find_remedies(const std::vector<Run>& runs, const std::vector<Place>& places,
                         const Catalogue& catalogue, const SeasonOptions& options) {
  RemediesOf remedies_of;
  for (const Run& run : runs) {
    const Planting* const planting = run.result.planting;
    const SeasonSummary& s = run.result.summary;
    if (remedies_of.contains(planting) || (s.wilting_days == 0 && s.dry_days == 0)) continue;
    remedies_of[planting] = remedies(*planting, places, catalogue, {.growth = options.growth});
  }
  return remedies_of;
}

/// Every planting on every record, in the order given, and with draws how sure each is. A planting
/// that no record holds is an error. `in_words`: for people, who are told of days left short.
std::vector<Run> run_all(const Garden& garden, const std::vector<Place>& places,
                         const Catalogue& catalogue, const SeasonOptions& options, bool in_words,
                         const std::optional<DrawOptions>& draws,
                         std::vector<SeasonSpread>& spreads) {
  check_planting_days(garden, places);
  std::vector<Run> runs;
  for (std::vector<Summer>& summers : run_summers(garden.plantings, places, options)) {
    for (Summer& summer : summers) {
      const int left_short =
          in_words ? days_left_short(summer.result, summer.place, options.growth) : 0;
      runs.push_back({std::move(summer.result), &summer.place.record(), left_short});
    }
  }
  if (!draws) return runs;
  spreads.resize(runs.size());
  for (const Place& place : places) {
    const auto drawn = season_spreads(season_starts(garden.plantings, place.record()), place,
                                      catalogue, options, *draws);
    auto next = drawn.begin();  // the runs on a record are in the order of its starts
    for (std::size_t i = 0; i < runs.size(); ++i) {
      if (runs[i].record == &place.record()) spreads[i] = *next++;
    }
  }
  return runs;
}

void add_run_notes(const std::vector<Run>& runs, Report& report) {
  std::set<std::string> cut;
  std::set<std::string> small;
  for (const Run& run : runs) {
    if (run.result.summary.ended_by == EndedBy::record) cut.insert(run.result.planting->name);
    if (!run.result.summary.reached_mid_season) small.insert(run.result.planting->name);
  }
  if (!cut.empty()) {
    report.notes.push_back(
        fmt::format("the weather ends before the crop does: {}", fmt::join(cut, "; ")));
  }
  if (!small.empty()) {
    report.notes.push_back(
        fmt::format("not full-grown by the last day here, so \"water once it has used\" is for the "
                    "plant of that day: {}",
                    fmt::join(small, "; ")));
  }
}

/// Each season's water as a strip; of many seasons none.
std::string strips_of(const std::vector<Run>& runs, const std::vector<Place>& places,
                      GrowthClock growth) {
  constexpr std::size_t most = 40;
  if (runs.size() > most) return {};
  std::vector<PotDays> pots;
  for (const Run& run : runs) {
    const auto place =
        std::ranges::find_if(places, [&](const Place& one) { return &one.record() == run.record; });
    SeasonResult again = run_season(*run.result.planting, run.result.first, *place,
                                    {.growth = growth, .ledger = true, .hours = true});
    pots.push_back({run_name(run, runs), std::move(again.ledger)});
  }
  return water_strips(pots, page_width(), colours_wanted());
}

std::optional<PeriodLength> period_option(const Arguments& arguments) {
  const auto text = arguments.text("by");
  if (!text) return std::nullopt;
  return accepted("by", word_of<PeriodLength>(
                            *text, {{"month", PeriodLength::month}, {"week", PeriodLength::week}}));
}

void run_season_command(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const std::optional<PeriodLength> by = period_option(arguments);
  const bool hours = how.page != nullptr && !by;
  const SeasonOptions options{.growth = growth_clock(arguments),
                              .ledger = arguments.flag("ledger") || hours,
                              .hours = hours,
                              .threads = thread_count(arguments)};
  const bool with_remedies = arguments.flag("remedies");
  const std::optional<DrawOptions> draws = draw_options(arguments);
  const auto matters = matters_options(arguments, {"ledger", "by", "remedies"});
  refuse_together(arguments, "ledger", "by");
  for (const char* const days : {"ledger", "by"}) {
    refuse_together(arguments, days, "remedies");
    refuse_together(arguments, days, "uncertain");
  }
  Output output = open_output(arguments);
  Report report("season", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const std::vector<WeatherRecord> records = load_weather(arguments, true);
  Garden garden = load_garden(arguments, catalogue);
  take_time_away(arguments, garden);

  const std::vector<Place> places = places_of(records, catalogue.parameters, missing);
  check_helpers(arguments, garden, places, options.growth);
  if (by) {
    check_planting_days(garden, places);
    std::vector<PeriodRow> rows;
    for (const Place& place : places) {
      for (const SeasonPeriod& period : season_periods(garden.plantings, place, *by, options)) {
        rows.push_back({period, *by, &place.record()});
      }
    }
    add_weather_notes(places, report);
    add_holes_note(garden.plantings, report);
    add_without_effect(garden.plantings, places, options.growth, report);
    report.caution = caution_text("you water");
    report.fill(period_table(places.size() > 1), rows);
    if (how.page) add_periods_picture(rows, report);
    return deliver(report, how, output, [&] {
      return period_table_text(rows, places.size() > 1, report, how.us_units);
    });
  }
  if (matters) {
    check_planting_days(garden, places);
    const MattersResult result =
        season_what_matters(garden.plantings, places, catalogue, options, *matters);
    add_weather_notes(places, report);
    add_holes_note(garden.plantings, report);
    report.caution = caution_text("you water");
    return deliver_what_matters(result, *matters, shown_name, report, how, output);
  }
  std::vector<SeasonSpread> spreads;
  const std::vector<Run> runs = run_all(garden, places, catalogue, options,
                                        how.format == Format::table || how.page, draws, spreads);
  const RemediesOf remedies_of =
      with_remedies ? find_remedies(runs, places, catalogue, options) : RemediesOf{};
  Layout layout{
      .weather = records.size() > 1, .remedies = with_remedies, .spreads = draws.has_value()};
  for (const Planting& planting : garden.plantings) {
    layout.year = layout.year || std::holds_alternative<MonthDay>(planting.planted);
  }
  add_weather_notes(places, report);
  add_run_notes(runs, report);
  add_holes_note(garden.plantings, report);
  add_shade_note(garden.plantings, report);
  add_without_effect(garden.plantings, places, options.growth, report);
  report.caution = caution_text("you water");
  if (how.page) add_season_pictures(runs, how.us_units, report);
  if (arguments.flag("ledger")) {
    std::vector<LedgerRow> lines;
    for (const Run& run : runs) {
      for (const LedgerLine& line : run.result.ledger) lines.push_back({&run, &line});
    }
    report.fill(ledger_table(layout), lines);
    report.key_columns = 2;
    return deliver(report, how, output, [&] {
      return to_plain_table(report, how.us_units) + '\n' + notes_text(report);
    });
  }
  std::vector<SeasonRow> rows;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const auto remedies = remedies_of.find(runs[i].result.planting);
    rows.push_back({&runs[i], remedies == remedies_of.end() ? nullptr : &remedies->second,
                    draws ? &spreads[i] : nullptr});
  }
  report.fill(season_table(layout), rows);
  if (answers_on_terminal(arguments, how)) {
    report.on_terminal = strips_of(runs, places, options.growth);
  }
  deliver(report, how, output, [&] {
    return season_table_text(runs, layout, report, how.us_units) +
           (draws ? spreads_text(rows, *draws, how.us_units) : "") +
           (with_remedies ? remedies_text(runs, remedies_of, how.us_units) : "");
  });
}

}  // namespace

Command season_command() {
  return described("season", run_season_command,
                   sections_of(season_table({.remedies = true, .spreads = true}), ledger_table({}),
                               period_table(false), matters_table()));
}

}  // namespace wiltline::cli
