// The questions, and what each answer's columns are. Names are those of the program's CSV where it
// has the same column.
#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "columns.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/word_of.hpp"

namespace wiltline::python {
namespace {

using namespace py::literals;

constexpr const char* planting_meaning = "planting";
constexpr const char* date_meaning = "datetime64[D]";

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

// ---- et0

struct ReferenceRow {
  Date date;
  const ReferenceDay* day;
};
using E = const ReferenceRow&;

const Fields<ReferenceRow>& et0_fields() {
  static const Fields<ReferenceRow> fields{
      {"date", date_meaning, [](E row) { return row.date; }},
      {"et0_mm", "reference evapotranspiration, mm (FAO-56 eq. 6)",
       [](E row) { return row.day->et0.total_mm(); }},
      {"estimated", "what was not measured, joined by +; - if everything was",
       [](E row) { return row.day->estimated(); }},
      {"et_radiation_mm", "its radiation term", [](E row) { return row.day->et0.radiation_mm; }},
      {"et_air_mm", "its aerodynamic term", [](E row) { return row.day->et0.air_mm; }},
      {"ra_mj_m2", "extraterrestrial radiation, MJ/m2 (eq. 21)",
       [](E row) { return row.day->ra_mj_m2; }},
      {"rs_mj_m2", "solar radiation, MJ/m2", [](E row) { return row.day->rs_mj_m2; }},
      {"rn_mj_m2", "net radiation, MJ/m2 (eq. 40)", [](E row) { return row.day->rn_mj_m2; }},
      {"vapour_pressure_kpa", "actual vapour pressure, kPa",
       [](E row) { return row.day->vapour_pressure_kpa; }},
      {"wind_2m_m_s", "wind at 2 m, m/s (eq. 47)", [](E row) { return row.day->wind_2m_m_s; }},
      {"daylight_h", "daylight, hours (eq. 34)", [](E row) { return row.day->daylight_h; }}};
  return fields;
}

py::dict ask_et0(const WeatherRecord& weather, double dew_point_offset_c,
                 double range_coefficient) {
  const std::vector<ReferenceDay> days =
      reference_days(weather, {.dew_point_offset_c = dew_point_offset_c,
                               .range_coefficient = range_coefficient,
                               .unknown_rain_is_none = false});
  std::vector<ReferenceRow> rows;
  for (std::size_t i = 0; i < days.size(); ++i) rows.push_back({weather.date(i), &days[i]});
  return columns(et0_fields(), rows);
}

// ---- season

using S = const SeasonResult&;

const Fields<SeasonResult>& season_fields() {
  static const Fields<SeasonResult> fields{
      {"name", planting_meaning, [](S s) { return s.planting->name; }},
      {"crop", "crop", [](S s) { return crop_text(*s.planting); }},
      {"pot", "pot", [](S s) { return s.planting->pot.name; }},
      {"mix", "mix", [](S s) { return s.planting->mix.name; }},
      {"spot", "where it stands", [](S s) { return s.planting->spot.name; }},
      {"plants", "plants in the pot", [](S s) { return plants_in_pot(*s.planting); }},
      {"planted", "first day, datetime64[D]", [](S s) { return s.first; }},
      {"last_day", "last day of the account", [](S s) { return s.last; }},
      {"ended_by", "why it ends: record ends, mature, frost, as told or a year old",
       [](S s) { return std::string(to_string(s.summary.ended_by)); }},
      {"days", "days of the account", [](S s) { return s.summary.days; }},
      {"mix_l", "mix in the pot, litres", [](S s) { return s.summary.mix_l; }},
      {"capacity_l", "refilled capacity: water after a good watering",
       [](S s) { return s.summary.capacity_l; }},
      {"available_l", "total available water of the whole mix",
       [](S s) { return s.summary.available_l; }},
      {"refill_at_l", "mean depletion in mid-season at which to water",
       [](S s) { return s.summary.refill_at_l; }},
      {"peak_use_l_day", "highest 7-day mean of potential use, litres a day",
       [](S s) { return s.summary.peak_use_l_day; }},
      {"waterings", "times watered", [](S s) { return s.summary.waterings; }},
      {"waterings_week_peak", "waterings a week in the four weeks around the peak",
       [](S s) { return s.summary.waterings_week_peak; }},
      {"watered_l", "water given", [](S s) { return s.summary.watered_l; }},
      {"rain_l", "rain caught", [](S s) { return s.summary.rain_l; }},
      {"drained_l", "water drained away", [](S s) { return s.summary.drained_l; }},
      {"used_l", "water transpired and evaporated", [](S s) { return s.summary.used_l; }},
      {"stressed_days", "days beyond readily available water, once settled",
       [](S s) { return s.summary.stressed_days; }},
      {"wilting_days", "days beyond the wilting line, once settled",
       [](S s) { return s.summary.wilting_days; }},
      {"dry_days", "days beyond the dry line, once settled",
       [](S s) { return s.summary.dry_days; }},
      {"first_dry", "first dry day, once settled; NaT: none",
       [](S s) { return s.summary.first_dry; }},
      {"longest_gap_days", "longest time between refills, days",
       [](S s) { return s.summary.longest_gap_days; }},
      {"settled", "first day on which roots hold half the mix; NaT: never",
       [](S s) { return s.summary.settling_in.settled; }},
      {"settling_wilting_days", "days beyond the wilting line before that",
       [](S s) { return s.summary.settling_in.wilting_days; }},
      {"feeds", "times soluble feed was due", [](S s) { return s.summary.care.feed; }},
      {"frost_days", "days colder than the crop bears", [](S s) { return s.summary.care.frost; }},
      {"too_warm_days", "days in a week warmer than the crop's heat limit",
       [](S s) { return s.summary.care.too_warm; }}};
  return fields;
}

using L = const LedgerLine&;

const Fields<LedgerLine>& ledger_fields() {
  static const Fields<LedgerLine> fields{
      {"date", date_meaning, [](L l) { return l.date; }},
      {"et0_mm", "reference evapotranspiration of the open site, mm", [](L l) { return l.et0_mm; }},
      {"canopy_m2", "plan area of all plants of the pot, m2", [](L l) { return l.canopy_m2; }},
      {"demand_l", "potential transpiration", [](L l) { return l.potential_transpiration_l; }},
      {"transpired_l", "transpired", [](L l) { return l.transpired_l; }},
      {"evaporated_l", "evaporated from top and wall", [](L l) { return l.evaporated_l; }},
      {"rain_l", "rain caught", [](L l) { return l.rain_l; }},
      {"waterings", "times watered", [](L l) { return l.waterings; }},
      {"watered_l", "water given", [](L l) { return l.watered_l; }},
      {"drained_l", "drained away", [](L l) { return l.drained_l; }},
      {"store_l", "all water in the planting at the day's end", [](L l) { return l.store_l; }},
      {"depletion_l", "root-zone depletion at the day's end; below zero: a saucer holds water",
       [](L l) { return l.depletion_l; }},
      {"refill_at_l", "refill threshold of the day", [](L l) { return l.refill_at_l; }},
      {"ks", "transpired over potential (FAO-56 eq. 84)", [](L l) { return l.ks; }},
      {"stressed_at_h", "clock hour at which growth slows; NaN: not",
       [](L l) { return l.stressed_at_h; }},
      {"wilting_at_h", "clock hour at which leaves droop; NaN: not",
       [](L l) { return l.wilting_at_h; }},
      {"dry_at_h", "clock hour at which the dry line is passed; NaN: not",
       [](L l) { return l.dry_at_h; }},
      {"settled", "roots hold half of the mix", [](L l) { return l.settled; }},
      {"feed", "soluble feed is due", [](L l) { return l.care.feed > 0; }}};
  return fields;
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
  py::dict answer = columns(season_fields(), seasons);
  if (ledger) {
    py::list ledgers;
    for (S one : seasons) ledgers.append(columns(ledger_fields(), one.ledger));
    answer["ledger"] = ledgers;
  }
  return answer;
}

// ---- compare, choose

using C = const ComparedChoice&;

const Fields<ComparedChoice>& compare_fields() {
  static const Fields<ComparedChoice> fields{
      {"name", planting_meaning, [](C c) { return c.planting->name; }},
      {"crop", "crop", [](C c) { return crop_text(*c.planting); }},
      {"plants", "plants in the pot", [](C c) { return plants_in_pot(*c.planting); }},
      {"pot", "pot", [](C c) { return c.planting->pot.name; }},
      {"mix", "mix", [](C c) { return c.planting->mix.name; }},
      {"spot", "where it stands", [](C c) { return c.planting->spot.name; }},
      {"routine", "when it is watered", [](C c) { return c.planting->routine.text; }},
      {"mix_l", "mix in the pot, litres", [](C c) { return c.worst.summary.mix_l; }},
      {"enough", "no wilting day in any summer once settled", [](C c) { return c.enough(); }},
      {"summers", "plantings run, one a year and record", [](C c) { return c.summers; }},
      {"summers_above_wilting", "those without a wilting day",
       [](C c) { return c.summers_above_wilting; }},
      {"peak_use_l_day", "highest 7-day mean of potential use of all summers, litres a day",
       [](C c) { return c.peak_use_l_day; }},
      {"waterings_week_peak", "most waterings a week around the peak",
       [](C c) { return c.waterings_week_peak; }},
      {"watered_l", "water given in a summer, mean", [](C c) { return c.watered_l; }},
      {"longest_safe_gap_days",
       "shortest time at the peak from watered to wilting without rain, days; NaN: not reached",
       [](C c) { return c.longest_safe_gap_days; }},
      {"stressed_days", "days beyond readily available water in the worst summer",
       [](C c) { return c.worst.summary.stressed_days; }},
      {"wilting_days", "days beyond the wilting line in it",
       [](C c) { return c.worst.summary.wilting_days; }},
      {"dry_days", "days beyond the dry line in it", [](C c) { return c.worst.summary.dry_days; }},
      {"worst_planted", "planting day of the worst summer", [](C c) { return c.worst.first; }},
      {"worst_weather", "its weather record", [](C c) { return c.worst_record->name(); }},
      {"first_wilting", "its first wilting day; NaT: none", [](C c) { return c.first_wilting; }},
      {"settled", "day from which roots hold half the mix, latest of the summers; NaT: not in all",
       [](C c) { return c.settled; }}};
  return fields;
}

py::dict ask_compare(const Garden& garden, const py::object& places, const std::string& growth,
                     std::size_t threads) {
  const std::vector<Place> where = places_from(places);
  const SeasonOptions options = season_options(growth, threads);
  return columns(compare_fields(),
                 unlocked([&] { return compare(garden.plantings, where, options); }));
}

py::dict ask_choose(const Garden& candidates, const Place& place, double share,
                    const std::string& growth, std::size_t threads) {
  const SeasonOptions options = season_options(growth, threads);
  const auto cells = unlocked([&] { return choose(candidates.plantings, place, share, options); });
  std::vector<ComparedChoice> choices;
  for (const ChosenPot& cell : cells) choices.push_back(cell.choice);
  py::dict answer = columns(compare_fields(), choices);
  const std::span<const ChosenPot> rows(cells);
  answer["enough"] = column_of(rows, [](const ChosenPot& cell) { return cell.enough; });
  answer["share"] = column_of(rows, [](const ChosenPot& cell) { return cell.share(); });
  answer["tried"] = column_of(rows, [](const ChosenPot& cell) { return cell.tried; });
  return answer;
}

// ---- heatwave

using H = const HeatwavePot&;

const Fields<HeatwavePot>& heatwave_fields() {
  static const Fields<HeatwavePot> fields{
      {"name", planting_meaning, [](H pot) { return pot.planting->name; }},
      {"pot", "pot", [](H pot) { return pot.planting->pot.name; }},
      {"planted", "NaT: taken as full-grown", [](H pot) { return pot.planted; }},
      {"peak_use_l_day", "potential use on the spell's thirstiest day, litres",
       [](H pot) { return pot.peak_use_l_day; }},
      {"waterings_per_day", "mean, watered as needed", [](H pot) { return pot.waterings_per_day; }},
      {"most_waterings_a_day", "most on a day", [](H pot) { return pot.most_waterings_a_day; }},
      {"refill_at_h",
       "clock hour at which a pot watered at 07:00 wants water again, on the day on which that is "
       "soonest; NaN: not within a day",
       [](H pot) { return pot.refill_at_h; }},
      {"refill_on", "that day", [](H pot) { return pot.refill_on; }},
      {"once_a_day_enough", "no wilting day with watering at 07:00",
       [](H pot) { return pot.once_a_day.enough(); }},
      {"twice_a_day_enough", "the same with 07:00 and 19:00",
       [](H pot) { return pot.twice_a_day.enough(); }},
      {"once_stressed_days", "days beyond readily available water with 07:00",
       [](H pot) { return pot.once_a_day.stressed_days; }},
      {"twice_stressed_days", "with 07:00 and 19:00",
       [](H pot) { return pot.twice_a_day.stressed_days; }}};
  return fields;
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
  const std::optional<HotSpell> spell = first_day.is_none()
                                            ? hottest_spell(where, days, heat)
                                            : spell_from(where, date_from(first_day), days);
  if (!spell) throw RequestError("found no such spell in " + place.record().name());
  const HeatwaveResult result =
      unlocked([&] { return heatwave(garden.plantings, where, *spell, options); });
  py::dict answer = columns(heatwave_fields(), result.pots);
  const std::span<const HotSpell> one(&*spell, 1);
  answer["spell"] = py::dict(
      "first_day"_a = column_of(one, [](const HotSpell& s) { return s.first; })[py::int_(0)],
      "days"_a = spell->days, "mean_tmax_c"_a = spell->mean_tmax_c,
      "mean_et0_mm"_a = spell->mean_et0_mm);
  py::list absent;
  for (const Planting* planting : result.absent) absent.append(planting->name);
  answer["absent"] = absent;
  return answer;
}

// ---- absence

using A = const AbsencePot&;

const Fields<AbsencePot>& absence_fields() {
  static const Fields<AbsencePot> fields{
      {"name", planting_meaning, [](A pot) { return pot.planting->name; }},
      {"crop", "crop", [](A pot) { return crop_text(*pot.planting); }},
      {"pot", "pot", [](A pot) { return pot.planting->pot.name; }},
      {"mix_l", "mix in the pot, litres", [](A pot) { return pot.mix_l; }},
      {"windows", "past trips", [](A pot) { return pot.windows; }},
      {"passed", "those on which the pot never went beyond the line",
       [](A pot) { return pot.passed; }},
      {"share", "passed over windows, a share of past weather, no probability; NaN: no windows",
       [](A pot) { return pot.share(); }},
      {"summers", "plantings that had a trip", [](A pot) { return pot.summers; }}};
  return fields;
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
  py::dict answer = columns(absence_fields(), result.pots);
  py::list failed;
  for (A pot : result.pots) {
    failed.append(
        column_of(std::span<const Date>(pot.failed), [](const Date& day) { return day; }));
  }
  answer["failed"] = failed;
  answer["smallest"] = result.smallest;
  answer["months"] = py::make_tuple(when.first, when.last);
  return answer;
}

// ---- forecast, plan

using F = const PlantingForecast&;

std::optional<double> at_visit(F pot, double Spread::*share) {
  return pot.give_at_visit_l ? std::optional((*pot.give_at_visit_l).*share) : std::nullopt;
}

const Fields<PlantingForecast>& forecast_fields() {
  static const Fields<PlantingForecast> fields{
      {"name", planting_meaning, [](F pot) { return pot.planting->name; }},
      {"pot", "pot", [](F pot) { return pot.planting->pot.name; }},
      {"depletion_l", "root-zone depletion now; below zero: a saucer holds water",
       [](F pot) { return pot.depletion_l; }},
      {"refill_at_l", "depletion at which to water", [](F pot) { return pot.refill_at_l; }},
      {"refill_p10",
       "when that is reached if nobody waters, earliest tenth, datetime64[m]; NaT: not in time",
       [](F pot) { return pot.refill.p10; }},
      {"refill_p50", "median", [](F pot) { return pot.refill.p50; }},
      {"refill_p90", "nine tenths", [](F pot) { return pot.refill.p90; }},
      {"dry_p10", "when it goes dry if nobody waters, earliest tenth",
       [](F pot) { return pot.dry.p10; }},
      {"dry_p50", "median", [](F pot) { return pot.dry.p50; }},
      {"dry_p90", "nine tenths", [](F pot) { return pot.dry.p90; }},
      {"next_visit", "of the routine; NaT: none", [](F pot) { return pot.next_visit; }},
      {"dry_before_visit", "True, False or None: not known",
       [](F pot) { return pot.dry_before_visit; }},
      {"give_now_l", "what it takes now, until it drains", [](F pot) { return pot.give_now_l; }},
      {"feed_due", "soluble feed is due today", [](F pot) { return pot.feed_due; }},
      {"give_at_visit_l", "what it takes at the next visit, median; NaN: not in time",
       [](F pot) { return at_visit(pot, &Spread::p50); }},
      {"give_at_visit_l_p10", "a tenth need no more",
       [](F pot) { return at_visit(pot, &Spread::p10); }},
      {"give_at_visit_l_p90", "nine tenths need no more",
       [](F pot) { return at_visit(pot, &Spread::p90); }},
      {"water_at", "when to water it, by the median; NaT: not in time or nobody comes",
       [](F pot) { return pot.water_at; }}};
  return fields;
}

using W = const PlannedWatering&;

const Fields<PlannedWatering>& plan_fields() {
  static const Fields<PlannedWatering> fields{
      {"visit", "when somebody comes, datetime64[m]; as needed: when it asks, by the median",
       [](W one) { return one.visit; }},
      {"by", "you or helper", [](W one) { return std::string(one.by_helper ? "helper" : "you"); }},
      {"name", planting_meaning, [](W one) { return one.planting->name; }},
      {"pot", "pot", [](W one) { return one.planting->pot.name; }},
      {"give_l", "what the routine gives one pot, median", [](W one) { return one.give_l.p50; }},
      {"give_low_l", "a tenth of the futures need no more", [](W one) { return one.give_l.p10; }},
      {"give_high_l", "nine tenths need no more", [](W one) { return one.give_l.p90; }},
      {"lasts_to_next", "it does not wilt before the next visit, by the median",
       [](W one) { return one.lasts_to_next(); }},
      {"wilts", "when it does; NaT: not", [](W one) { return one.wilts; }},
      {"feed", "soluble feed is due", [](W one) { return one.feed_due; }},
      {"sheds", "so dry that water runs through: soak, wait, soak again",
       [](W one) { return one.sheds; }}};
  return fields;
}

/// When, which planting, litres (None: until it drained).
using Log = std::vector<std::tuple<py::object, std::string, std::optional<double>>>;

struct ForecastAsked {
  std::vector<ForecastPlanting> plantings;
  ForecastOptions options;
};

ForecastAsked forecast_asked(const Garden& garden, const Place& place, const py::object& now,
                             int days, std::size_t members, bool uncertain, std::uint64_t seed,
                             const py::object& observed_last, const Log& log,
                             const std::string& growth) {
  ForecastAsked asked{.plantings = {}, .options = at_end_of(place.record())};
  ForecastOptions& options = asked.options;
  if (!now.is_none()) options.now = instant_from(now);
  if (!observed_last.is_none()) options.observed_last = date_from(observed_last);
  options.horizon_days = days;
  options.members = members;
  options.uncertain = uncertain;
  options.seed = seed;
  options.growth = growth_from(growth);
  std::map<std::string, std::vector<PotEvent>> events;
  for (const auto& [when, name, litres] : log) {
    const bool known =
        std::any_of(garden.plantings.begin(), garden.plantings.end(),
                    [&, wanted = name](const Planting& one) { return one.name == wanted; });
    if (!known) throw RequestError("log: found " + in_quotes(name) + "; expected a planting");
    const Instant instant = instant_from(when);
    if (instant > options.now) {
      throw RequestError("log: found " + to_string(instant) + "; expected nothing after now");
    }
    if (litres && !(*litres >= least_given_l && *litres <= most_given_l)) {
      throw RequestError("log: found litres that no can gives");
    }
    events[name].push_back({instant, PotEventKind::watered, litres});
  }
  for (const Planting& planting : garden.plantings) {
    ForecastPlanting one{.planting = &planting, .log = {}, .saved = {}};
    std::vector<PotEvent>& own = events[planting.name];
    std::stable_sort(own.begin(), own.end(),
                     [](const PotEvent& a, const PotEvent& b) { return a.when < b.when; });
    if (const auto planted =
            growing_since(planting, options.now.date, place.record().first(), options.growth)) {
      one.log = merge_log(own, *planted, {}).log;
    }
    asked.plantings.push_back(std::move(one));
  }
  return asked;
}

void add_common(py::dict& answer, const ForecastResult& result, const ForecastOptions& options) {
  answer["now"] = to_string(options.now);
  answer["last_day"] = to_string(result.last_day);
  answer["pooled_years"] = result.pooled_years;
  py::list resting;
  for (const Planting* planting : result.not_growing) resting.append(planting->name);
  answer["not_growing"] = resting;
}

py::dict ask_forecast(const Garden& garden, const Place& place, const Catalogue& catalogue,
                      const py::object& now, int days, std::size_t members, bool uncertain,
                      std::uint64_t seed, const py::object& observed_last, const Log& log,
                      const std::string& growth) {
  const ForecastAsked asked = forecast_asked(garden, place, now, days, members, uncertain, seed,
                                             observed_last, log, growth);
  const ForecastResult result =
      unlocked([&] { return forecast(asked.plantings, place, catalogue, asked.options); });
  py::dict answer = columns(forecast_fields(), result.pots);
  add_common(answer, result, asked.options);
  return answer;
}

py::dict ask_plan(const Garden& garden, const Place& place, const Catalogue& catalogue,
                  const py::object& now, int days, std::size_t members, bool uncertain,
                  std::uint64_t seed, const py::object& observed_last, const Log& log,
                  const std::string& growth) {
  const ForecastAsked asked = forecast_asked(garden, place, now, days, members, uncertain, seed,
                                             observed_last, log, growth);
  const PlanResult result =
      unlocked([&] { return plan(asked.plantings, place, catalogue, asked.options); });
  py::dict answer = columns(plan_fields(), result.waterings);
  add_common(answer, result.forecast, asked.options);
  py::list warnings;
  for (const WeatherWarning& warning : result.warnings) {
    py::list names;
    for (const Planting* planting : warning.plantings) names.append(planting->name);
    warnings.append(py::dict("date"_a = to_string(warning.date), "frost"_a = warning.frost,
                             "temperature_c"_a = warning.temperature_c, "names"_a = names));
  }
  answer["warnings"] = warnings;
  return answer;
}

// ---- remedies

struct RemedyRow {
  const Planting* planting;
  const Remedy* remedy;
};
using R = const RemedyRow&;

const Fields<RemedyRow>& remedy_fields() {
  static const Fields<RemedyRow> fields{
      {"name", planting_meaning, [](R row) { return row.planting->name; }},
      {"change", "what would help", [](R row) { return row.remedy->change.text; }},
      {"suffices", "no wilting or dry day is left", [](R row) { return row.remedy->suffices(); }},
      {"wilting_days_before", "of all seasons", [](R row) { return row.remedy->before.wilting; }},
      {"wilting_days_after", "with the change", [](R row) { return row.remedy->after.wilting; }},
      {"dry_days_before", "of all seasons", [](R row) { return row.remedy->before.dry; }},
      {"dry_days_after", "with the change", [](R row) { return row.remedy->after.dry; }}};
  return fields;
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
  return columns(remedy_fields(), rows);
}

// ---- capacity

using K = const CapacityResult&;

const Fields<CapacityResult>& capacity_fields() {
  static const Fields<CapacityResult> fields{
      {"pot", "pot", [](K pot) { return pot.pot; }},
      {"mix", "mix", [](K pot) { return pot.mix; }},
      {"mix_l", "mix in the pot, litres", [](K pot) { return pot.water.mix_l; }},
      {"height_cm", "height of the mix", [](K pot) { return pot.height_cm; }},
      {"capacity_l", "refilled capacity: water after a good watering",
       [](K pot) { return pot.water.refilled_l; }},
      {"capacity_m3_m3", "container capacity as a laboratory states it",
       [](K pot) { return pot.water.capacity.capacity_m3_m3; }},
      {"air_m3_m3", "air left at container capacity",
       [](K pot) { return pot.water.capacity.air_m3_m3; }},
      {"lower_limit_m3_m3", "water content at which a plant can draw no more",
       [](K pot) { return pot.lower_limit_m3_m3; }},
      {"available_l", "refilled capacity down to the lower limit",
       [](K pot) { return pot.available_l.value; }},
      {"available_low_l", "if the materials plausibly hold least",
       [](K pot) { return pot.available_l.low; }},
      {"available_high_l", "and most", [](K pot) { return pot.available_l.high; }},
      {"readily_available_l", "the part a plant takes before growth slows",
       [](K pot) { return pot.readily_available_l; }}};
  return fields;
}

py::dict ask_capacity(const Garden& garden, const Catalogue& catalogue) {
  const std::vector<CapacityResult> pots = capacity(garden.plantings, catalogue);
  py::dict answer = columns(capacity_fields(), pots);
  py::list buy;
  for (K pot : pots) {
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
  std::vector<Place> where = places_from(places);
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
    for (std::size_t b = 0; b < plan.blocks(); ++b) {
      const SweepBlock block = plan.block(b);
      blocks.push_back(run_block(plan, block, where[block.record], catalogue, options));
      for (S one : blocks.back().seasons) {
        seasons.push_back(one);
        from.emplace_back(block.record, block.draw);
      }
    }
  });
  py::dict answer = columns(season_fields(), seasons);
  const std::span<const std::pair<std::size_t, std::size_t>> rows(from);
  answer["weather"] =
      column_of(rows, [&](const auto& row) { return where[row.first].record().name(); });
  answer["draw"] = column_of(rows, [](const auto& row) { return row.second; });
  return answer;
}

}  // namespace

