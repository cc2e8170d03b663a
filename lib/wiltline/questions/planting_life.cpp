#include "wiltline/questions/planting_life.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {

Date end_of_planting(const Planting& planting, Date planted, Date record_last, GrowthClock growth) {
  Date last = record_last;
  if (planting.ends) {
    if (const auto* date = std::get_if<Date>(&*planting.ends)) {
      last = *date;
    } else {
      const MonthDay day = std::get<MonthDay>(*planting.ends);
      const auto same_year = day.in_year(year_of(planted));
      const auto end =
          same_year && *same_year > planted ? same_year : day.in_year(year_of(planted) + 1);
      last = end.value_or(record_last);
    }
  } else if (growth == GrowthClock::stage_days) {
    const int days = static_cast<int>(std::lround(planting.crop.season_days()));
    last = planted + std::chrono::days(std::max(days, 1) - 1);
  }
  return std::max(last, planted);
}

std::vector<CropDay> crop_days(const Planting& planting, Date planted,
                               const std::vector<SpotDay>& days, Date record_first,
                               const ModelParameters& model, GrowthClock growth) {
  const CropSetting setting = crop_setting(planting, model);
  const Date record_last = record_first + std::chrono::days(static_cast<int>(days.size()) - 1);
  const Date last = std::min(end_of_planting(planting, planted, record_last, growth), record_last);
  Development development(planting.crop, growth, setting.first_leaf_share);
  std::vector<CropDay> result;
  result.reserve(static_cast<std::size_t>((last - planted).count() + 1));
  for (Date date = planted; date <= last; date += std::chrono::days(1)) {
    const SpotDay& day = days[static_cast<std::size_t>((date - record_first).count())];
    for (const PlantingDay& pruning : planting.pruned) {
      if (falls_on(pruning, date)) development.prune(model.pruned_leaf_share);
    }
    result.push_back(crop_day(setting, day, development, model));
    development.next_day(day.mean_temperature_c);
    if (!planting.ends && development.finished()) break;
  }
  return result;
}

}  // namespace wiltline
