#include "wiltline/questions/season.hpp"

#include <algorithm>
#include <utility>

#include "wiltline/account/course.hpp"
#include "wiltline/account/season_run.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline {

std::vector<Date> planting_dates(const Planting& planting, const WeatherRecord& record) {
  check_planting(planting);
  std::vector<Date> dates;
  if (const auto* date = std::get_if<Date>(&planting.planted)) {
    if (record.contains(*date)) dates.push_back(*date);
    return dates;
  }
  const MonthDay day = std::get<MonthDay>(planting.planted);
  for (int year = year_of(record.first()); year <= year_of(record.last()); ++year) {
    const auto date = day.in_year(year);
    if (date && record.contains(*date)) dates.push_back(*date);
  }
  return dates;
}

std::vector<SeasonStart> season_starts(Plantings plantings, const WeatherRecord& record) {
  std::vector<SeasonStart> starts;
  for (const Planting& planting : plantings) {
    for (const Date planted : planting_dates(planting, record)) {
      starts.push_back({&planting, planted});
    }
  }
  return starts;
}

SeasonResult run_season(const Planting& planting, Date planted, const Place& place,
                        const SeasonOptions& options) {
  place.require_rain();
  const ModelParameters& model = place.model();
  const std::vector<SpotDay>& days = place.at(planting.spot);
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  const Course course = plan_course(planting, planted, place.record(), days, model, options.growth);
  return run_pot(setting, course, model, options.ledger, options.hours);
}

int days_left_short(const SeasonResult& season, const Place& place, GrowthClock growth) {
  if (season.planting == nullptr) throw RequestError("found a season without a planting");
  const Routine& routine = season.planting->routine;
  const bool looks = routine.rule != VisitRule::always ||
                     std::ranges::any_of(routine.helpers, [](const Helper& helper) {
                       return helper.routine.rule != VisitRule::always;
                     });
  if (!looks || season.summary.stressed_days == 0) return 0;
  constexpr double rounding_h = 1e-6;
  const SeasonResult again = run_season(*season.planting, season.first, place,
                                        {.growth = growth, .ledger = true, .hours = true});
  int days = 0;
  std::optional<Date> left_on;  // looked at last and left, on a day that does not count yet
  std::optional<Date> counted;
  for (const LedgerLine& line : again.ledger) {
    const Routine* const whose = routine.routine_on(line.date);
    std::span<const double> visits;
    if (routine.visits_on(line.date, (line.date - season.first).count())) {
      visits = whose->visit_hours;
    }
    for (std::size_t i = 0; i < line.left.size(); ++i) {
      const WaterLeft& now = line.left[i];
      const auto begun = [&](double hour) { return hour <= now.hour + rounding_h; };
      for (; !visits.empty() && begun(visits.front()); visits = visits.subspan(1)) {
        left_on.reset();
        const bool looked = line.settled && whose->rule != VisitRule::always;
        if (looked && counted != line.date) left_on = line.date;
      }
      if (now.poured_l > 0.0) left_on.reset();
      // Just before a pouring it is not left.
      const bool poured_next = i + 1 < line.left.size() && line.left[i + 1].poured_l > 0.0;
      if (!left_on || !now.beyond || poured_next) continue;
      ++days;
      counted = std::exchange(left_on, std::nullopt);
    }
  }
  return days;
}

}  // namespace wiltline
