// What a pot's wall lets through.
#pragma once

#include <string>

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// Kind of wall. `evaporation_share`: litres through a square metre of wet wall for each mm of ET0;
/// zero for plastic, glazed, metal and wood.
struct Wall {
  std::string name;
  Ranged evaporation_share{};
  bool dark = false;
};

}  // namespace wiltline
