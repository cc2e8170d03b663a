// States set right by scales or finger, or carried over to another pot, by hand.
#include "wiltline/budget/state_correction.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/budget/day.hpp"

namespace wiltline::test {
namespace {

constexpr double tiny = 1e-12;

PotParameters pot() {
  PotParameters result;
  result.mix_l = 10.0;
  result.refilled_l = 6.0;
  result.air_dry_l = 1.0;
  result.total_available_l = 4.0;
  result.readily_evaporable_l = 0.4;
  result.total_evaporable_l = 1.0;
  result.top_draw_share = 0.2;
  result.top_dry_limit_l = 0.7;
  result.surplus_store_l = 0.5;
  result.mulch_store_l = 0.3;
  return result;
}

/// Two fifths rooted; the rooted part has lost 0.9 L, the other 0.3.
constexpr PotState computed{.rooted_depletion_l = 0.9,
                            .top_depletion_l = 0.2,
                            .unrooted_depletion_l = 0.3,
                            .rooted_share = 0.4,
                            .mulch_water_l = 0.25};

}  // namespace

TEST_CASE("weighed: holds what the scales say, mulch included, in the proportion computed") {
  const PotState state =
      holding(pot(), computed, 4.25);  // 0.25 in the mulch, 2.0 missing of the mix
  CHECK(near(store_l(pot(), state), 4.25, tiny));
  CHECK(near(state.rooted_depletion_l, 1.5, tiny));
  CHECK(near(state.unrooted_depletion_l, 0.5, tiny));
  CHECK(state.mulch_water_l == 0.25);
  CHECK(state.rooted_share == 0.4);
  CHECK(state.top_depletion_l == 0.2);
}

TEST_CASE("weighed: more than refilled stands in the saucer, as far as that reaches") {
  const PotState wet = holding(pot(), computed, 6.45);
  CHECK(near(wet.rooted_depletion_l, -0.2, tiny));
  CHECK(wet.unrooted_depletion_l == 0.0);
  CHECK(wet.top_depletion_l == 0.0);
  CHECK(near(holding(pot(), computed, 9.0).rooted_depletion_l, -0.5, tiny));
}

TEST_CASE(
    "weighed: what one part cannot be short of, the other is; nothing is drier than air-dry") {
  // Of the 5 L that can go, 2 are in the rooted part.
  const PotState dry = holding(pot(), computed, 6.25 - 4.0);
  CHECK(near(dry.rooted_depletion_l, 2.0, tiny));
  CHECK(near(dry.unrooted_depletion_l, 2.0, tiny));
  const PotState driest = holding(pot(), computed, 0.0);
  CHECK(near(driest.rooted_depletion_l, 2.0, tiny));
  CHECK(near(driest.unrooted_depletion_l, 3.0, tiny));
}

TEST_CASE("felt: the top's depletion moves just far enough to agree, or stays") {
  // The limit is 0.7 L; the top feels 0.2 + 0.2 (1.2 - 0.2) = 0.4 L.
  const PotState moist = with_top_felt(pot(), computed, false);
  CHECK(moist == computed);
  const PotState dry = with_top_felt(pot(), computed, true);
  CHECK(top_feels_dry(pot(), dry));
  CHECK(near(dry.top_depletion_l, (0.7 - 0.2 * 1.2) / 0.8, 1e-8));
  CHECK(dry.rooted_depletion_l == 0.9);
  // It lost its share of the top at least: 1 - 0.4^(2/3) of 0.575 L, which is less than its 0.3 L.
  CHECK(dry.unrooted_depletion_l == 0.3);
  PotState less = computed;
  less.unrooted_depletion_l = 0.1;
  const PotState dry_top = with_top_felt(pot(), less, true);
  CHECK(near(dry_top.unrooted_depletion_l,
             (1.0 - std::pow(0.4, 2.0 / 3.0)) * dry_top.top_depletion_l, tiny));
  const PotState back = with_top_felt(pot(), dry, false);
  CHECK_FALSE(top_feels_dry(pot(), back));
  CHECK(near(back.top_depletion_l, (0.7 - 0.2 * (0.9 + dry.unrooted_depletion_l)) / 0.8, 1e-8));
}

TEST_CASE("another pot: the same share of what can go is gone, as far as its stores reach") {
  PotParameters twice = pot();
  twice.refilled_l = 12.0;
  twice.air_dry_l = 2.0;
  twice.surplus_store_l = 0.1;
  twice.mulch_store_l = 0.0;
  twice.total_evaporable_l = 0.3;
  const PotState moved = in_other_pot(computed, pot(), twice);
  CHECK(near(moved.rooted_depletion_l, 1.8, tiny));
  CHECK(near(moved.unrooted_depletion_l, 0.6, tiny));
  CHECK(near(moved.top_depletion_l, 0.3, tiny));
  CHECK(moved.mulch_water_l == 0.0);
  PotState full = computed;
  full.rooted_depletion_l = -0.4;
  CHECK(near(in_other_pot(full, pot(), twice).rooted_depletion_l, -0.1, tiny));
}

TEST_CASE("another pot: roots hold all of a single store, whatever they hold of another") {
  PotParameters single = pot();
  single.single_store = true;
  const PotState moved = in_other_pot(computed, pot(), single);
  CHECK(near(moved.rooted_depletion_l, 1.2, tiny));
  CHECK(moved.unrooted_depletion_l == 0.0);
  CHECK(moved.rooted_share == 1.0);
}

TEST_CASE("dry mix: bulk density times litres") {
  const Mix mix{.name = {},
                .composition = {},
                .curve = ReleaseCurve(std::vector<ReleaseCurve::Part>{}),
                .bulk_density_kg_l = 0.2};
  CHECK(near(dry_mix_kg(mix, 15.0), 3.0, tiny));
}

TEST_CASE("weighed: less than tare and dry mix, or more than full, is refused") {
  const ModelParameters& model = catalogue().parameters;
  Planting planting = one_row("basil", "clay 3 l,potting mix,3,05-25,patio,daily 07:00");
  CHECK(weight_fault(planting, model, 2.0)->text() ==
        "found no tare_kg for \"it\"; expected what its empty pot weighs");
  planting.tare_kg = 1.0;
  CHECK(weight_fault(planting, model, 0.5)->text() ==
        "found \"it\" of 0.5 kg, below its tare of 1 kg; expected more");
  const PotParameters built = build_pot(planting, model);
  const double dry_kg = 1.0 + dry_mix_kg(planting.mix, built.mix_l);
  CHECK(weight_fault(planting, model, dry_kg - 0.01));
  CHECK_FALSE(weight_fault(planting, model, dry_kg + 0.01));
  // Full to the brim, with plants.
  CHECK_FALSE(weight_fault(planting, model, dry_kg + built.saturated_l + 0.5));
  CHECK(weight_fault(planting, model, 30.0)->found == "\"it\" of 30 kg, heavier than full");
}

}  // namespace wiltline::test
