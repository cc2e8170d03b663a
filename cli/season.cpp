// wiltline season: every planting's account over a weather record.

#include "wiltline/questions/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "command.hpp"
#include "remedies.hpp"
#include "season_cells.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// A season and the record it ran on.
struct Run {
  SeasonResult result;
  const WeatherRecord* record = nullptr;
};

/// How sure the seasons are, one for each; none without --uncertain.
struct Spreads {
  std::optional<DrawOptions> draws;
  std::vector<SeasonSpread> of_runs;
};

/// What would have prevented a planting's wilting; of plantings that wilted or went dry.
using RemediesOf = std::map<const Planting*, std::vector<Remedy>>;

struct Layout {
  bool year = false;     // some planting repeats every year
  bool weather = false;  // several records
};

std::vector<Cell> summary_row(const Run& run, const Layout& layout) {
  const Planting& planting = *run.result.planting;
  std::vector<Cell> row{planting.name, planting.crop.name, planting.pot.name};
  add_summary_cells(run.result.summary, row);
  if (layout.year) row.emplace_back(static_cast<long>(year_of(run.result.first)));
  if (layout.weather) row.emplace_back(run.record->name());
  add_care_cells(run.result.summary, row);
  return row;
}

void add_remedy_cells(const Run& run, const RemediesOf& remedies, std::vector<Cell>& row) {
  const auto found = remedies.find(run.result.planting);
  const auto cell = [](std::string text) { return text.empty() ? Cell() : Cell(std::move(text)); };
  const std::vector<Remedy> none;
  const std::vector<Remedy>& its = found == remedies.end() ? none : found->second;
  row.push_back(cell(first_remedy(its)));
  row.push_back(cell(remedies_in_a_cell(its)));
}

std::string care_text(const CareFlags& care) {
  std::string text;
  const auto add = [&text](bool flag, std::string_view name) {
    if (!flag) return;
    if (!text.empty()) text += '+';
    text += name;
  };
  add(care.feed, "feed");
  add(care.frost, "frost");
  add(care.too_warm, "too-warm");
  add(care.poor_fruit_set, "poor-fruit-set");
  add(care.blossom_end_rot, "blossom-end-rot");
  add(care.hot_roots, "hot-roots");
  add(care.sheds_water, "sheds-water");
  add(care.finger_only, "finger-only");
  add(care.root_only, "root-only");
  return text.empty() ? "-" : text;
}

Cell clock_cell(const std::optional<double>& hours) {
  return hours ? Cell(clock_string(*hours)) : Cell();
}

void add_ledger_rows(const Run& run, const Layout& layout, Report& report) {
  for (const LedgerLine& line : run.result.ledger) {
    std::vector<Cell> row{run.result.planting->name,
                          to_string(line.date),
                          line.et0_mm,
                          line.canopy_m2,
                          line.demand_l,
                          line.transpired_l,
                          line.evaporated_l,
                          line.rain_l,
                          line.watered_l,
                          line.drained_l,
                          line.store_l,
                          line.depletion_l,
                          line.refill_at_l,
                          line.ks,
                          clock_cell(line.stressed_at_h),
                          clock_cell(line.dry_at_h)};
    if (layout.weather) row.emplace_back(run.record->name());
    row.emplace_back(care_text(line.care));
    report.rows.push_back(std::move(row));
  }
}

