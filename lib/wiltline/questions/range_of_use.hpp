// How far off a pot's use may be.
#pragma once

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// Use, in litres or any unit of volume, with the range in which it lies for 8 in 10 pots: plant
/// size, shelter and mix are good to about a third either way for half of them (judged,
/// models/README.md), which is a factor of 1.6 for 8 in 10. A way of telling, and no parameter:
/// nothing is worked out from it.
[[nodiscard]] constexpr Ranged range_of_use(double use) {
  constexpr double factor = 1.6;
  return {.value = use, .low = use / factor, .high = use * factor};
}

}  // namespace wiltline
