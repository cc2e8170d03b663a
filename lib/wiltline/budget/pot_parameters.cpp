#include "wiltline/budget/pot_parameters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "wiltline/base/errors.hpp"
#include "wiltline/garden/root_balls.hpp"

namespace wiltline {
namespace {

constexpr double filled_share = 0.99;  // of the mix, on the last day of root filling

/// Share of the roots' draw that comes from the topmost `depth_share` of the mix, if their density
/// falls along a line from 1 + decline at the top to 1 - decline at the bottom. A decline of 0.8
/// gives 40, 30, 20 and 10 % from the quarters of the depth.
double drawn_from_top(double depth_share, double decline) {
  return depth_share * (1.0 + decline * (1.0 - depth_share));
}

/// Top of a root ball of all the mix over the pot's top. A ball has the shape of the small nursery
/// pots it is raised in (`root_ball_top` is its top over volume^(2/3)), so that in a wide flat pot
/// it is no wide flat ball; in a narrower pot it has the pot's shape.
double ball_top_factor(const PotShape& mix, double root_ball_top) {
  constexpr double litres_per_m3 = 1000.0;
  const double edge_m = std::cbrt(mix.volume_l() / litres_per_m3);
  return std::min(1.0, root_ball_top * edge_m * edge_m / mix.top_area_m2());
}

/// Deficit at which the top layer feels dry: from what it holds when the pot is refilled, at the
/// suction of its height above the drain level, down to what it holds at the suction at which a
/// finger calls it dry. A tall pot's top starts drier and gets there sooner.
double top_dry_limit_mm(const Pot& pot, const Mix& mix, double layer_cm,
                        const ModelParameters& model) {
  const double drained = mix.curve.water_content(
      equilibrium_suction_kpa(pot.mix_depth_cm() - layer_cm / 2.0, pot.drain_level_cm));
  const double dry = mix.curve.water_content(model.finger_dry_suction_kpa);
  constexpr double mm_per_cm = 10.0;
  return std::max(model.refill_share * drained - dry, 0.0) * layer_cm * mm_per_cm;
}

}  // namespace

PotParameters build_pot(const Planting& planting, const ModelParameters& model) {
  check_planting(planting);
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
  if (const std::optional<double>& usable_l = planting.learned.usable_l) {
    const double room_l = held.room_l();
    if (!(*usable_l > 0.0 && *usable_l <= room_l)) {
      throw RequestError(
          fmt::format("{}: found {:.4g} l of usable water; expected above 0 and up "
                      "to {:.4g}, which is what the mix has room for",
                      planting.name, *usable_l, room_l));
    }
    // Between refilled and full, the mix keeps its air as far as there is room for it.
    p.refilled_l = held.lower_limit_l + *usable_l;
    p.saturated_l = std::min(p.refilled_l + (held.saturated_l - held.refilled_l), held.mix_l);
  }
  p.total_available_l = p.refilled_l - p.lower_limit_l;
  if (!(p.total_available_l > 0.0)) {
    throw RequestError(
        fmt::format("{}: found a pot that holds no water plants can use: {:.3g} l refilled, of "
                    "which {:.3g} l stay in the mix; expected one that holds some",
                    planting.name, p.refilled_l, p.lower_limit_l));
  }

  p.top_area_m2 = shape.top_area_m2();
  const double layer_cm = std::min(model.top_layer_cm, pot.mix_depth_cm());
  p.top_draw_share = drawn_from_top(layer_cm / pot.mix_depth_cm(), model.root_depth_decline);
  p.top_dry_limit_l = top_dry_limit_mm(pot, mix, layer_cm, model) * p.top_area_m2;
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
  p.wall_evaporation_l_mm = planting.learned.wall_factor * pot.wall.evaporation_share.value *
                            shape.wall_area_m2() *
                            (1.0 - closing(planting.spot, model) * (1.0 - model.tight_wall_factor));

  // All that a reservoir holds gets to the roots, however deep the mix: what does not rise to the
  // top is drawn further down.
  // Watering until it drains leaves a saucer full, so that a pot stands alike after every visit and
  // one more visit never leaves it with less.
  p.watered_store_l = pot.drains ? pot.reservoir_l + planting.saucer_l : pot.reservoir_l;
  p.surplus_store_l = pot.drains ? p.watered_store_l : p.saturated_l - p.refilled_l;
  p.drained_share = pot.drains ? model.drained_share : 0.0;
  p.mulch_store_l = planting.mulch ? model.mulch_store_mm * p.top_area_m2 : 0.0;
  p.rewet_l = mix.rewet_m3_m3 * p.mix_l;
  p.first_uptake = model.first_uptake;
  p.second_uptake = mix.second_uptake;

  p.threshold_fraction = planting.threshold_fraction.value_or(0.0);
  const auto line_of = [](const std::optional<Ranged>& own, double usual) {
    return own ? own->value : usual;
  };
  p.wilting_fraction = line_of(planting.crop.wilting_line, model.wilting_line);
  p.dry_fraction = line_of(planting.crop.dry_line, model.dry_line);
  // A pot of several crops is judged by the most sensitive.
  for (const CropPlants& other : planting.beside) {
    p.wilting_fraction =
        std::min(p.wilting_fraction, line_of(other.crop.wilting_line, model.wilting_line));
    p.dry_fraction = std::min(p.dry_fraction, line_of(other.crop.dry_line, model.dry_line));
  }
  p.waterings_cap_per_day = static_cast<int>(model.as_needed_cap_per_day);

  p.root_fill_days = model.root_fill_days;
  p.ball_top_factor = ball_top_factor(shape, model.root_ball_top);
  p.exchanged_overnight = 1.0 - std::exp(-1.0 / model.root_exchange_days);
  p.initial_rooted_share = p.single_store ? 1.0 : std::min(1.0, root_balls_l(planting) / p.mix_l);
  if (p.initial_rooted_share >= filled_share) p.initial_rooted_share = 1.0;
  const double odds = (1.0 - p.initial_rooted_share) / p.initial_rooted_share;
  if (odds > 0.0) {
    // Logistic, to filled_share on the last day.
    p.root_odds_decay =
        std::exp(-std::log(odds * filled_share / (1.0 - filled_share)) / p.root_fill_days);
  }
  return p;
}

kernel::WateringLimits watering_limits(const PotParameters& pot) {
  return {.refilled = pot.refilled_l,
          .rewet = pot.rewet_l,
          .surplus_store = pot.surplus_store_l,
          .watered_store = pot.watered_store_l,
          .mulch_store = pot.mulch_store_l,
          .per_kept = 1.0 / (1.0 - pot.drained_share)};
}

double closing(const Spot& spot, const ModelParameters& model) {
  return std::clamp((spot.closure.value - model.closure_free) / (1.0 - model.closure_free), 0.0,
                    1.0);
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
