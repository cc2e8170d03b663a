#include "wiltline/budget/watering.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/near.hpp"
#include "support/random_pot.hpp"
#include "support/ten_litre_pot.hpp"

namespace wiltline::test {
namespace {

PotState random_state(Random& random, const PotParameters& pot) {
  const double r = random.chance(0.4) ? 1.0 : random.uniform(0.02, 0.98);
  const double room = pot.refilled_l - pot.air_dry_l;
  PotState state;
  state.rooted_share = pot.single_store ? 1.0 : r;
  state.rooted_depletion_l = random.chance(0.2) ? -random.uniform() * pot.surplus_store_l
                                                : random.uniform() * room * state.rooted_share;
  state.unrooted_depletion_l = random.uniform() * room * (1.0 - state.rooted_share);
  state.top_depletion_l =
      random.uniform() * std::min(pot.total_evaporable_l, std::max(state.rooted_depletion_l, 0.0) +
                                                              state.unrooted_depletion_l);
  return state;
}

}  // namespace

TEST_CASE("watering: fills the mix, then what stands below it, and the rest drains") {
  PotParameters pot = ten_litre_pot();
  PotState state{.rooted_depletion_l = 2.0, .top_depletion_l = 0.5, .rooted_share = 1.0};

  SUBCASE("less than the deficit stays in the pot") {
    const WateringResult result = water(pot, state, 1.2);
    CHECK(near(result.state.rooted_depletion_l, 0.8, 1e-15));
    CHECK(result.state.top_depletion_l == 0.0);  // the top fills first
    CHECK(result.drained_l == 0.0);
  }
  SUBCASE("more than the deficit drains") {
    const WateringResult result = water(pot, state, 3.0);
    CHECK(result.state.rooted_depletion_l == 0.0);
    CHECK(near(result.drained_l, 1.0, 1e-15));
  }
  SUBCASE("a saucer catches what drains, up to its size") {
    pot.surplus_store_l = 0.6;
    const WateringResult result = water(pot, state, 3.0);
    CHECK(near(result.state.rooted_depletion_l, -0.6, 1e-15));
    CHECK(near(result.drained_l, 0.4, 1e-15));
    CHECK(near(store_l(pot, result.state), 6.6, 1e-15));
  }
  SUBCASE("a trickle wets only the top of the top layer") {
    const WateringResult result = water(pot, state, 0.1);
    CHECK(near(result.state.top_depletion_l, 0.4, 1e-15));
  }
  SUBCASE("nothing poured, nothing changed") {
    const WateringResult result = water(pot, state, 0.0);
    CHECK(result.state.rooted_depletion_l == 2.0);
    CHECK(result.drained_l == 0.0);
  }
}

TEST_CASE("watering: until it drains is the deficit and the drained share") {
  const PotParameters pot = ten_litre_pot();
  const PotState state{.rooted_depletion_l = 1.0, .unrooted_depletion_l = 0.7, .rooted_share = 0.5};
  const double litres = litres_until_drained(pot, state);
  CHECK(near(litres, 1.7 / 0.85, 1e-15));
  const WateringResult result = water(pot, state, litres);
  CHECK(near(result.state.rooted_depletion_l, 0.0, 1e-15));
  CHECK(near(result.state.unrooted_depletion_l, 0.0, 1e-15));
  CHECK(near(result.drained_l, 0.15 * litres, 1e-15));
  CHECK(litres_until_drained(pot, result.state) <= 1e-15);
}

TEST_CASE("watering: rooted and unrooted mix fill by share, the full one passes water on") {
  const PotParameters pot = ten_litre_pot();
  const PotState state{.rooted_depletion_l = 0.2, .unrooted_depletion_l = 2.0, .rooted_share = 0.5};
  const WateringResult result = water(pot, state, 1.0);
  CHECK(near(result.state.rooted_depletion_l, 0.0, 1e-15));    // took 0.2 of its half
  CHECK(near(result.state.unrooted_depletion_l, 1.2, 1e-15));  // and passed on 0.3
}

TEST_CASE("watering: what is poured is kept or drains, to rounding, for random pots") {
  Random random(21);
  for (int i = 0; i < 100000; ++i) {
    const PotParameters pot = random_pot(random);
    const PotState state = random_state(random, pot);
    const double litres = random.chance(0.3) ? litres_until_drained(pot, state)
                                             : random.uniform(0.0, 1.5) * pot.refilled_l;
    const WateringResult result = water(pot, state, litres);
    CAPTURE(i);
    REQUIRE(near(store_l(pot, result.state) - store_l(pot, state), litres - result.drained_l,
                 1e-13 * pot.refilled_l));
    REQUIRE(result.drained_l >= 0.0);
    REQUIRE(result.state.top_depletion_l >= 0.0);
    REQUIRE(result.state.unrooted_depletion_l >= 0.0);
    REQUIRE(result.state.rooted_depletion_l >= -pot.surplus_store_l - 1e-15);
    // Never drier than before, and nothing drains while mix is thirsty, unless it sheds water.
    REQUIRE(result.state.rooted_depletion_l <= state.rooted_depletion_l);
    REQUIRE(result.state.mulch_water_l <= pot.mulch_store_l);
    if (result.drained_l > 1e-12 && !result.sheds) {
      REQUIRE(result.state.rooted_depletion_l <= 0.0);
      REQUIRE(result.state.unrooted_depletion_l == 0.0);
    }
  }
}

TEST_CASE(
    "watering: mix below its re-wetting limit takes up part of its deficit, more if soaked twice") {
  PotParameters pot = ten_litre_pot();
  pot.rewet_l = 3.0;
  pot.first_uptake = 0.60;  // peat held about a third less when it started dry (judged share)
  pot.second_uptake = 0.85;
  const PotState dry{.rooted_depletion_l = 3.5, .rooted_share = 1.0};    // 2.5 L left
  const PotState moist{.rooted_depletion_l = 2.5, .rooted_share = 1.0};  // 3.5 L left
  CHECK(water(pot, dry, 10.0).sheds);
  CHECK_FALSE(water(pot, moist, 10.0).sheds);

  const WateringResult once = water(pot, dry, 10.0);
  CHECK(near(once.state.rooted_depletion_l, 3.5 * 0.40, 1e-14));
  CHECK(near(once.drained_l, 10.0 - 3.5 * 0.60, 1e-14));
  const WateringResult twice = water(pot, dry, 10.0, Pouring::soaked_twice);
  CHECK(near(twice.state.rooted_depletion_l, 3.5 * 0.15, 1e-14));
  CHECK(water(pot, moist, 10.0).state.rooted_depletion_l == 0.0);

  // Water that runs through stops the gardener early: less is given, and less kept.
  CHECK(near(litres_until_drained(pot, dry), 3.5 * 0.60 / 0.85, 1e-14));
  // A little is taken up whole.
  CHECK(water(pot, dry, 0.5).drained_l == 0.0);
  // A saucer holds what ran through against the mix, which takes it up.
  pot.surplus_store_l = 1.0;
  CHECK(near(water(pot, dry, 10.0).state.rooted_depletion_l, 3.5 * 0.40 - 1.0, 1e-14));
}

TEST_CASE("watering: each part of the mix sheds by its own dryness") {
  PotParameters pot = ten_litre_pot();
  pot.rewet_l = 3.0;
  pot.first_uptake = 0.60;
  const PotState state{.rooted_depletion_l = 1.8, .unrooted_depletion_l = 0.5, .rooted_share = 0.5};
  const WateringResult result = water(pot, state, 10.0);
  CHECK(result.sheds);
  CHECK(
      near(result.state.rooted_depletion_l, 1.8 * 0.40, 1e-14));  // 1.2 of its 3 L left, below 1.5
  CHECK(result.state.unrooted_depletion_l == 0.0);                // 2.5 of 3 L
}

TEST_CASE("mulch: takes up first, dries on its own, and is part of the store") {
  PotParameters pot = ten_litre_pot();
  pot.mulch_store_l = 0.2;
  const PotState state{.rooted_depletion_l = 1.0, .rooted_share = 1.0};
  const WateringResult drizzle = water(pot, state, 0.15);
  CHECK(near(drizzle.state.mulch_water_l, 0.15, 1e-15));
  CHECK(drizzle.state.rooted_depletion_l == 1.0);  // a drizzle stays in the mulch
  CHECK(near(store_l(pot, drizzle.state), 5.15, 1e-14));
  CHECK(near(litres_until_drained(pot, state), 1.2 / 0.85, 1e-14));
}

TEST_CASE("reservoir: filled by watering, emptied before the mix dries") {
  PotParameters pot = ten_litre_pot();
  pot.surplus_store_l = 3.0;
  pot.watered_store_l = 3.0;
  const PotState state{.rooted_depletion_l = -1.0, .rooted_share = 1.0};
  CHECK(near(litres_until_drained(pot, state), 2.0 / 0.85, 1e-14));
  CHECK(near(water(pot, state, 2.0).state.rooted_depletion_l, -3.0, 1e-14));
  CHECK(near(store_l(pot, state), 7.0, 1e-14));
}

TEST_CASE("roots: growing moves water between accounts, never makes or loses any") {
  const PotState state{
      .rooted_depletion_l = 0.3, .unrooted_depletion_l = 0.9, .rooted_share = 0.25};
  PotParameters pot = ten_litre_pot();
  pot.root_odds_decay = 1.0 / 3.0;  // odds of unrooted to rooted mix: from 3 to 1
  const PotState half = grow_roots(pot, state, false);
  CHECK(near(half.rooted_share, 0.5, 1e-15));
  CHECK(near(half.unrooted_depletion_l, 0.6, 1e-15));  // a third of the unrooted mix was entered
  CHECK(near(half.rooted_depletion_l, 0.6, 1e-15));
  const PotState all = grow_roots(pot, half, true);
  CHECK(all.unrooted_depletion_l == 0.0);
  CHECK(near(all.rooted_depletion_l, 1.2, 1e-15));
  CHECK(all.rooted_share == 1.0);
  CHECK(grow_roots(pot, all, false).rooted_share == 1.0);  // roots do not shrink
}

TEST_CASE("roots: from the ball to the whole mix in root_fill_days, without falling back") {
  PotParameters pot = ten_litre_pot();
  pot.initial_rooted_share = 0.04;
  pot.root_fill_days = 35.0;
  // Odds of unrooted to rooted mix: 24 at first, 1/99 on the last day.
  pot.root_odds_decay = std::pow(24.0 * 99.0, -1.0 / 35.0);
  PotState growing{.rooted_share = 0.04};
  for (int day = 1; day < 60; ++day) {
    const double before = growing.rooted_share;
    growing = grow_roots(pot, growing, day >= pot.root_fill_days);
    CHECK(growing.rooted_share >= before);
    // The logistic in closed form.
    const double odds = 24.0 * std::pow(24.0 * 99.0, -day / 35.0);
    CHECK(near(growing.rooted_share, day < 35 ? 1.0 / (1.0 + odds) : 1.0, 1e-13));
    CHECK(near(rooted_share(pot, day), growing.rooted_share, 1e-13));
  }
}

}  // namespace wiltline::test
