#include "wiltline/budget/watering.hpp"

namespace wiltline {

double uptake_when_dry(const PotParameters& pot, Pouring pouring) {
  return pouring == Pouring::once ? pot.first_uptake : pot.second_uptake;
}

WateringResult water(const PotParameters& pot, const PotState& state, double litres,
                     Pouring pouring) {
  const kernel::Poured poured =
      kernel::pour(watering_limits(pot), state.rooted_share, uptake_when_dry(pot, pouring),
                   depletions(state), litres);
  return {.state = with_depletions(state, poured.after),
          .drained_l = poured.drained,
          .sheds = poured.sheds > 0.5};
}

double litres_until_drained(const PotParameters& pot, const PotState& state, Pouring pouring) {
  return kernel::until_drained(watering_limits(pot), state.rooted_share,
                               uptake_when_dry(pot, pouring), depletions(state));
}

PotState grow_roots(const PotParameters& pot, const PotState& state, bool filled) {
  const kernel::Rooted grown =
      kernel::grow(kernel::exchange({.share = state.rooted_share,
                                     .rooted_depletion = state.rooted_depletion_l,
                                     .unrooted_depletion = state.unrooted_depletion_l},
                                    pot.exchanged_overnight),
                   pot.root_odds_decay, filled ? 1.0 : 0.0);
  PotState after = state;
  after.rooted_share = grown.share;
  after.rooted_depletion_l = grown.rooted_depletion;
  after.unrooted_depletion_l = grown.unrooted_depletion;
  return after;
}

double store_l(const PotParameters& pot, const PotState& state) {
  return pot.refilled_l - state.rooted_depletion_l - state.unrooted_depletion_l +
         state.mulch_water_l;
}

}  // namespace wiltline
