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

/// How a gardener pours: once, or soaking, waiting some twenty minutes and soaking again.
enum class Pouring { once, soaked_twice };

/// Share of its deficit that each part of the mix takes up: 1, or less where it has dried below its
/// re-wetting limit and sheds water.
struct Uptake {
  double rooted = 1.0;
  double unrooted = 1.0;
  [[nodiscard]] bool sheds() const { return rooted < 1.0 || unrooted < 1.0; }
};
[[nodiscard]] Uptake uptake_of(const PotParameters& pot, const PotState& state, Pouring pouring);

/// Pours `litres` >= 0 on top. A mulch fills first. Rooted and unrooted mix fill in proportion to
/// their shares, each up to its uptake, and what one cannot take goes to the other; then saucer or
/// reservoir, from which a mix still short drinks; the rest drains. The top layer fills before the
/// mix below it.
[[nodiscard]] WateringResult water(const PotParameters& pot, const PotState& state, double litres,
                                   Pouring pouring = Pouring::once);

/// Litres to pour "until it drains": what the pot takes up, and the drained share on top of it.
[[nodiscard]] double litres_until_drained(const PotParameters& pot, const PotState& state,
                                          Pouring pouring = Pouring::once);

/// Lets the roots reach `new_share` of the mix (at least the present share): the mix they enter
/// brings its own depletion along.
[[nodiscard]] PotState grow_roots(const PotState& state, double new_share);

/// All water in the planting, litres, mulch, saucer and reservoir included.
[[nodiscard]] double store_l(const PotParameters& pot, const PotState& state);

}  // namespace wiltline
