// The questions, and what each answer's columns are. Names are those of the program's CSV where it
// has the same column.
#include <map>
#include <string>
#include <utility>

#include "columns.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/word_of.hpp"
#include "wiltline/tables/absence_columns.hpp"
#include "wiltline/tables/capacity_columns.hpp"
#include "wiltline/tables/choice_columns.hpp"
#include "wiltline/tables/forecast_columns.hpp"
#include "wiltline/tables/heatwave_columns.hpp"
#include "wiltline/tables/reference_columns.hpp"
#include "wiltline/tables/season_columns.hpp"

namespace wiltline::python {
namespace {

using namespace py::literals;

namespace of_planting = tables::of_planting;

/// What an argument's text says.
template <typename Value>
Value accepted(const char* argument, Result<Value> read) {
  if (!read) throw RequestError(std::string(argument) + ": " + read.fault().text());
  return *std::move(read);
}

GrowthClock growth_from(const std::string& text) {
  return accepted("growth",
                  word_of<GrowthClock>(text, {{"days", GrowthClock::stage_days},
                                              {"degree-days", GrowthClock::degree_days}}));
}

std::vector<std::string> names_of(const std::vector<const Planting*>& plantings) {
  std::vector<std::string> names;
  for (const Planting* planting : plantings) names.push_back(planting->name);
  return names;
}

// ---- et0

struct ReferenceRow {
  Date date;
  const ReferenceDay* day;
};

Table<ReferenceRow> et0_table() {
  Table<ReferenceRow> table;
  table.add({{"date", "day", [](auto& row) { return row.date; }}});
  table.add(tables::reference_columns, &ReferenceRow::day);
  table.add(tables::reference_step_columns, &ReferenceRow::day);
  return table;
}

py::dict ask_et0(const WeatherRecord& weather, double dew_point_offset_c,
                 double range_coefficient) {
  const std::vector<ReferenceDay> days =
      reference_days(weather, {.dew_point_offset_c = dew_point_offset_c,
                               .range_coefficient = range_coefficient,
                               .unknown_rain_is_none = false});
  std::vector<ReferenceRow> rows;
  for (std::size_t i = 0; i < days.size(); ++i) rows.push_back({weather.date(i), &days[i]});
  return columns(et0_table(), rows);
}

// ---- season

Table<SeasonResult> season_table() {
  Table<SeasonResult> table;
  table.add({of_planting::name, of_planting::crop, of_planting::pot, of_planting::mix,
             of_planting::spot, of_planting::plants},
            &SeasonResult::planting);
  table.add({{"planted", "day of planting", [](auto& season) { return season.first; }},
             {"days", "days of the account", [](auto& season) { return season.summary.days; }}});
  table.add(tables::summary_columns, &SeasonResult::summary);
  table.add(tables::care_columns, &SeasonResult::summary);
  table.add(tables::end_columns);
  table.add(tables::settling_columns, &SeasonResult::summary);
  return table;
}

Table<LedgerLine> ledger_table() {
  Table<LedgerLine> table;
  table.add(tables::ledger_columns);
  table.add(tables::ledger_care_columns, &LedgerLine::care);
  table.add({{"waterings", "times watered", [](auto& line) { return line.waterings; }},
             {"stressed_at_h", tables::hours, 2, "stressed_at as a number",
              [](auto& line) { return line.stressed_at_h; }},
             {"wilting_at_h", tables::hours, 2, "clock hour at which leaves droop",
              [](auto& line) { return line.wilting_at_h; }},
             {"dry_at_h", tables::hours, 2, "dry_at as a number",
              [](auto& line) { return line.dry_at_h; }},
             {"settled", "roots hold half of the mix", [](auto& line) { return line.settled; }},
             {"feed", "soluble feed is due", [](auto& line) { return line.care.feed > 0; }}});
  return table;
}

SeasonOptions season_options(const std::string& growth, std::size_t threads, bool ledger = false) {
  SeasonOptions options;
  options.growth = growth_from(growth);
  options.threads = threads;
  options.ledger = ledger;
  return options;
}

py::dict ask_season(const Garden& garden, const Place& place, bool ledger,
                    const std::string& growth, std::size_t threads) {
  const SeasonOptions options = season_options(growth, threads, ledger);
  const auto seasons = unlocked([&] { return season(garden.plantings, place, options); });
  py::dict answer = columns(season_table(), seasons);
  if (ledger) {
    py::list ledgers;
    for (const SeasonResult& one : seasons) ledgers.append(columns(ledger_table(), one.ledger));
    answer["ledger"] = ledgers;
  }
  return answer;
}

// ---- compare, choose

Table<ComparedChoice> compare_table() {
  Table<ComparedChoice> table;
  table.add({of_planting::name, of_planting::crop, of_planting::plants, of_planting::pot,
             of_planting::mix, of_planting::wall, of_planting::spot},
            &ComparedChoice::planting);
  table.add(tables::choice_columns);
  table.add(tables::choice_more_columns);
  table.add(tables::choice_end_columns);
  table.add(tables::choice_settling_columns);
  return table;
}

py::dict ask_compare(const Garden& garden, const py::object& places, const std::string& growth,
                     std::size_t threads) {
  const std::vector<Place> where = places_from(places);
  const SeasonOptions options = season_options(growth, threads);
  return columns(compare_table(),
                 unlocked([&] { return compare(garden.plantings, where, options); }));
}

py::dict ask_choose(const Garden& candidates, const Place& place, double share,
                    const std::string& growth, std::size_t threads) {
  const SeasonOptions options = season_options(growth, threads);
  const auto cells = unlocked([&] { return choose(candidates.plantings, place, share, options); });
  std::vector<ComparedChoice> choices;
  for (const ChosenPot& cell : cells) choices.push_back(cell.choice);
  py::dict answer = columns(compare_table(), choices);
  const auto add = [&](const char* name, const auto& of_cell) {
    answer[name] = column_of(cells.size(), [&](std::size_t i) { return of_cell(cells[i]); });
  };
  add("enough", [](const ChosenPot& cell) { return cell.enough; });
  add("share", [](const ChosenPot& cell) { return cell.share(); });
  add("tried", [](const ChosenPot& cell) { return cell.tried; });
  return answer;
}

// ---- heatwave

Table<HeatwavePot> heatwave_table() {
  Table<HeatwavePot> table;
  table.add({of_planting::name, of_planting::crop, of_planting::plants, of_planting::pot,
             of_planting::mix, of_planting::wall, of_planting::spot},
            &HeatwavePot::planting);
  table.add(tables::heatwave_columns);
  table.add(tables::heatwave_more_columns);
  table.add({{"refill_at_h", tables::hours, 2, "refill_at as a number",
              [](auto& pot) { return pot.refill_at_h; }}});
  return table;
}

py::dict ask_heatwave(const Garden& garden, const Place& place, int days,
                      const py::object& first_day, const std::string& by, double warmer_c,
                      bool full_grown, const std::string& growth) {
  const Heat heat = accepted("by", word_of<Heat>(by, {{"tmax", Heat::tmax}, {"et0", Heat::et0}}));
  HeatwaveOptions options;
  options.growth = growth_from(growth);
  options.full_grown = full_grown;
  const Place where = warmer_c == 0.0 ? place
                                      : Place(warmer(place.record(), warmer_c, place.missing()),
                                              place.model(), place.missing());
  const std::optional<HotSpell> spell =
      first_day.is_none()
          ? hottest_spell(where, days, heat, grown_through(garden.plantings, where, options))
          : spell_from(where, date_from(first_day), days);
  if (!spell) throw RequestError("found no such spell in " + place.record().name());
  const HeatwaveResult result =
      unlocked([&] { return heatwave(garden.plantings, where, *spell, options); });
  py::dict answer = columns(heatwave_table(), result.pots);
  answer["spell"] =
      py::dict("first_day"_a = column_of(1, [&](std::size_t) { return spell->first; })[py::int_(0)],
               "days"_a = spell->days, "mean_tmax_c"_a = spell->mean_tmax_c,
               "mean_et0_mm"_a = spell->mean_et0_mm);
  answer["absent"] = names_of(result.absent);
  return answer;
}

// ---- absence

Table<AbsencePot> absence_table() {
  Table<AbsencePot> table;
  table.add({of_planting::name, of_planting::crop, of_planting::pot, of_planting::mix,
             of_planting::plants, of_planting::spot},
            &AbsencePot::planting);
  table.add(tables::absence_columns);
  table.add(tables::absence_more_columns);
  return table;
}

py::dict ask_absence(const Garden& candidates, const py::object& places, double away_h,
                     double leave_h, const std::optional<std::pair<unsigned, unsigned>>& months,
                     const std::string& line, bool rain_counts, double share,
                     const std::string& growth) {
  const std::vector<Place> where = places_from(places);
  AbsenceOptions options;
  options.away_h = away_h;
  options.leave_h = leave_h;
  const Months when = months ? Months{months->first, months->second} : warmest_months(where);
  options.first_month = when.first;
  options.last_month = when.last;
  options.line = accepted("line", word_of<Line>(line, {{"stressed", Line::stressed},
                                                       {"wilting", Line::wilting},
                                                       {"dry", Line::dry}}));
  options.rain_counts = rain_counts;
  options.share = share;
  options.growth = growth_from(growth);
  const AbsenceResult result =
      unlocked([&] { return absence(candidates.plantings, where, options); });
  py::dict answer = columns(absence_table(), result.pots);
  py::list failed;
  for (const AbsencePot& pot : result.pots) {
    failed.append(column_of(pot.failed.size(), [&](std::size_t i) { return pot.failed[i]; }));
  }
  answer["failed"] = failed;
  answer["smallest"] = result.smallest;
  answer["months"] = py::make_tuple(when.first, when.last);
  return answer;
}

// ---- forecast, plan

Table<PlantingForecast> forecast_table() {
  Table<PlantingForecast> table;
  table.add({of_planting::name, of_planting::pot}, &PlantingForecast::planting);
  table.add(tables::forecast_columns);
  table.add(tables::forecast_unsure_columns);
  table.add(tables::forecast_visit_columns);
  return table;
}

Table<PlannedWatering> plan_table() {
  Table<PlannedWatering> table;
  table.add(tables::plan_visit_columns);
  table.add({of_planting::name, of_planting::pot}, &PlannedWatering::planting);
  table.add(tables::plan_columns);
  table.add({{"wilts", "when it does; empty if not", [](auto& one) { return one.wilts; }},
             {"sheds", "so dry that water runs through: soak, wait, soak again",
              [](auto& one) { return one.sheds; }}});
  return table;
}

/// When, which planting, litres (None: until it drained).
using Log = std::vector<std::tuple<py::object, std::string, std::optional<double>>>;

/// What somebody gave, as a watering log would have it, so that there is one reader and one set of
/// checks; of each planting the waterings since it was planted.
std::vector<ForecastPlanting> with_log(const Garden& garden, const Place& place, const Log& log,
                                       const ForecastOptions& options) {
  std::string text = "when,name,given_l\n";
  for (const auto& [when, name, litres] : log) {
    text += to_string(instant_from(when)) + ',' + csv_quoted(name) + ',' +
            (litres ? shortest(*litres) : "") + '\n';
  }
  std::map<std::string, std::vector<PotEvent>> events;
  for (const LogEntry& entry :
       read_watering_log({.name = "log", .bytes = text}, garden.plantings, options.now)) {
    events[entry.name].push_back(entry.event);
  }
  std::vector<ForecastPlanting> plantings;
  for (const Planting& planting : garden.plantings) {
    ForecastPlanting one{.planting = &planting, .log = {}, .saved = {}};
    if (const auto planted =
            growing_since(planting, options.now.date, place.record().first(), options.growth)) {
      one.log = merge_log(events[planting.name], *planted, {}).log;
    }
    plantings.push_back(std::move(one));
  }
  return plantings;
}

void add_common(py::dict& answer, const ForecastResult& result, const ForecastOptions& options) {
  answer["now"] = to_string(options.now);
  answer["last_day"] = to_string(result.last_day);
  answer["pooled_years"] = result.pooled_years;
  answer["not_growing"] = names_of(result.not_growing);
}

py::dict ask_forecast(const std::vector<ForecastPlanting>& plantings, const Place& place,
                      const Catalogue& catalogue, const ForecastOptions& options) {
  const ForecastResult result =
      unlocked([&] { return forecast(plantings, place, catalogue, options); });
  py::dict answer = columns(forecast_table(), result.pots);
  add_common(answer, result, options);
  return answer;
}

py::dict ask_plan(const std::vector<ForecastPlanting>& plantings, const Place& place,
                  const Catalogue& catalogue, const ForecastOptions& options) {
  const PlanResult result = unlocked([&] { return plan(plantings, place, catalogue, options); });
  py::dict answer = columns(plan_table(), result.waterings);
  add_common(answer, result.forecast, options);
  py::list warnings;
  for (const WeatherWarning& warning : result.warnings) {
    warnings.append(py::dict("date"_a = to_string(warning.date), "frost"_a = warning.frost,
                             "temperature_c"_a = warning.temperature_c,
                             "names"_a = names_of(warning.plantings)));
  }
  answer["warnings"] = warnings;
  return answer;
}

// ---- remedies

struct RemedyRow {
  const Planting* planting;
  const Remedy* remedy;
};

Table<RemedyRow> remedy_table() {
  Table<RemedyRow> table;
  table.add({of_planting::name}, &RemedyRow::planting);
  table.add(
      {{"change", "what would help", [](auto& row) { return row.remedy->change.text; }},
       {"suffices", "no wilting or dry day is left",
        [](auto& row) { return row.remedy->suffices(); }},
       {"wilting_days_before", "of all seasons",
        [](auto& row) { return row.remedy->before.wilting; }},
       {"wilting_days_after", "with the change",
        [](auto& row) { return row.remedy->after.wilting; }},
       {"dry_days_before", "of all seasons", [](auto& row) { return row.remedy->before.dry; }},
       {"dry_days_after", "with the change", [](auto& row) { return row.remedy->after.dry; }}});
  return table;
}

py::dict ask_remedies(const Garden& garden, const py::object& places, const Catalogue& catalogue,
                      const std::string& growth) {
  const std::vector<Place> where = places_from(places);
  RemedyOptions options;
  options.growth = growth_from(growth);
  const auto found =
      unlocked([&] { return remedies(garden.plantings, where, catalogue, options); });
  std::vector<RemedyRow> rows;
  for (const PlantingRemedies& one : found) {
    for (const Remedy& remedy : one.remedies) rows.push_back({one.planting, &remedy});
  }
  return columns(remedy_table(), rows);
}

// ---- capacity

Table<CapacityResult> capacity_table() {
  Table<CapacityResult> table;
  table.add(tables::capacity_columns);
  return table;
}

py::dict ask_capacity(const Garden& garden, const Catalogue& catalogue) {
  const std::vector<CapacityResult> pots = capacity(garden.plantings, catalogue);
  py::dict answer = columns(capacity_table(), pots);
  py::list buy;
  for (const CapacityResult& pot : pots) {
    py::dict litres;
    for (const ComponentLitres& one : pot.buy) litres[py::str(one.component)] = one.litres;
    buy.append(litres);
  }
  answer["buy_l"] = buy;
  return answer;
}

// ---- sweep

template <typename Value>
std::vector<Value> known(const std::vector<std::string>& names, const NamedTable<Value>& table,
                         const char* what) {
  std::vector<Value> values;
  for (const std::string& name : names) {
    const Value* const value = table.find(name);
    if (value == nullptr) {
      throw RequestError(std::string(what) + ": found " + in_quotes(name) +
                         "; expected a name of the catalogue");
    }
    values.push_back(*value);
  }
  return values;
}

py::dict ask_sweep(const py::object& places, const Catalogue& catalogue,
                   const std::vector<std::string>& crops, const std::vector<std::string>& pots,
                   const std::vector<std::string>& mixes, const std::vector<std::string>& spots,
                   const std::string& routine, const std::vector<std::optional<int>>& plants,
                   std::size_t draws, std::uint64_t seed, std::size_t threads) {
  const std::vector<Place> where = places_from(places);
  Routine visits = accepted("routine", parse_routine(routine));
  SweepAxes axes{.crops = known(crops, catalogue.crops, "crops"),
                 .spots = known(spots, catalogue.spots, "spots"),
                 .pots = known(pots, catalogue.pots, "pots"),
                 .mixes = {},
                 .plants = plants,
                 .planted = {},
                 .routine = std::move(visits),
                 .draws = draws,
                 .seed = seed};
  for (const std::string& name : mixes) {
    axes.mixes.push_back(accepted("mixes", catalogue.mix(name)));
  }
  const SweepPlan plan(std::move(axes), where.size(), catalogue.parameters);
  const SeasonOptions options = season_options("days", threads);
  std::vector<SweepSeasons> blocks;
  std::vector<SeasonResult> seasons;
  std::vector<std::pair<std::size_t, std::size_t>> from;  // record and draw
  unlocked([&] {
    std::optional<Place> drawn;
    for (std::size_t b = 0; b < plan.blocks(); ++b) {
      const SweepBlock block = plan.block(b);
      blocks.push_back(run_block(plan, block, where[block.record], catalogue, options, &drawn));
      for (const SeasonResult& one : blocks.back().seasons()) {
        seasons.push_back(one);
        from.emplace_back(block.record, block.draw);
      }
    }
  });
  py::dict answer = columns(season_table(), seasons);
  answer["weather"] =
      column_of(from.size(), [&](std::size_t i) { return where[from[i].first].record().name(); });
  answer["draw"] = column_of(from.size(), [&](std::size_t i) { return from[i].second; });
  return answer;
}

/// Adds a question: what it says of itself ends in a line for each column.
template <typename Ask, typename... Given>
void add(py::module_& module, const char* name, const Ask& ask, const std::string& says,
         const std::vector<tables::ColumnHead>& heads, const Given&... arguments) {
  module.def(name, ask, documented(says, heads).c_str(), arguments...);
}

/// Adds a question on the coming days, which `ask` answers.
template <typename Ask>
void add_coming_days(py::module_& module, const char* name, int usual_days, const Ask& ask,
                     const std::string& says, const std::vector<tables::ColumnHead>& heads) {
  const auto asked = [ask](const Garden& garden, const Place& place, const Catalogue& catalogue,
                           const py::object& now, int days, std::size_t members, bool uncertain,
                           std::uint64_t seed, const py::object& observed_last, const Log& log,
                           const std::string& growth) {
    ForecastOptions options = at_end_of(place.record());
    if (!now.is_none()) options.now = instant_from(now);
    if (!observed_last.is_none()) options.observed_last = date_from(observed_last);
    options.horizon_days = days;
    options.members = members;
    options.uncertain = uncertain;
    options.seed = seed;
    options.growth = growth_from(growth);
    return ask(with_log(garden, place, log, options), place, catalogue, options);
  };
  add(module, name, asked,
      says +
          " now: '2024-07-15T09:00', None: when the record ends. days: how far to look. members: "
          "courses of the weather to come; uncertain: plant, mix, spot and model drawn from their "
          "ranges too. observed_last: last day observed, where the record goes on with a "
          "forecast. log: (when, name, litres or None: until it drained), complete from a "
          "planting's first on. seed: of all that is drawn. growth: days or degree-days. "
          "Columns:",
      heads, "garden"_a, "place"_a, "catalogue"_a, py::kw_only(), "now"_a = py::none(),
      "days"_a = usual_days, "members"_a = 200, "uncertain"_a = false, "seed"_a = 1,
      "observed_last"_a = py::none(), "log"_a = Log{}, "growth"_a = "days");
}

}  // namespace

void add_questions(py::module_& module) {
  const std::string clock = " growth: days or degree-days.";
  const std::string growth = clock + " threads: 0, one for each core.";
  add(module, "et0", ask_et0,
      "Reference evapotranspiration of each day. dew_point_offset_c, range_coefficient: as of "
      "Place. Columns:",
      et0_table().heads(), "weather"_a, py::kw_only(), "dew_point_offset_c"_a = 0.0,
      "range_coefficient"_a = 0.16);
  add(module, "season", ask_season,
      documented("Every season of every planting over the weather of a place." + growth +
                     " With ledger=True also `ledger`, of each season a dictionary of daily "
                     "columns:",
                 ledger_table().heads()) +
          "\n\nColumns:",
      season_table().heads(), "garden"_a, "place"_a, py::kw_only(), "ledger"_a = false,
      "growth"_a = "days", "threads"_a = 0);
  add(module, "compare", ask_compare,
      "Plantings side by side over all summers of one or several places, the best first." + growth +
          " Columns:",
      compare_table().heads(), "garden"_a, "places"_a, py::kw_only(), "growth"_a = "days",
      "threads"_a = 0);
  add(module, "choose", ask_choose,
      "The least mix that was enough in a share of past summers, for each name among candidates "
      "such as Garden.in_pots() makes; where none was, the nearest." +
          growth +
          " Columns: enough; share of the summers without a wilting day; tried (pots); and those "
          "of compare:",
      compare_table().heads(), "candidates"_a, "place"_a, py::kw_only(), "share"_a = 0.95,
      "growth"_a = "days", "threads"_a = 0);
  add(module, "heatwave", ask_heatwave,
      "How often each pot must be watered in the hottest days (by tmax or et0), or from first_day "
      "on; warmer_c: °C added, 0 or more; full_grown: every plant at its largest, whatever its "
      "day of planting." +
          clock +
          " No rain falls in them. `spell` says which days, `absent` names plantings not in the "
          "ground. Columns:",
      heatwave_table().heads(), "garden"_a, "place"_a, py::kw_only(), "days"_a = 5,
      "first_day"_a = py::none(), "by"_a = "tmax", "warmer_c"_a = 0.0, "full_grown"_a = false,
      "growth"_a = "days");
  add(module, "absence", ask_absence,
      "How many past trips of away_h hours, leaving at the clock hour leave_h, each pot came "
      "through. months: (first, last), None: the three warmest. line: stressed, wilting or dry. "
      "rain_counts: False for no rain at all." +
          clock +
          " `failed` holds of each pot the days of leaving of the other trips, `smallest` the "
          "index of the least mix with the share asked, or None. Columns:",
      absence_table().heads(), "candidates"_a, "places"_a, py::kw_only(), "away_h"_a = 48.0,
      "leave_h"_a = 18.0, "months"_a = py::none(), "line"_a = "wilting", "rain_counts"_a = true,
      "share"_a = 0.95, "growth"_a = "days");
  add_coming_days(
      module, "forecast", 14, ask_forecast,
      "When each pot wants water and which go dry before the next visit, most urgent first.",
      forecast_table().heads());
  add_coming_days(module, "plan", 7, ask_plan,
                  "The visits of the coming days if every routine is kept. `warnings`: frost and "
                  "heat of days given as forecast.",
                  plan_table().heads());
  add(module, "remedies", ask_remedies,
      "What would have kept each planting from wilting, the first that suffices first, then "
      "smaller ones that help." +
          clock + " Columns:",
      remedy_table().heads(), "garden"_a, "places"_a, "catalogue"_a, py::kw_only(),
      "growth"_a = "days");
  add(module, "capacity", ask_capacity,
      "What each pot holds. `buy_l`: loose litres of each component. Columns:",
      capacity_table().heads(), "garden"_a, "catalogue"_a);
  add(module, "sweep", ask_sweep,
      "Every season of every crop in every pot, mix, spot and number of plants (None: as many as "
      "the crop's litres are for), planted on the usual day, at one or several places. draws: of "
      "parameters, beside the central values, which are draw 0; seed: of them. threads: 0, one for "
      "each core. Columns: weather, draw and",
      season_table().heads(), "places"_a, "catalogue"_a, py::kw_only(), "crops"_a, "pots"_a,
      "mixes"_a, "spots"_a, "routine"_a = "as-needed",
      "plants"_a = std::vector<std::optional<int>>{std::nullopt}, "draws"_a = 0, "seed"_a = 1,
      "threads"_a = 0);
}

}  // namespace wiltline::python
