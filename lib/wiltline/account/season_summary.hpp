// Parts of a season's summary that one pot and a chunk of pots share.
#pragma once

#include <cstddef>

#include "wiltline/account/course.hpp"
#include "wiltline/account/season_result.hpp"
#include "wiltline/budget/forcing.hpp"

namespace wiltline {

inline constexpr std::size_t peak_window_days = 7;

/// The highest mean of a week of values, and where that week ends.
struct Peak {
  double mean = 0.0;
  std::size_t end = 0;  // one past its last day
};

/// A season with all that is known before its first day.
[[nodiscard]] SeasonResult empty_season(const PlantingSetting& setting, const Course& course);

/// A pot that heats in the sun: dark wall, direct sun from 12 to 15 solar hours (judged), no group
/// and no net.
[[nodiscard]] bool heats_in_sun(const Planting& planting);

/// Enters the peak week and the waterings of the peak month. `waterings_on`: of a day of the
/// season.
template <typename WateringsOn>
void set_peak(const Peak& peak, double full_size_mean, const WateringsOn& waterings_on,
              SeasonResult& result) {
  SeasonSummary& summary = result.summary;
  summary.peak_use_l_day = peak.mean;
  summary.peak_use_full_size_l_day = full_size_mean;
  summary.peak_ends = result.first + std::chrono::days(static_cast<int>(peak.end) - 1);
  const DayRange month = peak_month(result);
  int count = 0;
  for (std::size_t day = month.first; day < month.first + month.count; ++day) {
    count += waterings_on(day);
  }
  summary.waterings_week_peak = 7.0 * count / static_cast<double>(month.count);
}

}  // namespace wiltline
