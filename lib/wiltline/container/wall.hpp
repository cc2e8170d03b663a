// What a pot's wall lets through.
#pragma once

#include <string>

namespace wiltline {

/// Kind of wall. `evaporation_share`: litres through a square metre of wet wall for each mm of ET0;
/// zero for plastic, glazed, metal and wood.
struct Wall {
  std::string name;
  double evaporation_share = 0.0;
  double evaporation_share_low = 0.0;
  double evaporation_share_high = 0.0;
  bool dark = false;
};

}  // namespace wiltline
