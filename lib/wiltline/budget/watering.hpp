// Water going into a pot, and roots growing: what happens at an instant, apart from the interval
// step.
#pragma once

#include "wiltline/budget/interval.hpp"
#include "wiltline/budget/pot_parameters.hpp"

namespace wiltline {

/// Where poured water went, litres: into the pot (mix, saucer or reservoir) and away.
struct WateringResult {
  PotState state;
  double drained_l = 0.0;
  bool sheds = false;  // a part of the mix was below its re-wetting limit
};

/// How a gardener pours: once, or soaking, waiting some twenty minutes and soaking again.
enum class Pouring { once, soaked_twice };

/// Share of its deficit that a part of the mix takes up when it has dried below its re-wetting
/// limit.
[[nodiscard]] double uptake_when_dry(const PotParameters& pot, Pouring pouring);

/// Pours `litres` >= 0 on top. A mulch fills first. Rooted and unrooted mix fill in proportion to
/// their shares, each up to its uptake, and what one cannot take goes to the other; then saucer or
/// reservoir, which a mix still short empties; the rest drains. The top layer fills before the
/// mix below it.
[[nodiscard]] WateringResult water(const PotParameters& pot, const PotState& state, double litres,
                                   Pouring pouring = Pouring::once);

/// Litres to pour "until it drains": what the pot takes up, and the drained share on top of it.
[[nodiscard]] double litres_until_drained(const PotParameters& pot, const PotState& state,
                                          Pouring pouring = Pouring::once);

/// A night: water moves between rooted and unrooted mix; then the roots grow for a day, and the mix
/// they enter brings its own depletion along. `filled`: from this day on the whole mix is rooted.
[[nodiscard]] PotState grow_roots(const PotParameters& pot, const PotState& state, bool filled);

/// All water in the planting, litres, mulch, saucer and reservoir included.
[[nodiscard]] double store_l(const PotParameters& pot, const PotState& state);

}  // namespace wiltline
