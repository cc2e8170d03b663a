#include "wiltline/questions/season.hpp"

#include <algorithm>

#include "wiltline/account/course.hpp"
#include "wiltline/account/season_run.hpp"

namespace wiltline {
PreparedWeather::PreparedWeather(const WeatherRecord& record, const MissingDataOptions& options)
    : record_(&record),
      reference_(
          std::make_shared<const std::vector<ReferenceDay>>(reference_days(record, options))) {
  for (const ReferenceDay& day : *reference_) sources_.count(day);
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (!record.day(i).rain_mm) ++days_without_rain_reading_;
  }
}

PreparedWeather PreparedWeather::afresh() const {
  PreparedWeather weather = *this;
  weather.spots_.clear();
  return weather;
}

const std::vector<SpotDay>& PreparedWeather::at(const Spot& spot, const ModelParameters& model) {
  const auto found = std::find_if(spots_.begin(), spots_.end(),
                                  [&](const auto& known) { return known.first == spot; });
  if (found != spots_.end()) return found->second;
  spots_.emplace_back(spot, spot_days(*record_, *reference_, spot, model));
  return spots_.back().second;
}

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

std::vector<SeasonStart> season_starts(std::span<const Planting> plantings,
                                       const WeatherRecord& record) {
  std::vector<SeasonStart> starts;
  for (const Planting& planting : plantings) {
    for (const Date planted : planting_dates(planting, record)) {
      starts.push_back({&planting, planted});
    }
  }
  return starts;
}

SeasonResult run_season(const Planting& planting, Date planted, PreparedWeather& weather,
                        const ModelParameters& model, const SeasonOptions& options) {
  const std::vector<SpotDay>& days = weather.at(planting.spot, model);
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  const Course course =
      plan_course(planting, planted, weather.record(), days, model, options.growth);
  return run_pot(setting, course, model, options.ledger);
}

}  // namespace wiltline
