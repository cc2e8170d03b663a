#include "wiltline/budget/day.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "support/near.hpp"
#include "support/random_pot.hpp"
#include "support/ten_litre_pot.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline::test {
namespace {

PotParameters plain_pot() {
  PotParameters pot = ten_litre_pot();
  pot.top_draw_share = 0.2;
  pot.top_dry_limit_l = 0.7;
  pot.wilting_fraction = 0.70;
  pot.dry_fraction = 0.85;
  pot.waterings_cap_per_day = 12;
  pot.initial_rooted_share = 1.0;
  return pot;
}

/// No evaporation, so that the numbers can be done by hand: RAW 2 L, TAW 4 L.
DayForcing plant_only(double litres) {
  DayForcing forcing;
  forcing.full_rates.transpiration_l = litres;
  forcing.depletion_fraction = 0.5;
  return forcing;
}

DayPlan visits(const std::vector<Visit>& at, VisitRule rule = VisitRule::always) {
  DayPlan plan;
  plan.rule = rule;
  plan.visits = at;
  return plan;
}

}  // namespace

TEST_CASE("day: as-needed watering at the instant the threshold is reached, at a constant cycle") {
  DayPlan plan;
  plan.as_needed = true;
  const DayResult day = run_day(plain_pot(), {}, plant_only(5.0), plan);
  CHECK(day.waterings == 2);  // after 2 L and after 4 L, at x = 0.4 and 0.8
  REQUIRE(day.refills.size() == 2);
  CHECK(near(day.refills[0].at, 0.4, 1e-14));
  CHECK(near(day.refills[1].at, 0.8, 1e-14));
  CHECK(near(day.state.rooted_depletion_l, 1.0, 1e-13));
  CHECK_FALSE(day.stressed_at.has_value());  // at the threshold, never beyond it
  CHECK(near(day.transpired_l, 5.0, 1e-13));
}

TEST_CASE("day: as-needed watering stops at its cap") {
  PotParameters pot = plain_pot();
  pot.waterings_cap_per_day = 3;
  DayPlan plan;
  plan.as_needed = true;
  const DayResult day = run_day(pot, {}, plant_only(20.0), plan);
  CHECK(day.waterings == 3);
  CHECK(day.stressed_at.has_value());
}

TEST_CASE("day: fixed visits water whatever the pot says") {
  const std::vector<Visit> morning{{0.1, 1.0}};
  const DayResult day = run_day(plain_pot(), {}, plant_only(1.0), visits(morning));
  CHECK(day.waterings == 1);
  CHECK(near(day.watered_l, 0.1 / 0.85, 1e-14));
  CHECK(near(day.drained_l, 0.1 / 0.85 - 0.1, 1e-14));
  CHECK(near(day.state.rooted_depletion_l, 0.9, 1e-14));
}

TEST_CASE("day: a fixed amount is given as it is") {
  const std::vector<Visit> morning{{0.0, 1.0}};
  DayPlan plan = visits(morning);
  plan.give_l = 0.5;
  const PotState thirsty{.rooted_depletion_l = 1.5};
  const DayResult day = run_day(plain_pot(), thirsty, plant_only(1.0), plan);
  CHECK(day.watered_l == 0.5);
  CHECK(day.drained_l == 0.0);
  CHECK(near(day.state.rooted_depletion_l, 2.0, 1e-14));
}

TEST_CASE(
    "day: a check waters past the threshold, or when yesterday would pass it before the next "
    "visit") {
  const std::vector<Visit> morning{{0.1, 1.0}};
  SUBCASE("enough for another day like yesterday: left alone") {
    const PotState state{.rooted_depletion_l = 0.7, .yesterday_use_l = 1.0};
    CHECK(
        run_day(plain_pot(), state, plant_only(1.0), visits(morning, VisitRule::check)).waterings ==
        0);
  }
  SUBCASE("not enough: watered, though not yet past") {
    const PotState state{.rooted_depletion_l = 1.0, .yesterday_use_l = 1.0};
    CHECK(
        run_day(plain_pot(), state, plant_only(1.0), visits(morning, VisitRule::check)).waterings ==
        1);
  }
  SUBCASE("no foresight: a heat wave that starts today is not seen") {
    const PotState state{.rooted_depletion_l = 0.3, .yesterday_use_l = 1.0};
    const DayResult day =
        run_day(plain_pot(), state, plant_only(6.0), visits(morning, VisitRule::check));
    CHECK(day.waterings == 0);
    CHECK(day.stressed_at.has_value());
  }
  SUBCASE("the next visit days away counts as so many yesterdays") {
    const std::vector<Visit> weekly{{0.1, 7.0}};
    const PotState state{.rooted_depletion_l = 0.1, .yesterday_use_l = 0.4};
    CHECK(
        run_day(plain_pot(), state, plant_only(0.4), visits(weekly, VisitRule::check)).waterings ==
        1);
  }
}

