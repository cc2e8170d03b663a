// Root ball and unrooted mix: whose surface is whose, what passes between them overnight, what a
// gardener expects, and what the finger feels.
#include <doctest/doctest.h>

#include <cmath>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random_pot.hpp"
#include "wiltline/budget/day.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline::test {
namespace {

PotParameters pot_of(const std::string& crop, const std::string& rest) {
  return build_pot(one_row(crop, rest), catalogue().parameters);
}

/// A root ball of half a litre in fifty: 0.01 of the mix.
PotParameters big_pot() {
  PotParameters pot;
  pot.mix_l = 50.0;
  pot.refilled_l = 30.0;
  pot.lower_limit_l = 10.0;
  pot.air_dry_l = 3.0;
  pot.saturated_l = 42.0;
  pot.total_available_l = 20.0;
  pot.readily_evaporable_l = 1.2;
  pot.total_evaporable_l = 2.8;
  pot.top_draw_share = 0.2;
  pot.top_dry_limit_l = 2.0;
  pot.wilting_fraction = 0.70;
  pot.dry_fraction = 0.85;
  pot.waterings_cap_per_day = 12;
  pot.initial_rooted_share = 0.01;
  return pot;
}

double depletion_a_litre(double depletion_l, double share) {
  return depletion_l / share;
}

}  // namespace

TEST_CASE("roots: of bodies of one shape, areas go with the 2/3 power of volumes") {
  constexpr double one_shape = 1.0;
  CHECK(kernel::rooted_top_share(1.0, one_shape) == 1.0);
  for (const double share : {1e-4, 0.001, 0.0054, 0.05, 0.125, 0.5, 0.99}) {
    CHECK(near(kernel::rooted_top_share(share, one_shape), std::pow(share, 2.0 / 3.0), 1e-12));
  }
  for (const double factor : {0.2, 0.6, one_shape}) {
    double before = 0.0;
    for (double share = 1e-9; share < 1.0; share *= 1.01) {
      const double top = kernel::rooted_top_share(share, factor);
      REQUIRE(top > before);
      REQUIRE(top >= share);  // the ball never loses less a litre than the rest of the mix
      before = top;
    }
    CHECK(kernel::rooted_top_share(1.0, factor) == 1.0);
  }
}

TEST_CASE("roots: a root ball loses by its own surface, whatever the pot") {
  // A ball of 0.4 L in the shape of a small nursery pot: 1.15 x (0.0004 m3)^(2/3).
  constexpr double ball_top_m2 = 62.4e-4;
  const auto own_top_m2 = [](const Pot& in) {
    Planting tomato = one_row("tomato", "nursery 30 l,potting mix,1,2022-05-15,patio,as-needed");
    tomato.pot = in;
    const PotParameters pot = build_pot(tomato, catalogue().parameters);
    return pot.top_area_m2 *
           kernel::rooted_top_share(pot.initial_rooted_share, pot.ball_top_factor);
  };
  const Pot& pot = *catalogue().pots.find("nursery 30 l");
  CHECK(near(own_top_m2(pot), ball_top_m2, 0.1e-4));
  CHECK(near(own_top_m2(pot.scaled_to(200.0)), ball_top_m2, 0.1e-4));
  CHECK(near(own_top_m2(*catalogue().pots.find("window box 12 l")), ball_top_m2, 0.1e-4));
  // Four times as wide and as deep as before: a ball of the pot's own shape would have 2.5 times
  // the top.
  Pot wide = pot;
  wide.shape = PotShape::round(4.0 * pot.shape.top_length_cm(), 4.0 * pot.shape.bottom_length_cm(),
                               pot.shape.height_cm());
  CHECK(near(own_top_m2(wide), ball_top_m2, 0.1e-4));
  // A deep narrow pot holds a ball of its own shape.
  Pot deep = pot;
  deep.shape = PotShape::round(20.0, 20.0, 60.0);
  CHECK(own_top_m2(deep) < 0.5 * ball_top_m2);
}

TEST_CASE("roots: overnight the difference in depletion fades, and no water is made or lost") {
  for (std::uint64_t seed = 1; seed <= 5000; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    PotParameters pot = random_pot(random);
    pot.root_odds_decay = 1.0;  // no growth
    const double share = random.uniform(0.001, 0.999);
    const double room_l = pot.refilled_l - pot.air_dry_l;
    const PotState state{.rooted_depletion_l = random.uniform() * room_l * share,
                         .unrooted_depletion_l = random.uniform() * room_l * (1.0 - share),
                         .rooted_share = share};
    const PotState after = grow_roots(pot, state, false);
    const auto difference = [&](const PotState& of) {
      return depletion_a_litre(of.rooted_depletion_l, share) -
             depletion_a_litre(of.unrooted_depletion_l, 1.0 - share);
    };
    REQUIRE(near(after.rooted_depletion_l + after.unrooted_depletion_l,
                 state.rooted_depletion_l + state.unrooted_depletion_l, 1e-14 * pot.refilled_l));
    REQUIRE(near(difference(after), (1.0 - pot.exchanged_overnight) * difference(state),
                 1e-12 * room_l / std::min(share, 1.0 - share)));
    REQUIRE(after.rooted_depletion_l <= room_l * share + 1e-14 * pot.refilled_l);
    REQUIRE(after.unrooted_depletion_l >= -1e-14 * pot.refilled_l);
  }
}

