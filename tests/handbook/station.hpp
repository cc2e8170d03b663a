// Reference ET against what a station's agency publishes of the same days.
#pragma once

#include <cstddef>

namespace wiltline::test {

/// Of the days in tests/reference/zurich-affoltern-2016.csv, mm. The published values are rounded
/// to 0.1 mm, which alone makes differences of 0.05.
struct StationCheck {
  std::size_t days = 0;
  double largest_difference_mm = 0.0;
  double mean_difference_mm = 0.0;  // ours less theirs
  double ours_mm = 0.0;             // sum of the season
  double published_mm = 0.0;
};
inline constexpr double station_day_limit_mm = 0.07;
inline constexpr double station_sum_limit_mm = 2.0;

[[nodiscard]] StationCheck station_check();

}  // namespace wiltline::test