/// Sentences on what besides the litres stands out, one a kind, naming the plantings and their
/// days.
std::vector<std::string> care_sentences(const std::vector<Run>& runs) {
  struct Kind {
    int CareDays::*days;
    std::string_view sentence;
  };
  static constexpr std::array<Kind, 7> kinds{{
      {&CareDays::frost, "Colder than the crop bears (days)"},
      {&CareDays::too_warm,
       "Weeks above the crop's heat limit, growth or quality falls off (days)"},
      {&CareDays::poor_fruit_set, "Too hot or too cold for flowers to set well (days)"},
      {&CareDays::blossom_end_rot, "So dry while fruit grew that it may rot at its end (days)"},
      {&CareDays::hot_roots, "Dark pot in full sun on hot days, shade its side (days)"},
      {&CareDays::sheds_water,
       "Dried so far that the mix shed water: soak, wait twenty minutes, soak again (days)"},
      {&CareDays::root_only,
       "The finger test would have missed mornings on which the roots were short (days)"},
  }};
  std::vector<std::string> sentences;
  for (const Kind& kind : kinds) {
    // The worst season of each planting stands for it.
    std::vector<std::pair<std::string, int>> worst;
    for (const Run& run : runs) {
      const int days = run.result.summary.care.*kind.days;
      if (days == 0) continue;
      const std::string name = printable(run.result.planting->name);
      const auto known = std::find_if(worst.begin(), worst.end(),
                                      [&](const auto& entry) { return entry.first == name; });
      if (known == worst.end()) {
        worst.emplace_back(name, days);
      } else {
        known->second = std::max(known->second, days);
      }
    }
    if (worst.empty()) continue;
    std::string text = fmt::format("{}: ", kind.sentence);
    for (std::size_t i = 0; i < worst.size(); ++i) {
      text += fmt::format("{}{} {}", i == 0 ? "" : ", ", worst[i].first, worst[i].second);
    }
    sentences.push_back(text + ".");
  }
  return sentences;
}

/// The days all seasons together span.
std::string period_text(const std::vector<Run>& runs) {
  Date first = runs.front().result.first;
  Date last = runs.front().result.last;
  for (const Run& run : runs) {
    first = std::min(first, run.result.first);
    last = std::max(last, run.result.last);
  }
  return fmt::format("{} to {}", to_string(first), to_string(last));
}

std::string table_text(const std::vector<Run>& runs, const Layout& layout, const Report& report,
                       bool us) {
  const std::string litre(unit_text(Quantity::litres, us));
  const auto volume = [us](double value) { return in_units(Quantity::litres, value, us); };
  std::vector<TextTable::Heading> headings{{"\n\nplanting", true},
                                           {"\n\npot", true},
                                           {"usable\nwater,\n" + litre},
                                           {"water\nafter\nlosing"},
                                           {"busiest\nweek,\n" + litre + " a day"},
                                           {"\n\nwatered"},
                                           {"a week\nat\npeak"},
                                           {"days\nstres-\nsed"},
                                           {"days\nwilt-\ning"},
                                           {"\ndays\ndry"},
                                           {"\nfirst\ndry day"},
                                           {"longest\ngap,\ndays"}};
  const bool several_years = [&runs] {
    std::set<int> years;
    for (const Run& run : runs) years.insert(year_of(run.result.first));
    return years.size() > 1;
  }();
  if (several_years) headings.insert(headings.begin() + 1, TextTable::Heading{"\n\nyear"});
  if (layout.weather) headings.push_back({"\n\nweather", true});
  TextTable table(std::move(headings));
  double total_l = 0.0;
  for (const Run& run : runs) {
    const Planting& planting = *run.result.planting;
    const SeasonSummary& s = run.result.summary;
    total_l += s.watered_l * planting.count;
    std::vector<std::string> row{shown_name(planting),
                                 printable(planting.pot.name),
                                 rough(volume(s.available_l)),
                                 rough(volume(s.refill_at_l)),
                                 rough_range(volume(s.peak_use_l_day)),
                                 fmt::format("{}", s.waterings),
                                 rough(s.waterings_week_peak),
                                 count_or_dash(s.stressed_days),
                                 count_or_dash(s.wilting_days),
                                 count_or_dash(s.dry_days),
                                 s.first_dry ? date_in_words(*s.first_dry) : "-",
                                 fmt::format("{:.1f}", s.longest_gap_days)};
    if (several_years) row.insert(row.begin() + 1, fmt::format("{}", year_of(run.result.first)));
    if (layout.weather) row.push_back(printable(run.record->name()));
    table.add(std::move(row));
  }

  std::string out = period_text(runs) + "\n\n" + table.text() + '\n';
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };
  std::set<std::string> dry;
  std::set<std::string> wilting;
  for (const Run& run : runs) {
    const std::string name = printable(run.result.planting->name);
    if (run.result.summary.dry_days > 0)
      dry.insert(name);
    else if (run.result.summary.wilting_days > 0)
      wilting.insert(name);
  }
  for (const std::string& name : dry) wilting.erase(name);
  if (!dry.empty()) say(fmt::format("Went dry: {}.", fmt::join(dry, ", ")));
  if (!wilting.empty())
    say(fmt::format("Wilted but never went dry: {}.", fmt::join(wilting, ", ")));
  if (dry.empty() && wilting.empty()) say("No pot wilted or went dry.");
  say(fmt::format("All pots together were given about {} {}.", rough(volume(total_l)), litre));
  for (const std::string& sentence : care_sentences(runs)) say(sentence);
  say("Soluble feed: every 7 to 14 days from about three weeks after planting, less often for "
      "small "
      "plants; the label comes first.");
  out += '\n';
  say("Stressed: growth slows. Wilting: leaves droop by day and usually recover. Dry: roots cannot "
      "draw "
      "enough, expect damage. A day counts if it got there at any hour.");
  say("Amounts are for one pot of each row. Water after losing: the refill threshold at full size. "
      "Use in the busiest week is a range because plant size, shelter and mix vary; weigh a pot to "
      "narrow it.");
  for (const std::string& note : report.notes) say(printable(note));
  say("These are estimates: check the mix by hand before you water, and follow local water rules.");
  return out;
}

