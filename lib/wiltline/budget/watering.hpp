// Water going into a pot, and roots growing: what happens at an instant, apart from the interval
// step.
#pragma once

#include "wiltline/budget/interval.hpp"
#include "wiltline/budget/pot_parameters.hpp"

namespace wiltline {

/// Where poured water went, litres: into the pot (mix, saucer or reservoir) and away.
struct WateringResult {
  PotState state;
  double kept_l = 0.0;
  double drained_l = 0.0;
};

/// Pours `litres` >= 0 on top. Rooted and unrooted mix fill in proportion to their shares, what one
/// cannot take goes to the other; then saucer or reservoir; the rest drains. The top layer fills
/// first.
[[nodiscard]] WateringResult water(const PotParameters& pot, const PotState& state, double litres);

/// Litres to pour "until it drains": the deficit, and the drained share on top of it.
[[nodiscard]] double litres_until_drained(const PotParameters& pot, const PotState& state);

/// Lets the roots reach `new_share` of the mix (at least the present share): the mix they enter
/// brings its own depletion along.
[[nodiscard]] PotState grow_roots(const PotState& state, double new_share);

/// All water in the planting, litres, saucer and reservoir included.
[[nodiscard]] double store_l(const PotParameters& pot, const PotState& state);

}  // namespace wiltline