TEST_CASE("day: the finger test waters by the top layer alone") {
  const std::vector<Visit> morning{{0.0, 1.0}};
  const auto plan = visits(morning, VisitRule::check_top);
  // Limit: the middle of REW 0.4 and TEW 1.0.
  const PotState dry_top{.rooted_depletion_l = 0.8, .top_depletion_l = 0.75};
  const PotState moist_top{.rooted_depletion_l = 0.8, .top_depletion_l = 0.3};
  CHECK(run_day(plain_pot(), dry_top, plant_only(0.1), plan).waterings == 1);
  CHECK(run_day(plain_pot(), moist_top, plant_only(0.1), plan).waterings == 0);
  // Roots dry the top too: 0.2 of the 2.6 L they took, on top of 0.3.
  const PotState dry_roots{.rooted_depletion_l = 2.9, .top_depletion_l = 0.3};
  CHECK(run_day(plain_pot(), dry_roots, plant_only(0.1), plan).waterings == 1);
}

TEST_CASE("day: lines are noted when passed, from the start of the day if it began beyond them") {
  const DayResult day = run_day(plain_pot(), {}, plant_only(4.0), {});
  REQUIRE(day.stressed_at.has_value());
  CHECK(near(*day.stressed_at, 0.5, 1e-14));  // 2 of 4 L
  CHECK_FALSE(day.dry_at.has_value());
  const DayResult next = run_day(plain_pot(), day.state, plant_only(4.0), {});
  CHECK(*next.stressed_at == 0.0);
  REQUIRE(next.dry_at.has_value());
  CHECK(*next.dry_at > 0.0);
  // By hand: beyond RAW depletion nears TAW as 4 - 2 e^(-2x) (x from passing RAW), with 3.4 L at
  // dry.
  CHECK(near(*next.dry_at, 0.5 * std::log(2.0 / 0.6) - 0.5, 1e-12));
}

TEST_CASE("day: rain comes first, and a rain that refills the pot ends yesterday's stress") {
  DayForcing forcing = plant_only(1.0);
  forcing.rain_l = 5.0;
  const PotState wilting{.rooted_depletion_l = 3.0};
  const DayResult day = run_day(plain_pot(), wilting, forcing, {});
  CHECK_FALSE(day.stressed_at.has_value());
  CHECK(near(day.drained_l, 2.0, 1e-14));
  CHECK(near(day.state.rooted_depletion_l, 1.0, 1e-14));
}

TEST_CASE("day: a visit finds the pot as the night's rain has left it") {
  DayForcing forcing = plant_only(1.0);
  forcing.rain_l = 5.0;
  const std::vector<Visit> at_noon{{.at = 0.5}};
  const DayResult day = run_day(plain_pot(), {.rooted_depletion_l = 3.0}, forcing, visits(at_noon));
  REQUIRE(day.refills.size() == 2);
  CHECK(day.refills[0].at == 0.0);
  CHECK(day.refills[1].at == 0.5);
  // Rain has filled the pot and run through; only the morning's half litre is to be made up for.
  CHECK(near(day.watered_l, 0.5 / 0.85, 1e-14));
  CHECK(near(day.drained_l, 2.0 + 0.5 / 0.85 - 0.5, 1e-14));
  // A gardener who checks then leaves it alone.
  CHECK(
      run_day(plain_pot(), {.rooted_depletion_l = 3.0}, forcing, visits(at_noon, VisitRule::check))
          .waterings == 0);
}

TEST_CASE(
    "day: a measured state takes the computed one's place, but roots stay as they have grown") {
  const DayForcing forcing = plant_only(1.0);
  const PotParameters pot = plain_pot();
  DayInProgress day(pot, {.rooted_share = 0.4}, forcing);
  day.take_rain({});
  day.dry_until(0.5);
  day.correct({.rooted_depletion_l = 0.2, .top_depletion_l = 0.1, .rooted_share = 0.9});
  CHECK(day.state().rooted_depletion_l == 0.2);
  CHECK(day.state().top_depletion_l == 0.1);
  CHECK(day.state().rooted_share == 0.4);
  const DayResult result = day.finish();
  CHECK(near(result.state.rooted_depletion_l, 0.7, 1e-14));
  CHECK(near(result.highest_depletion_l, 0.7, 1e-14));
  CHECK(near(result.state.yesterday_use_l, 1.0, 1e-14));
}

