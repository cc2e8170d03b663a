#include "wiltline/budget/watering.hpp"

#include <algorithm>

namespace wiltline {

Uptake uptake_of(const PotParameters& pot, const PotState& state, Pouring pouring) {
  const double when_dry = pouring == Pouring::once ? pot.first_uptake : pot.second_uptake;
  const double r = state.rooted_share;
  const bool rooted_dry = pot.refilled_l * r - state.rooted_depletion_l < pot.rewet_l * r;
  const bool unrooted_dry =
      pot.refilled_l * (1.0 - r) - state.unrooted_depletion_l < pot.rewet_l * (1.0 - r);
  return {.rooted = rooted_dry ? when_dry : 1.0, .unrooted = unrooted_dry ? when_dry : 1.0};
}

WateringResult water(const PotParameters& pot, const PotState& state, double litres,
                     Pouring pouring) {
  PotState after = state;
  const double to_mulch = std::min(litres, pot.mulch_store_l - state.mulch_water_l);
  after.mulch_water_l = state.mulch_water_l + to_mulch;
  const double through_mulch = litres - to_mulch;

  const Uptake uptake = uptake_of(pot, state, pouring);
  const double rooted_room = uptake.rooted * std::max(state.rooted_depletion_l, 0.0);
  const double unrooted_room = uptake.unrooted * std::max(state.unrooted_depletion_l, 0.0);
  double to_rooted = std::min(through_mulch * state.rooted_share, rooted_room);
  const double to_unrooted = std::min(through_mulch - to_rooted, unrooted_room);
  to_rooted = std::min(through_mulch - to_unrooted, rooted_room);  // what the other left over
  double rest = std::max(through_mulch - to_rooted - to_unrooted, 0.0);

  after.rooted_depletion_l = state.rooted_depletion_l - to_rooted;
  after.unrooted_depletion_l = state.unrooted_depletion_l - to_unrooted;
  after.top_depletion_l = std::max(state.top_depletion_l - through_mulch, 0.0);

  // What the mix lets through stands in saucer or reservoir; a mix still short drinks from there.
  const double room_below = pot.surplus_store_l + std::min(after.rooted_depletion_l, 0.0);
  if (rest > 0.0 && room_below > 0.0) {
    const double to_below = std::min(rest, room_below);
    after.rooted_depletion_l -= to_below;
    rest -= to_below;
  }
  return {.state = after, .kept_l = litres - rest, .drained_l = rest};
}

double litres_until_drained(const PotParameters& pot, const PotState& state, Pouring pouring) {
  const Uptake uptake = uptake_of(pot, state, pouring);
  const double below =
      std::min(std::max(state.rooted_depletion_l + pot.watered_store_l, 0.0), pot.watered_store_l);
  const double taken_up = uptake.rooted * std::max(state.rooted_depletion_l, 0.0) + below +
                          uptake.unrooted * state.unrooted_depletion_l + pot.mulch_store_l -
                          state.mulch_water_l;
  return taken_up / (1.0 - pot.drained_share);
}

PotState grow_roots(const PotState& state, double new_share) {
  PotState after = state;
  const double unrooted = 1.0 - state.rooted_share;
  if (new_share <= state.rooted_share || unrooted <= 0.0) return after;
  const double entered = new_share >= 1.0 ? 1.0 : (new_share - state.rooted_share) / unrooted;
  const double moved = state.unrooted_depletion_l * entered;
  after.rooted_depletion_l += moved;
  after.unrooted_depletion_l = entered >= 1.0 ? 0.0 : state.unrooted_depletion_l - moved;
  after.rooted_share = std::min(new_share, 1.0);
  return after;
}

double store_l(const PotParameters& pot, const PotState& state) {
  return pot.refilled_l - state.rooted_depletion_l - state.unrooted_depletion_l +
         state.mulch_water_l;
}

}  // namespace wiltline
