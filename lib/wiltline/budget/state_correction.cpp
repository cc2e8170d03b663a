#include "wiltline/budget/state_correction.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "wiltline/base/text.hpp"
#include "wiltline/budget/day.hpp"

namespace wiltline {

double dry_mix_kg(const Mix& mix, double mix_l) {
  return mix.bulk_density_kg_l * mix_l;
}

double wet_mix_kg(const Planting& planting, const HeldWater& held) {
  constexpr double water_kg_l = 1.0;
  return dry_mix_kg(planting.mix, held.mix_l) +
         water_kg_l * (held.capacity.capacity_m3_m3 * held.mix_l + planting.pot.reservoir_l +
                       planting.saucer_l);
}

std::optional<Fault> weight_fault(const Planting& planting, const ModelParameters& model,
                                  double weight_kg) {
  const std::string name = in_quotes(planting.name);
  if (!planting.tare_kg) {
    return Fault{fmt::format("no tare_kg for {}", name), "what its empty pot weighs"};
  }
  const double tare_kg = *planting.tare_kg;
  if (weight_kg < tare_kg) {
    return Fault{
        fmt::format("{} of {:.4g} kg, below its tare of {:.4g} kg", name, weight_kg, tare_kg),
        "more"};
  }
  const PotParameters pot = build_pot(planting, model);
  const double dry_kg = dry_mix_kg(planting.mix, pot.mix_l);
  if (weight_kg < tare_kg + dry_kg) {
    return Fault{fmt::format("{} of {:.4g} kg, below tare and dry mix together ({:.4g} and {:.4g} "
                             "kg)",
                             name, weight_kg, tare_kg, dry_kg),
                 "more"};
  }
  return overweight(planting, model, weight_kg);
}

std::optional<Fault> overweight(const Planting& planting, const ModelParameters& model,
                                double weight_kg) {
  constexpr double heaviest_empty_kg_per_l = 2.0;
  constexpr double heaviest_plant_kg_per_leaf_m2 = 4.0;
  constexpr double heavier_mix = 1.25;  // what is filled in by hand can be pressed tighter
  const PotParameters pot = build_pot(planting, model);
  const double dry_kg = dry_mix_kg(planting.mix, pot.mix_l);
  const double tare_kg = planting.tare_kg.value_or(heaviest_empty_kg_per_l * pot.mix_l);
  const double water_kg =
      std::max(pot.saturated_l, pot.refilled_l) + pot.surplus_store_l + pot.mulch_store_l;
  const auto leaf_m2 = [](const Crop& crop, int plants) {
    return plants * std::max(crop.leaf_area_m2.high, crop.leaf_area_m2.value);
  };
  double most_leaf_m2 = leaf_m2(planting.crop, planting.plants);
  for (const CropPlants& other : planting.beside) most_leaf_m2 += leaf_m2(other.crop, other.plants);
  const double plants_kg = heaviest_plant_kg_per_leaf_m2 * most_leaf_m2;
  const double most_kg = tare_kg + heavier_mix * dry_kg + water_kg + plants_kg;
  if (weight_kg <= most_kg) return std::nullopt;
  constexpr double like_pounds = 2.3;  // times as heavy as it can be, at most
  constexpr double like_grams = 50.0;  // at least
  const double times = weight_kg / most_kg;
  constexpr double shown = 1000.0;  // digits of a kilogram
  return Fault{
      fmt::format("{} of {} kg, heavier than full", in_quotes(planting.name),
                  std::round(weight_kg * shown) / shown),
      fmt::format("at most {:.3g} kg: {} {:.3g}, dry mix {:.3g}, water {:.3g}, plants {:.2g} ({}?)",
                  most_kg, planting.tare_kg ? "tare" : "the heaviest of empty pots", tare_kg,
                  heavier_mix * dry_kg, water_kg, plants_kg,
                  times <= like_pounds  ? "in pounds"
                  : times >= like_grams ? "in grams"
                                        : "mistyped")};
}

PotState holding(const PotParameters& pot, const PotState& state, double water_l) {
  const double rooted_share = state.rooted_share;
  const double top_share = kernel::rooted_top_share(rooted_share, pot.ball_top_factor);
  const double most_missing_l = pot.refilled_l - pot.air_dry_l;
  const double missing_l = std::clamp(pot.refilled_l + state.mulch_water_l - water_l,
                                      -pot.surplus_store_l, most_missing_l);
  PotState after = state;
  if (missing_l <= 0.0) {
    after.rooted_depletion_l = missing_l;
    after.unrooted_depletion_l = 0.0;
    after.top_depletion_l = 0.0;
    return after;
  }
  const double rooted_l = std::max(state.rooted_depletion_l, 0.0);
  const double unrooted_l = std::max(state.unrooted_depletion_l, 0.0);
  const double computed_l = rooted_l + unrooted_l;
  const double share = computed_l > 0.0 ? rooted_l / computed_l : rooted_share;
  // What one part cannot be short of, the other is.
  after.rooted_depletion_l =
      std::clamp(missing_l * share, missing_l - most_missing_l * (1.0 - rooted_share),
                 most_missing_l * rooted_share);
  after.unrooted_depletion_l = std::max(missing_l - after.rooted_depletion_l, 0.0);
  after.top_depletion_l =
      pot.single_store ? missing_l
                       : std::min(state.top_depletion_l, after.rooted_depletion_l / top_share);
  if (rooted_share < 1.0 && !pot.single_store) {
    after.top_depletion_l =
        std::min(after.top_depletion_l, after.unrooted_depletion_l / (1.0 - top_share));
  }
  return after;
}

PotState with_top_felt(const PotParameters& pot, const PotState& state, bool dry) {
  const double share = pot.top_draw_share;
  if (pot.single_store || share >= 1.0 || top_feels_dry(pot, state) == dry) return state;
  // The depletion of the top at which the finger test turns over, and a rounding beyond it.
  constexpr double rounding = 1e-9;
  const double limit_l = pot.top_dry_limit_l * (dry ? 1.0 + rounding : 1.0 - rounding);
  const double top_share = kernel::rooted_top_share(state.rooted_share, pot.ball_top_factor);
  const double all_l = state.rooted_depletion_l + state.unrooted_depletion_l;
  PotState after = state;
  after.top_depletion_l =
      std::clamp((limit_l - share * all_l) / (1.0 - share), 0.0, pot.total_evaporable_l);
  after.rooted_depletion_l = std::max(state.rooted_depletion_l, top_share * after.top_depletion_l);
  after.unrooted_depletion_l =
      std::max(state.unrooted_depletion_l, (1.0 - top_share) * after.top_depletion_l);
  return after;
}

PotState in_other_pot(PotState state, const PotParameters& from, const PotParameters& to) {
  const double ratio = (to.refilled_l - to.air_dry_l) / (from.refilled_l - from.air_dry_l);
  state.rooted_depletion_l = std::max(state.rooted_depletion_l * ratio, -to.surplus_store_l);
  state.unrooted_depletion_l *= ratio;
  state.top_depletion_l = std::min(state.top_depletion_l * ratio, to.total_evaporable_l);
  state.mulch_water_l = std::min(state.mulch_water_l, to.mulch_store_l);
  if (to.single_store) {  // roots hold all of it
    state.rooted_depletion_l += std::exchange(state.unrooted_depletion_l, 0.0);
    state.rooted_share = 1.0;
  }
  return state;
}

}  // namespace wiltline
