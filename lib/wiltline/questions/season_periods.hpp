// When in the year: a garden's seasons month by month or week by week, and beside what each routine
// gave how often the pot asked.
#pragma once

#include <string>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// A month of the calendar, or an ISO 8601 week (Monday to Sunday).
enum class PeriodLength { month, week };

/// The first day of the period that a date lies in.
[[nodiscard]] Date period_start(PeriodLength length, Date date);
/// `2024-07` or `2024-W28` (ISO 8601), from any day of the period.
[[nodiscard]] std::string period_name(PeriodLength length, Date date);

/// The days of one period that a season has. Days that are short of water count as in the season:
/// once the planting has settled in.
struct SeasonPeriod {
  /// One pot of it; null: the whole garden, every pot (Planting::count) with its litres, waterings
  /// and days.
  const Planting* planting = nullptr;
  int year = 0;             // of planting; of the whole garden: of the period's first day
  Date first{};             // of the period, whether the season has begun by then or not
  int asked_waterings = 0;  // of the same pot watered the moment it needs it, until it drains
  int given_waterings = 0;  // by its routine
  double watered_l = 0.0;   // by its routine
  double used_l = 0.0;      // transpired + evaporated
  int stressed_days = 0;
  int wilting_days = 0;
  int dry_days = 0;
};

/// The periods of each planting, year by year, then those of the whole garden, in order of time. In
/// both only periods that a season has days in. Throws as season does. Results point to `garden`.
[[nodiscard]] std::vector<SeasonPeriod> season_periods(Plantings garden, const Place& place,
                                                       PeriodLength length,
                                                       const SeasonOptions& options = {});

}  // namespace wiltline
