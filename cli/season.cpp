// wiltline season: every planting's account over a weather record.

#include "wiltline/questions/season.hpp"

#include <fmt/format.h>

#include <set>

#include "command.hpp"
#include "season_answer.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

RemediesOf find_remedies(const std::vector<Run>& runs, std::vector<PreparedWeather>& weathers,
                         const Catalogue& catalogue, const SeasonOptions& options) {
  RemediesOf remedies_of;
  for (const Run& run : runs) {
    const Planting* const planting = run.result.planting;
    const SeasonSummary& s = run.result.summary;
    if (remedies_of.contains(planting) || (s.wilting_days == 0 && s.dry_days == 0)) continue;
    remedies_of[planting] =
        remedies(*planting, weathers, catalogue.parameters, catalogue, {.growth = options.growth});
  }
  return remedies_of;
}

/// Every planting on every record, in the order given. A planting that no record holds is an error.
std::vector<Run> run_all(const Garden& garden, std::vector<PreparedWeather>& weathers,
                         const Catalogue& catalogue, const SeasonOptions& options,
                         Spreads& spreads) {
  check_planting_days(garden, weathers);
  std::vector<Run> runs;
  std::vector<std::vector<SeasonStart>> starts(weathers.size());
  std::vector<std::vector<std::size_t>> places(weathers.size());  // in runs
  for (const Planting& planting : garden.plantings) {
    for (std::size_t w = 0; w < weathers.size(); ++w) {
      for (const Date planted : planting_dates(planting, weathers[w].record())) {
        starts[w].push_back({&planting, planted});
        places[w].push_back(runs.size());
        runs.push_back({{}, &weathers[w].record()});
      }
    }
  }
  for (std::size_t w = 0; w < weathers.size(); ++w) {
    std::vector<SeasonResult> results =
        run_seasons(starts[w], weathers[w], catalogue.parameters, options);
    for (std::size_t i = 0; i < results.size(); ++i) {
      runs[places[w][i]].result = std::move(results[i]);
    }
    if (!spreads.draws) continue;
    spreads.of_runs.resize(runs.size());
    const auto drawn = season_spreads(starts[w], weathers[w], catalogue, options, *spreads.draws);
    for (std::size_t i = 0; i < drawn.size(); ++i) spreads.of_runs[places[w][i]] = drawn[i];
  }
  return runs;
}

void add_run_notes(const std::vector<Run>& runs, Report& report) {
  std::set<std::string> cut;
  std::set<std::string> small;
  for (const Run& run : runs) {
    if (run.result.summary.cut_by_record) cut.insert(run.result.planting->name);
    if (!run.result.summary.reached_mid_season) small.insert(run.result.planting->name);
  }
  if (!cut.empty()) {
    report.notes.push_back(
        fmt::format("the weather ends before the crop does: {}", fmt::join(cut, ", ")));
  }
  if (!small.empty()) {
    report.notes.push_back(
        fmt::format("never at full size here, so the refill threshold is that of the last days: {}",
                    fmt::join(small, ", ")));
  }
}

void add_absences(const Arguments& arguments, Garden& garden) {
  for (const std::string& text : arguments.texts("away")) {
    const auto absence = parse_absence(text);
    if (!absence) {
      throw RequestError(
          fmt::format("--away: found {}; expected two days in order, such as "
                      "2024-07-08/2024-07-14 or 07-08/07-14",
                      in_quotes(text)));
    }
    for (Planting& planting : garden.plantings) planting.routine.absences.push_back(*absence);
  }
}

void run_season_command(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const SeasonOptions options{.growth = growth_clock(arguments),
                              .ledger = arguments.flag("ledger"),
                              .threads = thread_count(arguments)};
  const bool with_remedies = arguments.flag("remedies");
  if (with_remedies && options.ledger) {
    throw RequestError("found both --ledger and --remedies; expected one of them");
  }
  Spreads spreads{.draws = draw_options(arguments), .of_runs = {}};
  if (spreads.draws && options.ledger) {
    throw RequestError("found both --ledger and --uncertain; expected one of them");
  }
  Output output(arguments.text("output").value_or("-"));
  Report report("season", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const std::vector<WeatherRecord> records = load_weather(arguments, true);
  Garden garden = load_garden(arguments, catalogue);
  add_absences(arguments, garden);

  std::vector<PreparedWeather> weathers = prepared(records, missing);
  const std::vector<Run> runs = run_all(garden, weathers, catalogue, options, spreads);

  const RemediesOf remedies_of =
      with_remedies ? find_remedies(runs, weathers, catalogue, options) : RemediesOf{};
  Layout layout{.weather = records.size() > 1};
  for (const Planting& planting : garden.plantings) {
    layout.year = layout.year || std::holds_alternative<MonthDay>(planting.planted);
  }
  add_weather_notes(weathers, report);
  add_run_notes(runs, report);
  report.add_columns(options.ledger ? ledger_columns() : season_columns());
  if (!options.ledger && layout.year) report.columns.push_back(year_column());
  if (layout.weather) report.columns.push_back(weather_column());
  report.add_columns(options.ledger ? ledger_care_columns() : season_care_columns());
  if (with_remedies) report.add_columns(season_remedy_columns());
  if (spreads.draws) report.add_columns(season_spread_columns());
  if (!options.ledger) report.add_columns(season_settling_columns());
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const Run& run = runs[i];
    if (options.ledger) {
      add_ledger_rows(run, layout, report);
    } else {
      report.rows.push_back(summary_row(run, layout));
      if (with_remedies) add_remedy_cells(run, remedies_of, report.rows.back());
      if (spreads.draws) add_cells(spreads.of_runs[i], report.rows.back());
      add_settling_cells(run.result.summary, report.rows.back());
    }
  }
  deliver(report, how, output, [&] {
    if (!options.ledger) {
      return season_table_text(runs, layout, report, how.us_units) +
             (spreads.draws ? spreads_text(runs, spreads, how.us_units) : "") +
             (with_remedies ? remedies_text(runs, remedies_of) : "");
    }
    std::string text = to_plain_table(report, how.us_units) + '\n';
    for (const std::string& note : report.notes) text += wrapped(printable(note), 100, 2) + '\n';
    return text;
  });
}

}  // namespace

