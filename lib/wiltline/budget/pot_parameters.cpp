#include "wiltline/budget/pot_parameters.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {
namespace {

constexpr double filled_share = 0.99;  // of the mix, on the last day of root filling

}  // namespace

PotParameters build_pot(const Planting& planting, const ModelParameters& model) {
  const Pot& pot = planting.pot;
  const Mix& mix = planting.mix;
  const PotShape shape = pot.mix_shape();
  const HeldWater held = held_water(pot, mix, model.refill_share);

  PotParameters p;
  p.mix_l = held.mix_l;
  p.refilled_l = held.refilled_l;
  p.lower_limit_l = held.lower_limit_l;
  p.air_dry_l = model.air_dry_share * held.wilting_l;
  p.saturated_l = held.saturated_l;
  p.total_available_l = held.available_l();

  p.top_area_m2 = shape.top_area_m2();
  p.top_layer_share = std::min(1.0, model.top_layer_cm / pot.mix_depth_cm());
  p.single_store = pot.mix_depth_cm() < model.single_store_depth_cm;
  if (p.single_store) {
    // One store for roots and air: it dries to air-dry, and its surface limits it from the same
    // share of that on as a top layer's would.
    p.total_evaporable_l = p.refilled_l - p.air_dry_l;
    p.readily_evaporable_l = p.total_evaporable_l * mix.rew_mm / mix.tew_mm;
  } else {
    p.readily_evaporable_l = mix.rew_mm * p.top_area_m2;
    p.total_evaporable_l = mix.tew_mm * p.top_area_m2;
  }
  p.wall_evaporation_l_mm = pot.wall.evaporation_share.value * shape.wall_area_m2() *
                            (1.0 - closing(planting.spot, model) * (1.0 - model.tight_wall_factor));

  // A reservoir feeds the mix up to the wicking height; what lies deeper in a tall pot's share is
  // out of reach.
  const double reached = std::min(1.0, model.wicking_height_cm / pot.mix_depth_cm());
  p.watered_store_l = pot.reservoir_l * reached;
  p.surplus_store_l =
      pot.drains ? p.watered_store_l + planting.saucer_l : p.saturated_l - p.refilled_l;
  p.drained_share = pot.drains ? model.drained_share : 0.0;
  p.mulch_store_l = planting.mulch ? model.mulch_store_mm * p.top_area_m2 : 0.0;
  p.rewet_l = mix.rewet_m3_m3 * p.mix_l;
  p.first_uptake = model.first_uptake;
  p.second_uptake = mix.second_uptake;

  p.threshold_fraction = planting.threshold_fraction.value_or(0.0);
  p.wilting_fraction = model.wilting_line;
  p.dry_fraction = model.dry_line;
  p.waterings_cap_per_day = static_cast<int>(model.as_needed_cap_per_day);

  p.root_fill_days = model.root_fill_days;
  p.initial_rooted_share =
      p.single_store ? 1.0 : std::min(1.0, planting.plants * planting.crop.root_ball_l / p.mix_l);
  if (p.initial_rooted_share >= filled_share) p.initial_rooted_share = 1.0;
  const double odds = (1.0 - p.initial_rooted_share) / p.initial_rooted_share;
  if (odds > 0.0) {
    // Logistic, to filled_share on the last day.
    p.root_odds_decay =
        std::exp(-std::log(odds * filled_share / (1.0 - filled_share)) / p.root_fill_days);
  }
  return p;
}

kernel::Vessel vessel(const PotParameters& pot) {
  return {.refilled = pot.refilled_l,
          .rewet = pot.rewet_l,
          .surplus_store = pot.surplus_store_l,
          .watered_store = pot.watered_store_l,
          .mulch_store = pot.mulch_store_l,
          .per_kept = 1.0 / (1.0 - pot.drained_share)};
}

double closing(const Spot& spot, const ModelParameters& model) {
  return std::clamp((spot.closure.value - model.closure_free) / (1.0 - model.closure_free), 0.0, 1.0);
}

double advection_among(const Spot& spot, const ModelParameters& model) {
  const double advection = spot.advection.value;
  return advection - closing(spot, model) * std::max(advection - 1.0, 0.0);
}

double rooted_share(const PotParameters& pot, double days_since_planting) {
  const double first = pot.initial_rooted_share;
  if (first >= filled_share || days_since_planting >= pot.root_fill_days) return 1.0;
  const double odds = (1.0 - first) / first;
  return 1.0 / (1.0 + odds * std::pow(pot.root_odds_decay, days_since_planting));
}

}  // namespace wiltline