/// The plantings of the table that were short, each with its remedies.
std::string remedies_text(const std::vector<Run>& runs, const RemediesOf& remedies) {
  std::string out = "\nSingle changes, each run again over the same weather, the smallest first:\n";
  std::set<const Planting*> said;
  for (const Run& run : runs) {
    const auto found = remedies.find(run.result.planting);
    if (found == remedies.end() || !said.insert(found->first).second) continue;
    say_remedies(printable(found->first->name), found->second,
                 [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; });
  }
  if (said.empty()) out += "No pot wilted, so none needs one.\n";
  return out;
}

/// A planting's worst season by wilting days stands for it.
std::string spreads_text(const std::vector<Run>& runs, const Spreads& spreads, bool us) {
  std::string out = '\n' + wrapped(draws_text(*spreads.draws), 100, 2) + '\n';
  std::map<const Planting*, std::size_t> worst;
  std::vector<const Planting*> order;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const auto [entry, is_new] = worst.emplace(runs[i].result.planting, i);
    if (is_new) order.push_back(runs[i].result.planting);
    const auto key = [&](std::size_t run) {
      const SeasonSpread& spread = spreads.of_runs[run];
      return std::tuple(spread.wilting_days.p90, spread.watered_l.p90);
    };
    if (key(i) > key(entry->second)) entry->second = i;
  }
  const bool several = runs.size() > order.size();
  for (const Planting* planting : order) {
    const std::size_t run = worst.at(planting);
    const std::string season =
        several ? fmt::format(" in {}", year_of(runs[run].result.first)) : "";
    out += wrapped(fmt::format("  {}{}: {}.", printable(planting->name), season,
                               spread_text(spreads.of_runs[run], *spreads.draws, us)),
                   100, 4) +
           '\n';
  }
  return out;
}

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

  std::vector<PreparedWeather> weathers;
  for (const WeatherRecord& record : records) weathers.emplace_back(record, missing);
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
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const Run& run = runs[i];
    if (options.ledger) {
      add_ledger_rows(run, layout, report);
    } else {
      report.rows.push_back(summary_row(run, layout));
      if (with_remedies) add_remedy_cells(run, remedies_of, report.rows.back());
      if (spreads.draws) add_cells(spreads.of_runs[i], report.rows.back());
    }
  }
  deliver(report, how, output, [&] {
    if (!options.ledger) {
      return table_text(runs, layout, report, how.us_units) +
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