Command season_command() {
  Command command;
  command.name = "season";
  command.purpose = "every pot's account over a weather record: waterings, litres, dry days";
  command.usage = "--garden FILE --weather FILE [options]";
  command.explanation =
      "Runs each planting of a garden day by day from its planting date: rain and watering in, "
      "plant, "
      "surface, wall and drainage out. Says how often each pot had to be watered, how much it drew "
      "at "
      "its peak, and on which days it was short.\n"
      "\n"
      "Garden columns: name, crop, pot, mix, plants, planted, spot, routine; optional count, "
      "volume_l, "
      "height_cm, top_diameter_cm, wall, headspace_cm, mulch, saucer_l, canopy_diameter_m, "
      "canopy_height_m, root_ball_l, threshold_fraction, tare_kg, ends, harvest (leaf: picked leaf "
      "by leaf), "
      "hardened (raised on the dry side), pruned (days it is cut back) (US twins: _gal, _in, _ft, "
      "_lb). "
      "planted is 2024-05-10, or 05-10 for every year of the record. volume_l alone scales the "
      "named "
      "pot to hold that much mix.\n"
      "\n"
      "Routines:\n"
      "  as-needed                    the instant the refill threshold is reached\n"
      "  daily 07:00 19:00            at these hours, until it drains\n"
      "  every 2 days 07:00           counted from planting\n"
      "  mon wed fri 18:30\n"
      "  check daily 07:00            looks, and waters if the pot needs it before the next visit\n"
      "  check top daily 07:00        waters if the top feels dry\n"
      "  … soak                       soaks, waits and soaks again: for mix that sheds water\n"
      "each may end in give 2 l (or gal) and in away 2024-07-08/2024-07-14 (or 07-08/07-14).\n"
      "\n"
      "--remedies tries single changes to each planting that wilted, in this order of effort: "
      "watering "
      "until it drains, mulch, a saucer; a group, afternoon shade, a shade net; another mix, fewer "
      "plants, a plastic wall, the next bigger pots of the kind; daily visits, a second visit.\n"
      "\n"
      "Litres in CSV and JSON are of one pot; count is the number of such pots. Rain falls at "
      "00:00, "
      "which can make a wet day look wet too early.";
  command.examples = {{"a summer in the example garden",
                       "wiltline season --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv "
                       "--from 2022-01-01 --to 2022-12-31"},
                      {"the same, away for a week in July",
                       "wiltline season --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv "
                       "--from 2022-01-01 --to 2022-12-31 --away 07-08/07-15"},
                      {"what would have kept them from wilting",
                       "wiltline season --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv "
                       "--from 2022-01-01 --to 2022-12-31 --remedies"},
                      {"every day of every pot as CSV",
                       "wiltline season --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv "
                       "--ledger --format csv --output ledger.csv"}};
  command.columns = {
      {"Columns of CSV and JSON", season_columns()},
      {"Appended (year where planted repeats, weather where several are given, then)",
       season_care_columns()},
      {"Appended by --remedies", season_remedy_columns()},
      {"Appended by --uncertain", season_spread_columns()},
      {"Appended last", season_settling_columns()},
      {"Columns of --ledger", ledger_columns()},
      {"Appended", ledger_care_columns()}};
  po::options_description own("Season");
  own.add_options()("ledger", "every day of every planting instead of one line each")(
      "remedies", "what would have kept pots from wilting: single changes, each run again")(
      "growth", text_value("BY"), "days (default) or degree-days")(
      "away", texts_value("DAYS"),
      "nobody comes between these days, 07-08/07-15; visits on both days themselves take place");
  add_threads_option(own);
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own);
  command.option_groups.push_back(uncertain_options());
  command.option_groups.push_back(output_options());
  command.run = run_season_command;
  return command;
}

}  // namespace wiltline::cli