void add_questions(py::module_& module) {
  const std::string growth = " growth: days or degree-days. threads: 0, one for each core.";
  module.def(
      "et0", ask_et0, "weather"_a, py::kw_only(), "dew_point_offset_c"_a = 0.0,
      "range_coefficient"_a = 0.16,
      documented("Reference evapotranspiration of each day. Columns:", et0_fields()).c_str());
  module.def("season", ask_season, "garden"_a, "place"_a, py::kw_only(), "ledger"_a = false,
             "growth"_a = "days", "threads"_a = 0,
             (documented("Every season of every planting over the weather of a place." + growth +
                             " Columns:",
                         season_fields()) +
              documented("\nWith ledger=True also `ledger`, of each season a dictionary of daily "
                         "columns:",
                         ledger_fields()))
                 .c_str());
  module.def("compare", ask_compare, "garden"_a, "places"_a, py::kw_only(), "growth"_a = "days",
             "threads"_a = 0,
             documented("Plantings side by side over all summers of one or several places, the "
                        "best first." +
                            growth + " Columns:",
                        compare_fields())
                 .c_str());
  module.def("choose", ask_choose, "candidates"_a, "place"_a, py::kw_only(), "share"_a = 0.95,
             "growth"_a = "days", "threads"_a = 0,
             documented("The least mix that was enough in a share of past summers, for each name "
                        "among candidates such as Garden.in_pots() makes; where none was, the "
                        "nearest." +
                            growth +
                            " Columns: enough; share of the summers without a "
                            "wilting day; tried (pots); and those of compare:",
                        compare_fields())
                 .c_str());
  module.def("heatwave", ask_heatwave, "garden"_a, "place"_a, py::kw_only(), "days"_a = 5,
             "first_day"_a = py::none(), "by"_a = "tmax", "warmer_c"_a = 0.0,
             "full_grown"_a = false, "growth"_a = "days",
             documented("How often each pot must be watered in the hottest days (by tmax or et0), "
                        "or from first_day on; warmer_c: °C added, 0 or more. No rain falls in "
                        "them. `spell` says which "
                        "days, `absent` names plantings not in the ground. Columns:",
                        heatwave_fields())
                 .c_str());
  module.def("absence", ask_absence, "candidates"_a, "places"_a, py::kw_only(), "away_h"_a = 48.0,
             "leave_h"_a = 18.0, "months"_a = py::none(), "line"_a = "wilting",
             "rain_counts"_a = true, "share"_a = 0.95, "growth"_a = "days",
             documented("How many past trips of away_h hours, leaving at the clock hour leave_h, "
                        "each pot came through. months: (first, last), None: the three warmest. "
                        "line: stressed, wilting or dry. `failed` holds of each pot the days of "
                        "leaving of the other trips, `smallest` the index of the least mix with "
                        "the share asked, or None. Columns:",
                        absence_fields())
                 .c_str());
  const std::string about_now =
      " now: '2024-07-15T09:00', None: when the record ends. days: how far to look. members: "
      "courses of the weather to come; uncertain: plant, mix, spot and model drawn from their "
      "ranges too. observed_last: last day observed, where the record goes on with a forecast. "
      "log: (when, name, litres or None: until it drained), complete from a planting's first on. "
      "Columns:";
  module.def("forecast", ask_forecast, "garden"_a, "place"_a, "catalogue"_a, py::kw_only(),
             "now"_a = py::none(), "days"_a = 14, "members"_a = 200, "uncertain"_a = false,
             "seed"_a = 1, "observed_last"_a = py::none(), "log"_a = Log{}, "growth"_a = "days",
             documented("When each pot wants water and which go dry before the next visit, most "
                        "urgent first." +
                            about_now,
                        forecast_fields())
                 .c_str());
  module.def("plan", ask_plan, "garden"_a, "place"_a, "catalogue"_a, py::kw_only(),
             "now"_a = py::none(), "days"_a = 7, "members"_a = 200, "uncertain"_a = false,
             "seed"_a = 1, "observed_last"_a = py::none(), "log"_a = Log{}, "growth"_a = "days",
             documented("The visits of the coming days if every routine is kept. `warnings`: frost "
                        "and heat of days given as forecast." +
                            about_now,
                        plan_fields())
                 .c_str());
  module.def("remedies", ask_remedies, "garden"_a, "places"_a, "catalogue"_a, py::kw_only(),
             "growth"_a = "days",
             documented("What would have kept each planting from wilting, the first that suffices "
                        "first, then smaller ones that help. Columns:",
                        remedy_fields())
                 .c_str());
  module.def("capacity", ask_capacity, "garden"_a, "catalogue"_a,
             documented("What each pot holds. `buy_l`: loose litres of each component. Columns:",
                        capacity_fields())
                 .c_str());
  module.def("sweep", ask_sweep, "places"_a, "catalogue"_a, py::kw_only(), "crops"_a, "pots"_a,
             "mixes"_a, "spots"_a, "routine"_a = "as-needed",
             "plants"_a = std::vector<std::optional<int>>{std::nullopt}, "draws"_a = 0,
             "seed"_a = 1, "threads"_a = 0,
             documented("Every season of every crop in every pot, mix, spot and number of plants "
                        "(None: as many as the crop's litres are for), planted on the usual day, "
                        "at one or several places. draws: of parameters, beside the central "
                        "values, which are draw 0. Columns: weather, draw and",
                        season_fields())
                 .c_str());
}

}  // namespace wiltline::python
