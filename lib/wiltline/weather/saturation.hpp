// How much water vapour air can hold: FAO-56 chapter 3, equation 11.
#pragma once

#include <cmath>

namespace wiltline {

inline constexpr double saturation_at_freezing_kpa = 0.6108;
inline constexpr double saturation_exponent = 17.27;
inline constexpr double saturation_pole_c = 237.3;  // its negative: where eq. 11 has its pole

/// Saturation vapour pressure over water, kPa (eq. 11).
[[nodiscard]] inline double saturation_vapour_pressure_kpa(double temperature_c) {
  return saturation_at_freezing_kpa *
         std::exp(saturation_exponent * temperature_c / (temperature_c + saturation_pole_c));
}

/// The temperature at which air of this vapour pressure, above zero, is saturated: eq. 11 turned
/// round.
[[nodiscard]] inline double dew_point_c(double vapour_kpa) {
  const double log_ratio = std::log(vapour_kpa / saturation_at_freezing_kpa);
  return saturation_pole_c * log_ratio / (saturation_exponent - log_ratio);
}

}  // namespace wiltline
