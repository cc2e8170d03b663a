// How far off a pot's use may be.
#pragma once

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// Use, in litres or any unit of volume, with the range in which it plausibly lies: plant size,
/// shelter and mix are good to about a third either way (judged, models/README.md).
[[nodiscard]] constexpr Ranged range_of_use(double use) {
  constexpr double factor = 1.33;
  return {.value = use, .low = use / factor, .high = use * factor};
}

}  // namespace wiltline
