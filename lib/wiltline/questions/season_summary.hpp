// Parts of a season's summary that one pot and a chunk of pots share.
#pragma once

#include <algorithm>
#include <cstddef>

#include "wiltline/budget/forcing.hpp"
#include "wiltline/questions/course.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {

inline constexpr std::size_t peak_window_days = 7;

/// The highest mean of a week of values, and where that week ends.
struct Peak {
  double mean = 0.0;
  std::size_t end = 0;  // one past its last day
};

/// A season with all that is known before its first day.
[[nodiscard]] SeasonResult empty_season(const PlantingSetting& setting, const Course& course);

/// A pot that heats in the sun: dark wall, direct sun at midday.
[[nodiscard]] bool heats_in_sun(const Planting& planting);

/// Enters the peak week, and the waterings of the four weeks with it in their middle, or of as much
/// of them as the season has. `waterings_on`: of a day of the season.
template <typename WateringsOn>
void set_peak(const Peak& peak, double full_size_mean, const WateringsOn& waterings_on,
              SeasonResult& result) {
  constexpr int peak_month_days = 28;
  SeasonSummary& summary = result.summary;
  const auto end = static_cast<int>(peak.end);
  summary.peak_use_l_day = peak.mean;
  summary.peak_use_full_size_l_day = full_size_mean;
  summary.peak_ends = result.first + std::chrono::days(end - 1);
  const int window = std::min(summary.days, static_cast<int>(peak_window_days));
  const int month = std::min(summary.days, peak_month_days);
  const int from = std::clamp(end - window / 2 - month / 2, 0, summary.days - month);
  int count = 0;
  for (int day = from; day < from + month; ++day) {
    count += waterings_on(static_cast<std::size_t>(day));
  }
  summary.waterings_week_peak = 7.0 * count / month;
}

}  // namespace wiltline
