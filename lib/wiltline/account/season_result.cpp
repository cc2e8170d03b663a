#include "wiltline/account/season_result.hpp"

#include <algorithm>

#include "wiltline/account/season_sums.hpp"

namespace wiltline {

CareDays CareDays::since(const CareDays& before) const {
  return {.feed = feed - before.feed,
          .frost = frost - before.frost,
          .too_warm = too_warm - before.too_warm,
          .poor_fruit_set = poor_fruit_set - before.poor_fruit_set,
          .blossom_end_rot = blossom_end_rot - before.blossom_end_rot,
          .hot_roots = hot_roots - before.hot_roots,
          .sheds_water = sheds_water - before.sheds_water,
          .finger_only = finger_only - before.finger_only,
          .root_only = root_only - before.root_only};
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
