// What a garden's row becomes for the account: every part of PotParameters that a row or the model
// moves.
#include "wiltline/budget/pot_parameters.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/budget/interval.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

Planting tomato(const std::string& pot = "nursery 11 l") {
  return one_row("tomato", pot + ",potting mix,1,05-15,patio,daily 07:00");
}

}  // namespace

TEST_CASE("pot: its store is what the container holds of the mix") {
  const Planting planting = tomato();
  const PotParameters pot = build_pot(planting, model());
  const HeldWater held = held_water(planting.pot, planting.mix, model().refill_share);
  CHECK(pot.mix_l == held.mix_l);
  CHECK(pot.refilled_l == held.refilled_l);
  CHECK(pot.lower_limit_l == held.lower_limit_l);
  CHECK(pot.saturated_l == held.saturated_l);
  CHECK(pot.total_available_l == held.available_l());
  CHECK(near(pot.air_dry_l, model().air_dry_share * held.wilting_l, 1e-12));
  CHECK(near(pot.rewet_l, planting.mix.rewet_m3_m3 * held.mix_l, 1e-12));
  CHECK(pot.first_uptake == model().first_uptake);
  CHECK(pot.second_uptake == planting.mix.second_uptake);
}

TEST_CASE("pot: the top layer's share, and a pot too shallow for one") {
  const Planting planting = tomato();
  const PotParameters deep = build_pot(planting, model());
  CHECK_FALSE(deep.single_store);
  const double layer = model().top_layer_cm / planting.pot.mix_depth_cm();
  CHECK(
      near(deep.top_draw_share, layer * (1.0 + model().root_depth_decline * (1.0 - layer)), 1e-12));
  CHECK(near(deep.readily_evaporable_l, planting.mix.rew_mm * deep.top_area_m2, 1e-12));
  CHECK(near(deep.total_evaporable_l, planting.mix.tew_mm * deep.top_area_m2, 1e-12));

  const PotParameters shallow = build_pot(tomato("cell 0.05 l"), model());
  CHECK(shallow.single_store);
  CHECK(shallow.initial_rooted_share == 1.0);
  CHECK(near(shallow.total_evaporable_l, shallow.refilled_l - shallow.air_dry_l, 1e-15));
  CHECK(near(shallow.readily_evaporable_l / shallow.total_evaporable_l,
             planting.mix.rew_mm / planting.mix.tew_mm, 1e-12));

  // Exactly at the depth from which there is a layer.
  Planting edge = planting;
  edge.pot = edge.pot.scaled_to(edge.pot.mix_l());
  ModelParameters at_edge = model();
  at_edge.single_store_depth_cm = edge.pot.mix_depth_cm();
  CHECK_FALSE(build_pot(edge, at_edge).single_store);
}

TEST_CASE("pot: a porous wall evaporates by its area, half of it rim to rim") {
  Planting planting = tomato("clay 10.5 l");
  planting.spot.closure = Ranged::exactly(0.0);
  const double free_l_mm = build_pot(planting, model()).wall_evaporation_l_mm;
  CHECK(near(free_l_mm,
             planting.pot.wall.evaporation_share.value * planting.pot.mix_shape().wall_area_m2(),
             1e-12));
  CHECK(free_l_mm > 0.0);
  planting.spot.closure = Ranged::exactly(1.0);
  CHECK(model().tight_wall_factor == 0.5);
  CHECK(near(build_pot(planting, model()).wall_evaporation_l_mm, 0.5 * free_l_mm, 1e-12));
}

TEST_CASE("pot: what stands below the mix, and what drains") {
  Planting planting = tomato();
  planting.saucer_l = 0.8;
  const PotParameters saucer = build_pot(planting, model());
  CHECK(saucer.surplus_store_l == 0.8);
  CHECK(saucer.watered_store_l == 0.8);
  CHECK(saucer.drained_share == model().drained_share);

  planting.pot.drains = false;
  const PotParameters closed = build_pot(planting, model());
  CHECK(near(closed.surplus_store_l, closed.saturated_l - closed.refilled_l, 1e-12));
  CHECK(closed.drained_share == 0.0);
}

TEST_CASE("pot: a reservoir and its saucer count in full, however deep the mix") {
  Planting planting = tomato("nursery 37 l");
  planting.saucer_l = 0.3;
  planting.pot.reservoir_l = 4.0;
  for (const double litres : {12.0, 37.0, 120.0}) {
    CAPTURE(litres);
    planting.pot = planting.pot.scaled_to(litres);
    planting.pot.reservoir_l = 4.0;
    const PotParameters pot = build_pot(planting, model());
    CHECK(near(pot.watered_store_l, 4.3, 1e-12));
    CHECK(near(pot.surplus_store_l, 4.3, 1e-12));
  }
}

TEST_CASE("pot: a mulch holds its store over the top; thresholds and lines as given") {
  Planting planting = tomato();
  const PotParameters bare = build_pot(planting, model());
  CHECK(bare.mulch_store_l == 0.0);
  CHECK(bare.threshold_fraction == 0.0);
  CHECK(bare.wilting_fraction == model().wilting_line);
  CHECK(bare.dry_fraction == model().dry_line);
  CHECK(bare.waterings_cap_per_day == static_cast<int>(model().as_needed_cap_per_day));
  planting.mulch = true;
  planting.threshold_fraction = 0.35;
  const PotParameters mulched = build_pot(planting, model());
  CHECK(near(mulched.mulch_store_l, model().mulch_store_mm * mulched.top_area_m2, 1e-12));
  CHECK(mulched.threshold_fraction == 0.35);
}

TEST_CASE("pot: roots begin as the balls of all plants and hold 0.99 of the mix on the last day") {
  Planting planting = tomato();
  planting.crop.root_ball_l = 0.4;
  planting.plants = 2;
  const PotParameters pot = build_pot(planting, model());
  CHECK(near(pot.initial_rooted_share, 0.8 / pot.mix_l, 1e-12));
  PotState state{.rooted_share = pot.initial_rooted_share};
  for (int day = 0; day < static_cast<int>(model().root_fill_days); ++day) {
    state = grow_roots(pot, state, false);
  }
  CHECK(near(state.rooted_share, 0.99, 1e-12));
  CHECK(rooted_share(pot, model().root_fill_days - 1.0) < 0.99);
  CHECK(rooted_share(pot, model().root_fill_days) == 1.0);
  CHECK(near(rooted_share(pot, 0.0), pot.initial_rooted_share, 1e-15));

  planting.crop.root_ball_l = pot.mix_l;
  CHECK(build_pot(planting, model()).initial_rooted_share == 1.0);
}

TEST_CASE("pot: one that holds no water for plants is refused where it is built") {
  Planting planting = tomato();
  planting.pot.shape = PotShape::round(40.0, 40.0, 500.0);
  planting.mix = *catalogue().mix("sand 100");
  ModelParameters drawn = model();
  drawn.refill_share = 0.05;
  CHECK(refusal([&] {
          (void)build_pot(planting, drawn);
        }).starts_with("request: it: found a pot that holds no water plants can use"));
}

}  // namespace wiltline::test
