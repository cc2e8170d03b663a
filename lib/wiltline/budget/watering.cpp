#include "wiltline/budget/watering.hpp"

#include <algorithm>

namespace wiltline {

WateringResult water(const PotParameters& pot, const PotState& state, double litres) {
  PotState after = state;
  const double rooted_room = std::max(state.rooted_depletion_l, 0.0);
  const double unrooted_room = std::max(state.unrooted_depletion_l, 0.0);

  double to_rooted = std::min(litres * state.rooted_share, rooted_room);
  double to_unrooted = std::min(litres - to_rooted, unrooted_room);
  to_rooted = std::min(litres - to_unrooted, rooted_room);  // what the unrooted part left over
  double rest = std::max(litres - to_rooted - to_unrooted, 0.0);

  after.rooted_depletion_l = state.rooted_depletion_l - to_rooted;
  after.unrooted_depletion_l = state.unrooted_depletion_l - to_unrooted;
  if (to_rooted == rooted_room && rooted_room > 0.0) after.rooted_depletion_l = 0.0;
  if (to_unrooted == unrooted_room) after.unrooted_depletion_l = 0.0;
  after.top_depletion_l = std::max(state.top_depletion_l - litres, 0.0);

  // Only a full mix lets water through to what stands below it.
  const double room_below =
      pot.surplus_store_l + after.rooted_depletion_l;  // depletion is <= 0 there
  if (rest > 0.0 && room_below > 0.0) {
    const double to_below = std::min(rest, room_below);
    after.rooted_depletion_l -= to_below;
    rest -= to_below;
  }
  return {.state = after, .kept_l = litres - rest, .drained_l = rest};
}

double litres_until_drained(const PotParameters& pot, const PotState& state) {
  const double deficit =
      std::max(state.rooted_depletion_l + pot.watered_store_l, 0.0) + state.unrooted_depletion_l;
  return deficit / (1.0 - pot.drained_share);
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
  return pot.refilled_l - state.rooted_depletion_l - state.unrooted_depletion_l;
}

}  // namespace wiltline