TEST_CASE("roots: the night's share follows from root_exchange_days") {
  const PotParameters pot =
      pot_of("tomato", "nursery 37 l,potting mix,1,2022-05-15,patio,as-needed");
  CHECK(near(pot.exchanged_overnight, 1.0 - std::exp(-1.0 / 2.0), 1e-15));
}

TEST_CASE("roots: what stands in a saucer stays there overnight") {
  PotParameters pot = big_pot();
  pot.surplus_store_l = 1.0;
  pot.exchanged_overnight = 0.4;
  pot.root_odds_decay = 1.0;
  const PotState after = grow_roots(pot, {.rooted_depletion_l = -1.0, .rooted_share = 0.5}, false);
  CHECK(after.rooted_depletion_l == -1.0);
  CHECK(after.unrooted_depletion_l == 0.0);
}

TEST_CASE("check: a gardener expects the root ball's loss, not that of the whole pot's top") {
  // The ball's threshold is 0.1 L. It loses 0.02 L by the plant and by its 0.046 of the top, of
  // which 0.5 L evaporate: 0.043 L in all. The whole top's loss would be five thresholds.
  const PotParameters pot = big_pot();
  DayForcing forcing;
  forcing.full_rates.transpiration_l = 0.02;
  forcing.full_rates.top_l = 0.5;
  forcing.depletion_fraction = 0.5;
  const std::vector<Visit> morning{{0.0, 1.0}};
  DayPlan plan;
  plan.rule = VisitRule::check;
  plan.visits = morning;
  const PotState refilled{.rooted_share = 0.01};
  const DayResult first = run_day(pot, refilled, forcing, plan);
  CHECK(first.waterings == 0);
  const double own_l = 0.02 + 0.5 * kernel::rooted_top_share(0.01, pot.ball_top_factor);
  CHECK(near(first.state.yesterday_use_l, own_l, 1e-15));
  CHECK(near(first.state.rooted_depletion_l, own_l, 1e-14));
  const DayResult second = run_day(pot, first.state, forcing, plan);
  CHECK(second.waterings == 0);
  CHECK(run_day(pot, second.state, forcing, plan).waterings == 1);  // 3 days' loss is past 0.1 L
}

TEST_CASE("finger: roots draw 40, 30, 20 and 10 % from the quarters of their depth") {
  // Irrigation handbooks, from memory. nursery 18 l holds 22.6 cm of mix: its top 5 cm are 0.221.
  const PotParameters pot =
      pot_of("tomato", "nursery 18 l,potting mix,1,2022-05-15,patio,as-needed");
  const double depth_share = 5.0 / 22.6;
  CHECK(near(pot.top_draw_share, depth_share * (1.0 + 0.8 * (1.0 - depth_share)), 1e-12));
  const auto drawn_above = [](double share) { return share * (1.0 + 0.8 * (1.0 - share)); };
  CHECK(near(drawn_above(0.25), 0.40, 1e-15));
  CHECK(near(drawn_above(0.50), 0.70, 1e-15));
  CHECK(near(drawn_above(0.75), 0.90, 1e-15));
}

TEST_CASE("finger: a tall pot's top, drier once drained, feels dry after losing less") {
  const auto limit_mm = [](const std::string& pot) {
    const PotParameters parameters =
        pot_of("tomato", pot + ",peat 100,1,2022-05-15,patio,as-needed");
    return parameters.top_dry_limit_l / parameters.top_area_m2;
  };
  CHECK(limit_mm("nursery 10 l") > limit_mm("nursery 21 l"));
  CHECK(limit_mm("nursery 21 l") > limit_mm("nursery 50 l"));
  CHECK(limit_mm("nursery 50 l") > 0.0);
  // By hand: 21.4 cm of mix, the middle of the top layer at 18.9 cm or 1.853 kPa, peat's curve.
  const Mix peat = *catalogue().mix("peat 100");
  const double at_top = peat.curve.water_content(0.0980665 * (21.4 - 2.5));
  const double dry = peat.curve.water_content(10.0);
  CHECK(near(limit_mm("nursery 10 l"), 50.0 * (0.9 * at_top - dry), 1e-9));
}

}  // namespace wiltline::test
