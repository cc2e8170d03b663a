// Random pots, states and days for property tests.
#pragma once

#include <algorithm>
#include <cmath>

#include "support/random.hpp"
#include "wiltline/budget/day.hpp"

namespace wiltline::test {

/// A pot from a cell to a half barrel; sometimes with saucer, reservoir, no drain hole, porous
/// wall.
inline PotParameters random_pot(Random& random) {
  PotParameters pot;
  pot.mix_l = std::pow(10.0, random.uniform(-1.3, 2.0));
  pot.saturated_l = pot.mix_l * random.uniform(0.65, 0.92);
  pot.refilled_l = pot.saturated_l * random.uniform(0.55, 0.9);
  pot.lower_limit_l = pot.refilled_l * random.uniform(0.15, 0.6);
  pot.air_dry_l = pot.lower_limit_l * random.uniform(0.1, 0.6);
  pot.total_available_l = pot.refilled_l - pot.lower_limit_l;
  pot.top_area_m2 = 0.05 * std::pow(pot.mix_l / 10.0, 2.0 / 3.0) * random.uniform(0.6, 1.6);
  pot.single_store = pot.mix_l < 0.3 && random.chance(0.7);
  pot.top_draw_share = random.uniform(0.1, 0.8);
  if (pot.single_store) {
    pot.total_evaporable_l = pot.refilled_l - pot.air_dry_l;
    pot.readily_evaporable_l = pot.total_evaporable_l * random.uniform(0.3, 0.5);
  } else {
    // A top layer holds less than the pot does.
    pot.readily_evaporable_l = std::min(8.0 * pot.top_area_m2, 0.15 * pot.total_available_l);
    pot.total_evaporable_l =
        std::min(19.0 * pot.top_area_m2, pot.readily_evaporable_l + 0.25 * pot.total_available_l);
  }
  pot.top_dry_limit_l = (pot.readily_evaporable_l + pot.total_evaporable_l) / 2.0;
  pot.wall_evaporation_l_mm = random.chance(0.4) ? pot.top_area_m2 * random.uniform(0.5, 3.0) : 0.0;
  if (random.chance(0.25)) pot.surplus_store_l = pot.mix_l * random.uniform(0.02, 0.2);
  if (pot.surplus_store_l > 0.0 && random.chance(0.4))
    pot.watered_store_l = pot.surplus_store_l / 2.0;
  if (random.chance(0.3)) pot.mulch_store_l = 2.0 * pot.top_area_m2;
  if (random.chance(0.5)) {
    pot.rewet_l = pot.refilled_l * random.uniform(0.2, 0.7);
    pot.first_uptake = 0.60;
    pot.second_uptake = random.chance(0.5) ? 0.85 : 0.90;
  }
  pot.drained_share = random.chance(0.1) ? 0.0 : random.uniform(0.05, 0.3);
  pot.threshold_fraction = random.chance(0.2) ? random.uniform(0.05, 0.9) : 0.0;
  pot.wilting_fraction = 0.70;
  pot.dry_fraction = 0.85;
  pot.waterings_cap_per_day = 12;
  pot.initial_rooted_share = pot.single_store ? 1.0 : std::min(1.0, 0.4 / pot.mix_l);
  pot.root_fill_days = 35.0;
  pot.exchanged_overnight = random.uniform(0.0, 0.7);
  pot.root_odds_decay = pot.initial_rooted_share < 1.0 ? random.uniform(0.7, 0.95) : 0.0;
  return pot;
}

inline DayForcing random_forcing(Random& random, const PotParameters& pot) {
  const double et0_mm = random.uniform(0.0, 10.0);
  DayForcing day;
  day.full_rates.transpiration_l =
      random.chance(0.05) ? 0.0 : pot.top_area_m2 * et0_mm * random.uniform(0.1, 5.0);
  day.full_rates.top_l = pot.top_area_m2 * et0_mm * random.uniform(0.2, 1.1);
  day.full_rates.mulch_l = pot.mulch_store_l > 0.0 ? day.full_rates.top_l : 0.0;
  if (pot.mulch_store_l > 0.0) day.full_rates.top_l *= 0.55;
  day.full_rates.wall_l = pot.wall_evaporation_l_mm * et0_mm;
  day.rain_l = random.chance(0.25) ? pot.top_area_m2 * random.uniform(0.0, 40.0) : 0.0;
  day.depletion_fraction = random.uniform(0.1, 0.8);
  day.roots_grow = random.chance(0.7);
  day.roots_filled = random.chance(0.1);
  return day;
}

}  // namespace wiltline::test
