#include "wiltline/questions/compare.hpp"

#include <algorithm>

#include "wiltline/account/course.hpp"
#include "wiltline/account/dry_down.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline {
namespace {

void keep_shortest(std::optional<double>& shortest, double value) {
  if (!shortest || value < *shortest) shortest = value;
}

/// The shortest dry-down to the wilting line of one summer's peak month.
std::optional<double> shortest_dry_down_days(const SeasonResult& season, const Place& place,
                                             GrowthClock growth) {
  const Planting& planting = *season.planting;
  const ModelParameters& model = place.model();
  const std::vector<SpotDay>& spot = place.at(planting.spot);
  const WeatherRecord& record = place.record();
  const std::vector<CropDay> crop = crop_days(planting, season.first, record, spot, model, growth);
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  const DayRange month = peak_month(season);
  const std::vector<RainlessDay> days =
      rainless_days(setting, std::span(crop).subspan(month.first),
                    std::span(spot).subspan(record.index_of(season.first) + month.first),
                    static_cast<double>(month.first), model);
  const double hour = first_watering_h(planting.routine);
  std::optional<double> shortest;
  for (std::size_t start = 0; start < month.count; ++start) {
    const auto age_days = static_cast<double>(month.first + start);
    if (rooted_share(setting.pot, age_days) < settled_share) continue;
    const auto passing = dry_down(setting.pot, std::span<const RainlessDay>(days).subspan(start),
                                  age_days, hour, Line::wilting);
    if (passing) keep_shortest(shortest, passing->days_from(hour));
  }
  return shortest;
}

/// The wilting days of a summer that has settled in: the first, and how many come once roots have
/// filled the pot.
struct WiltingDays {
  std::optional<Date> first;
  int rooted = 0;
};

WiltingDays wilting_days(const Planting& planting, const Summer& summer, GrowthClock growth) {
  const SeasonResult in_full =
      run_season(planting, summer.result.first, summer.place, {.growth = growth, .ledger = true});
  WiltingDays days;
  for (const LedgerLine& line : in_full.ledger) {
    if (!line.wilting_at_h || line.date < in_full.summary.settling_in.settled) continue;
    if (!days.first) days.first = line.date;
    const auto age_days = static_cast<double>((line.date - in_full.first).count());
    if (age_days >= summer.place.model().root_fill_days) ++days.rooted;
  }
  return days;
}

/// True if `other` is later in its year than `day`; no day is later than any.
bool later_in_year(const std::optional<Date>& day, const std::optional<Date>& other) {
  if (!day) return false;
  return !other || day_of_year(*other) > day_of_year(*day);
}

}  // namespace

double first_watering_h(const Routine& routine) {
  constexpr double usual_morning_h = 7.0;
  return routine.visit_hours.empty() ? usual_morning_h : routine.visit_hours.front();
}

std::vector<std::vector<Summer>> run_summers(Plantings plantings, Places places,
                                             const SeasonOptions& options) {
  check_places(places);
  std::vector<std::vector<Summer>> summers(plantings.size());
  for (const Place& place : places) {
    const std::vector<SeasonStart> starts = season_starts(plantings, place.record());
    std::vector<SeasonResult> results = run_seasons(starts, place, options);
    for (std::size_t i = 0; i < results.size(); ++i) {
      const auto of = static_cast<std::size_t>(starts[i].planting - plantings.data());
      summers[of].push_back({std::move(results[i]), place});
    }
  }

  return summers;
}

std::size_t worst_of(std::span<const Summer> summers) {
  if (summers.empty()) throw RequestError("found no summer; expected one at least");
  const auto worst = std::ranges::max_element(
      summers, {}, [](const Summer& one) { return hardship(one.result.summary); });
  return static_cast<std::size_t>(worst - summers.begin());
}

std::tuple<int, int, int> hardship(const SeasonSummary& summary) {
  return {summary.dry_days, summary.wilting_days, summary.stressed_days};
}

int summers_above_wilting(std::span<const Summer> summers) {
  return static_cast<int>(std::ranges::count_if(summers, [](const Summer& summer) {
    return summer.result.summary.wilting_days == 0 && summer.result.summary.dry_days == 0;
  }));
}

ComparedChoice summed_up(std::vector<Summer> summers, GrowthClock growth) {
  Summer* const worst = &summers[worst_of(summers)];
  ComparedChoice choice;
  choice.planting = summers.front().result.planting;
  choice.summers = static_cast<int>(summers.size());
  choice.summers_above_wilting = summers_above_wilting(summers);
  for (Summer& summer : summers) {
    const SeasonSummary& s = summer.result.summary;
    if (s.ended_by == EndedBy::record) ++choice.summers_cut_by_record;
    const SettlingIn& apart = s.settling_in;
    choice.wilting_days_settling = std::max(choice.wilting_days_settling, apart.wilting_days);
    if (&summer == &summers.front() || later_in_year(choice.settled, apart.settled)) {
      choice.settled = apart.settled;
    }
    choice.peak_use_l_day = std::max(choice.peak_use_l_day, s.peak_use_l_day);
    choice.waterings_week_peak = std::max(choice.waterings_week_peak, s.waterings_week_peak);
    choice.watered_l += s.watered_l / choice.summers;
    choice.longest_gap_days = std::max(choice.longest_gap_days, s.longest_gap_days);
    const auto gap = shortest_dry_down_days(summer.result, summer.place, growth);
    if (!gap) continue;
    keep_shortest(choice.longest_safe_gap_days, *gap);
    choice.mildest_safe_gap_days = std::max(choice.mildest_safe_gap_days.value_or(0.0), *gap);
  }
  for (const Summer& summer : summers) {
    if (summer.result.summary.wilting_days == 0) continue;
    const WiltingDays wilted = wilting_days(*choice.planting, summer, growth);
    if (&summer == worst) choice.first_wilting = wilted.first;
    choice.wilting_days_rooted = std::max(choice.wilting_days_rooted, wilted.rooted);
  }
  choice.worst_record = worst->place.shared_record();
  choice.worst = std::move(worst->result);
  return choice;
}

std::vector<ComparedChoice> compare(Plantings plantings, Places places,
                                    const SeasonOptions& options) {
  auto summers = run_summers(plantings, places, options);
  std::vector<ComparedChoice> compared;
  for (std::vector<Summer>& all : summers) {
    if (!all.empty()) compared.push_back(summed_up(std::move(all), options.growth));
  }
  std::ranges::stable_sort(compared, {}, [](const ComparedChoice& choice) {
    return std::tuple(!choice.enough(), hardship(choice.worst.summary), choice.worst.summary.mix_l);
  });
  return compared;
}

}  // namespace wiltline