TEST_CASE("day: p changes at 00:00 only, and may put a pot beyond RAW at once") {
  DayForcing forcing = plant_only(0.0);
  forcing.depletion_fraction = 0.2;
  const PotState state{.rooted_depletion_l = 1.0};
  const DayResult day = run_day(plain_pot(), state, forcing, {});
  REQUIRE(day.stressed_at.has_value());
  CHECK(*day.stressed_at == 0.0);
  CHECK(near(day.threshold_l, 0.8, 1e-15));
}

TEST_CASE("day: watered as needed, no pot is beyond its threshold, to the last bit") {
  Random random(43);
  DayPlan plan;
  plan.as_needed = true;
  int waterings = 0;
  for (int i = 0; i < 300; ++i) {
    PotParameters pot = random_pot(random);
    pot.rewet_l = 0.0;  // one that sheds may stay beyond it
    pot.threshold_fraction = 0.0;
    PotState state{.rooted_share = pot.initial_rooted_share};
    for (int d = 0; d < 20; ++d) {
      const DayResult day = run_day(pot, state, random_forcing(random, pot), plan);
      state = day.state;
      waterings += day.waterings;
      if (day.waterings >= pot.waterings_cap_per_day) continue;
      CAPTURE(i);
      CAPTURE(d);
      CHECK_FALSE(day.threshold_at);
      CHECK_FALSE(day.stressed_at);
    }
  }
  CHECK(waterings > 3000);
}

TEST_CASE("day: the books close for random pots over random days, with every routine") {
  Random random(31);
  for (int i = 0; i < 3000; ++i) {
    const PotParameters pot = random_pot(random);
    PotState state{.rooted_share = pot.initial_rooted_share};
    std::vector<Visit> at;
    for (double x = random.uniform(0.0, 0.5); x < 1.0; x += random.uniform(0.2, 0.9))
      at.push_back({x, 1.0});
    DayPlan plan = visits(at, static_cast<VisitRule>(random.below(3)));
    plan.as_needed = random.chance(0.3);
    if (random.chance(0.2)) plan.give_l = random.uniform(0.0, 0.5) * pot.refilled_l;
    for (int day_number = 0; day_number < 20; ++day_number) {
      const DayForcing forcing = random_forcing(random, pot);
      const DayResult day = run_day(pot, state, forcing, plan);
      const double in = day.rain_l + day.watered_l;
      const double out = day.transpired_l + day.evaporated_l + day.drained_l;
      const double change = store_l(pot, day.state) - store_l(pot, state);
      CAPTURE(i);
      CAPTURE(day_number);
      REQUIRE(near(in - out, change, 1e-12 * (in + out + pot.refilled_l)));
      REQUIRE(day.state.rooted_depletion_l <=
              (pot.refilled_l - pot.air_dry_l) * day.state.rooted_share + 1e-12 * pot.refilled_l);
      REQUIRE(day.state.rooted_depletion_l >= -pot.surplus_store_l - 1e-12 * pot.refilled_l);
      state = day.state;
    }
  }
}

TEST_CASE("day: a visit that gives nothing splits the day without changing it") {
  Random random(32);
  for (int i = 0; i < 10000; ++i) {
    const PotParameters pot = random_pot(random);
    PotState state{.rooted_share = pot.initial_rooted_share};
    state.rooted_depletion_l = random.uniform() * pot.total_available_l * state.rooted_share;
    const DayForcing forcing = random_forcing(random, pot);
    const std::vector<Visit> idle{{random.uniform(), 1.0}, {1.0, 1.0}};
    DayPlan split = visits(idle);
    split.give_l = 0.0;
    const DayResult whole = run_day(pot, state, forcing, {});
    const DayResult halves = run_day(pot, state, forcing, split);
    CAPTURE(i);
    REQUIRE(near(halves.state.rooted_depletion_l, whole.state.rooted_depletion_l,
                 1e-12 * pot.refilled_l));
    REQUIRE(near(halves.transpired_l, whole.transpired_l, 1e-12 * pot.refilled_l));
    REQUIRE(halves.waterings == 0);
  }
}

TEST_CASE("day: as-needed water that the pot does not take ends the watering") {
  // Made by hand, past what build_pot lets through: a threshold that nothing can bring it under.
  PotParameters pot;
  pot.mix_l = 10.0;
  pot.refilled_l = 2.0;
  pot.total_available_l = 0.0;
  pot.waterings_cap_per_day = 12;
  const DayForcing forcing{};
  DayInProgress day(pot, PotState{.rooted_share = 1.0}, forcing);
  const DayPlan plan{.as_needed = true, .give_l = {}, .visits = {}};
  day.water_as_needed(plan, 0.0);
  CHECK(day.state().rooted_depletion_l == 0.0);
}

}  // namespace wiltline::test
