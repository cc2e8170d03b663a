// Readings of one day that cannot all be true.
#pragma once

#include <vector>

#include "wiltline/base/result.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/weather/layout.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// A daily dew point may stand this far above the highest temperature: both are rounded, and read
/// by different sensors (judged).
inline constexpr double dew_point_slack_c = 0.5;

/// A contradiction between readings of a day.
struct DayFault {
  WeatherQuantity quantity;  // the reading at fault
  Fault fault;
};

/// False of a day that has no two readings which contradictions() compares.
[[nodiscard]] inline bool may_contradict(const WeatherDay& day) {
  return day.vapour_pressure_kpa || day.rh_mean_pct ||
         (day.dew_point_c && (day.rh_max_pct || day.rh_min_pct)) ||
         (day.solar_mj_m2 && day.sunshine_h);
}
/// What contradicts itself on a day whose readings are each within their own limits: vapour
/// pressure above what the warmest air of the day holds, humidity against dew point or vapour
/// pressure, a mean humidity outside lowest and highest, radiation against sunshine. Every limit
/// leaves room for rounding and for days on which the air changes; plausible.cpp states how much.
[[nodiscard]] std::vector<DayFault> contradictions(const WeatherDay& day, const SkyLimit& limit);

}  // namespace wiltline
