#include "wiltline/questions/season.hpp"

#include <algorithm>

#include "wiltline/account/course.hpp"
#include "wiltline/account/season_run.hpp"

namespace wiltline {

std::vector<Date> planting_dates(const Planting& planting, const WeatherRecord& record) {
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

}  // namespace wiltline
