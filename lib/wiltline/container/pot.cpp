#include "wiltline/container/pot.hpp"

#include <cmath>

namespace wiltline {

Pot Pot::scaled_to(double litres) const {
  const double factor = std::cbrt(litres / mix_l());
  Pot result = *this;
  result.shape = shape.scaled(factor);
  result.headspace_cm = headspace_cm * factor;
  result.drain_level_cm = drain_level_cm * factor;
  result.reservoir_l = reservoir_l * factor * factor * factor;
  result.sold_mix_l = {};
  return result;
}

}  // namespace wiltline
