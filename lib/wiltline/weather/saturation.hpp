// How much water vapour air can hold: FAO-56 chapter 3, equation 11.
#pragma once

#include <cmath>

namespace wiltline {

/// Saturation vapour pressure over water, kPa (eq. 11).
[[nodiscard]] inline double saturation_vapour_pressure_kpa(double temperature_c) {
  return 0.6108 * std::exp(17.27 * temperature_c / (temperature_c + 237.3));
}

}  // namespace wiltline
