// A pot as the account sees it: everything that stays the same through a run, in litres.
#pragma once

#include "wiltline/budget/kernel.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/garden/model_parameters.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// Fixed for a run, validated when built; no later code checks it again. Litres are of the whole
/// mix.
struct PotParameters {
  double mix_l = 0.0;
  double refilled_l = 0.0;     // water at refilled capacity: where depletion is zero
  double lower_limit_l = 0.0;  // water no longer drawn by roots
  double air_dry_l = 0.0;      // water that neither roots nor air take
  double saturated_l = 0.0;    // every pore full
  double total_available_l =
      0.0;  // refilled - lower limit, of the whole mix (TAW when all is rooted)

  double readily_evaporable_l = 0.0;  // REW of the top layer
  double total_evaporable_l = 0.0;    // TEW
  double top_draw_share = 1.0;        // of what the mix loses but by the top, drawn from that layer
  double top_dry_limit_l = 0.0;       // deficit of the layer at which it feels dry
  bool single_store = false;  // filled too shallow for a layer of its own: the top is the store

  double top_area_m2 = 0.0;
  double wall_evaporation_l_mm = 0.0;  // litres through the wet wall for each mm of ET0
  double surplus_store_l =
      0.0;  // saucer, reservoir, or an undrained pot's pores: below zero depletion
  double watered_store_l = 0.0;  // the part of it that watering fills: not those pores
  double mulch_store_l = 0.0;    // water a mulch holds
  double rewet_l = 0.0;          // water in the mix below which it sheds part of what is poured
  double first_uptake = 1.0;     // share of the deficit such a mix takes up at once
  double second_uptake = 1.0;    // and if it is soaked, left a while and soaked again
  double drained_share = 0.0;    // of what is given "until it drains"

  double threshold_fraction = 0.0;  // of TAW; 0: the threshold is RAW
  double wilting_fraction = 0.0;    // lines, as fractions of TAW
  double dry_fraction = 0.0;
  int waterings_cap_per_day = 0;  // of as-needed watering

  /// Rooted share of the mix on the day of planting, and days until roots have filled it.
  double initial_rooted_share = 0.0;
  double root_odds_decay =
      0.0;  // factor on (unrooted / rooted) in a day: to 0.99 on the last of them
  double root_fill_days = 0.0;
  /// Top of a root ball as large as the mix over the pot's top; at most 1.
  double ball_top_factor = 1.0;
  double exchanged_overnight = 0.0;  // of the difference in depletion a litre, between both
};

/// What decides where poured water goes.
[[nodiscard]] kernel::WateringLimits watering_limits(const PotParameters& pot);

/// The lines to be reported, as shares of TAW.
[[nodiscard]] inline kernel::LineFractions line_fractions(const PotParameters& pot) {
  return {.threshold = pot.threshold_fraction,
          .wilting = pot.wilting_fraction,
          .dry = pot.dry_fraction};
}

/// Rooted share of the mix from which on a planting has settled in.
inline constexpr double settled_share = 0.5;

/// How far the neighbours of a spot have closed in on a plant: 0 up to closure_free, 1 where they
/// cover the ground.
[[nodiscard]] double closing(const Spot& spot, const ModelParameters& model);
/// The advection of a spot as it reaches one pot: none is left inside a closed group.
[[nodiscard]] double advection_among(const Spot& spot, const ModelParameters& model);

/// Share of the mix that holds roots, this many days after planting: day by day, grow_roots arrives
/// at the same.
[[nodiscard]] double rooted_share(const PotParameters& pot, double days_since_planting);

/// The parameters of a planting. Throws RequestError if its pot holds no water that plants can use
/// under this model, and for what check_planting refuses.
[[nodiscard]] PotParameters build_pot(const Planting& planting, const ModelParameters& model);

}  // namespace wiltline
