// A pot whose numbers can be done by hand.
#pragma once

#include "wiltline/budget/pot_parameters.hpp"

namespace wiltline::test {

/// 10 L of mix that holds 6 L when refilled, 4 L of it usable.
inline PotParameters ten_litre_pot() {
  PotParameters pot;
  pot.mix_l = 10.0;
  pot.refilled_l = 6.0;
  pot.lower_limit_l = 2.0;
  pot.air_dry_l = 0.5;
  pot.saturated_l = 8.5;
  pot.total_available_l = 4.0;
  pot.readily_evaporable_l = 0.4;
  pot.total_evaporable_l = 1.0;
  pot.drained_share = 0.15;
  return pot;
}

}  // namespace wiltline::test
