#include "wiltline/questions/plan.hpp"

#include <algorithm>
#include <tuple>

#include "wiltline/account/season_sums.hpp"
#include "wiltline/budget/pot_parameters.hpp"

namespace wiltline {
namespace {

/// The least that is worth pouring: less is within what a can measures, or as good as nothing to
/// the pot (judged). `held_l`: what it holds for the plant.
double least_to_pour_l(double held_l) {
  constexpr double can_measures_l = 0.02;
  constexpr double share_of_pot = 0.01;
  constexpr double share_of_seed_cell = 0.1;  // where a can measures more than the pot asks for
  return std::max({std::min(can_measures_l, share_of_seed_cell * held_l), share_of_pot * held_l,
                   least_given_l});
}

void add_waterings(const PlantingForecast& pot, const ModelParameters& model,
                   std::vector<PlannedWatering>& waterings) {
  const double least_l = least_to_pour_l(build_pot(*pot.planting, model).total_available_l);
  for (std::size_t i = 0; i < pot.visits.size(); ++i) {
    const ComingVisit& visit = pot.visits[i];
    const bool now = i == 0;
    const bool comes_now = now && pot.visits.size() > 1 && pot.visits[1].when == visit.when;
    const bool waters = !now && visit.poured_l.p50 > 0.0;
    if (comes_now || (!waters && !visit.wilts)) continue;
    PlannedWatering one{
        .planting = pot.planting,
        .visit = visit.when,
        .at_once = now,
        .by_helper = !now && pot.planting->routine.helper_on(visit.when.date) != nullptr,
        .give_l = now ? Spread{pot.give_now_l, pot.give_now_l, pot.give_now_l} : visit.poured_l,
        .least_l = least_l,
        .wilts = visit.wilts,
        .feed_due = visit.feed_due,
        .sheds = visit.sheds};
    const Routine* const routine = now ? nullptr : pot.planting->routine.routine_on(one.visit.date);
    if (routine != nullptr) {
      if (routine->give_l) one.least_l = least_given_l;  // is poured, however little
      const bool full = one.visit == pot.visits.front().when && pot.give_now_l < least_l;
      one.left_by_look = routine->rule != VisitRule::always && !routine->as_needed && one.wilts &&
                         one.to_pour_l() <= 0.0 && !full;
    }
    waterings.push_back(one);
  }
}

/// True if a night is colder than a crop of the pot bears.
bool frost_hurts(const Planting& planting, double tmin_c, const FrostLimits& limits) {
  const double felt_c = tmin_c + planting.spot.frost_kept_off_c.value;
  return any_crop(planting,
                  [&](const Crop& crop) { return felt_c < lowest_borne_c(crop, limits); });
}

PastNights past_nights(const ForecastResult& result, const Place& place,
                       const ForecastOptions& options) {
  const WeatherRecord& record = place.record();
  const FrostLimits limits = frost_limits(place.model());
  PastNights nights;
  std::vector<bool> hurt(result.pots.size());
  const Date first = std::max(options.now.date, options.known_last + std::chrono::days(1));
  const Date end = options.now.date + std::chrono::days(options.horizon_days);
  if (first > end) return nights;
  for (int back = 1; year_of(first) - back >= year_of(record.first()); ++back) {
    std::optional<double> coldest_c;
    bool whole = true;
    for (Date date = first; date <= end; date += std::chrono::days(1)) {
      const auto then = month_day_of(date).in_year(year_of(date) - back);
      if (!then) continue;  // 29 February
      whole = whole && record.contains(*then);
      if (!whole) break;
      const double tmin_c = record.day(record.index_of(*then)).tmin_c;
      coldest_c = std::min(coldest_c.value_or(tmin_c), tmin_c);
    }
    if (!whole || !coldest_c) continue;
    bool any = false;
    for (std::size_t i = 0; i < hurt.size(); ++i) {
      if (!frost_hurts(*result.pots[i].planting, *coldest_c, limits)) continue;
      hurt[i] = any = true;
    }
    ++nights.years;
    nights.with_frost += any ? 1 : 0;
  }
  for (std::size_t i = 0; i < hurt.size(); ++i) {
    if (hurt[i]) nights.plantings.push_back(result.pots[i].planting);
  }
  return nights;
}

std::vector<WeatherWarning> warnings_of(const ForecastResult& result, const Place& place,
                                        const ForecastOptions& options) {
  const ModelParameters& model = place.model();
  const FrostLimits limits = frost_limits(model);
  std::vector<WeatherWarning> warnings;
  const auto add = [&](Date date, bool frost, double temperature_c, const auto& is_hurt) {
    WeatherWarning warning{
        .date = date, .frost = frost, .temperature_c = temperature_c, .plantings = {}};
    for (const PlantingForecast& pot : result.pots) {
      if (is_hurt(*pot.planting)) warning.plantings.push_back(pot.planting);
    }
    if (!warning.plantings.empty()) warnings.push_back(std::move(warning));
  };
  const Date last =
      std::min(options.known_last, options.now.date + std::chrono::days(options.horizon_days));
  for (Date date = options.now.date; date <= last; date += std::chrono::days(1)) {
    const WeatherDay& day = place.record().day(place.record().index_of(date));
    add(date, true, day.tmin_c,
        [&](const Planting& planting) { return frost_hurts(planting, day.tmin_c, limits); });
    add(date, false, day.tmax_c, [&](const Planting& planting) {
      return day.tmax_c > model.hot_root_tmax_c && heats_in_sun(planting, model);
    });
  }
  return warnings;
}

}  // namespace

PlanResult plan(std::span<const ForecastPlanting> plantings, const Place& place,
                const Catalogue& catalogue, ForecastOptions options) {
  options.visits = true;
  PlanResult result{.waterings = {},
                    .warnings = {},
                    .past_nights = {},
                    .forecast = forecast(plantings, place, catalogue, options)};
  for (const PlantingForecast& pot : result.forecast.pots) {
    add_waterings(pot, place.model(), result.waterings);
  }
  const auto order = [](const PlannedWatering& one) {
    return std::tuple(one.visit, one.by_helper, !one.again_same_day(), one.lasts_to_next());
  };
  std::ranges::stable_sort(result.waterings, {}, order);
  result.warnings = warnings_of(result.forecast, place, options);
  result.past_nights = past_nights(result.forecast, place, options);
  return result;
}

PlanResult plan(Plantings garden, const Place& place, const Catalogue& catalogue,
                const ForecastOptions& options) {
  return plan(by_routine_alone(garden), place, catalogue, options);
}

}  // namespace wiltline
