#include "wiltline/account/season_summary.hpp"

#include <algorithm>

namespace wiltline {

bool heats_in_sun(const Planting& planting) {
  return planting.pot.wall.dark && !planting.spot.tight_group && planting.spot.sun_from_h <= 12.0 &&
         planting.spot.sun_to_h >= 15.0 && planting.spot.shade_cloth == 0.0;
}

SeasonResult empty_season(const PlantingSetting& setting, const Course& course) {
  SeasonResult result;
  result.planting = setting.planting;
  result.first = course.first;
  result.last = course.last();
  SeasonSummary& summary = result.summary;
  summary.mix_l = setting.pot.mix_l;
  summary.capacity_l = setting.pot.refilled_l;
  summary.available_l = setting.pot.total_available_l;
  summary.litres_per_plant = setting.pot.mix_l / setting.planting->plants;
  summary.size_factor = setting.size_factor;
  summary.days = static_cast<int>(course.days.size());
  summary.ended_by = course.ended_by;
  return result;
}

void CareDays::count(const CareFlags& flags) {
  feed += flags.feed ? 1 : 0;
  frost += flags.frost ? 1 : 0;
  too_warm += flags.too_warm ? 1 : 0;
  poor_fruit_set += flags.poor_fruit_set ? 1 : 0;
  blossom_end_rot += flags.blossom_end_rot ? 1 : 0;
  hot_roots += flags.hot_roots ? 1 : 0;
  sheds_water += flags.sheds_water ? 1 : 0;
  finger_only += flags.finger_only ? 1 : 0;
  root_only += flags.root_only ? 1 : 0;
}

DayRange peak_month(const SeasonResult& season) {
  constexpr int month_days = 28;
  const int total = season.summary.days;
  const int week = std::min(total, static_cast<int>(peak_window_days));
  const int month = std::min(total, month_days);
  const int peak_end = static_cast<int>((season.summary.peak_ends - season.first).count()) + 1;
  const int from = std::clamp(peak_end - week / 2 - month / 2, 0, total - month);
  return {static_cast<std::size_t>(from), static_cast<std::size_t>(month)};
}

}  // namespace wiltline
