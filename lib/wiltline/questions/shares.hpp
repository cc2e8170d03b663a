// Whether a share of past summers or trips was reached.
#pragma once

#include <cstddef>

namespace wiltline {

/// True if `passed` of `all` is at least `share` (0.95 of 20 is 19), and there was any.
[[nodiscard]] inline bool share_reached(int passed, std::size_t all, double share) {
  constexpr double rounding = 1e-9;
  return all > 0 && passed >= share * static_cast<double>(all) - rounding;
}

}  // namespace wiltline
