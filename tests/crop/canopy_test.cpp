// The crown over a pot: plants that grow in proportion, and share the room there is.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/crop/canopy.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::test {
namespace {

double disc_m2(double diameter_m) {
  return std::numbers::pi * diameter_m * diameter_m / 4.0;
}

Crop shrub() {
  Crop crop;
  crop.canopy_diameter_m = {0.6, 0.5, 0.7};
  crop.crown_height_m = {0.9, 0.7, 1.1};
  crop.leaf_area_m2 = {1.2, 0.8, 1.6};
  return crop;
}

}  // namespace

TEST_CASE("canopy: one plant at full size is the plant of the table") {
  const Canopy full = canopy(shrub(), {.plants = 1, .pot_diameter_m = 0.4}, 1.0, 1.0);
  CHECK(near(full.plan_area_m2, disc_m2(0.6), 1e-14));
  CHECK(near(full.width_m, 0.6, 1e-14));
  CHECK(near(full.height_m, 0.9, 1e-14));
  CHECK(near(full.leaf_area_m2, 1.2, 1e-14));
}

TEST_CASE("canopy: a plant grows in proportion") {
  // Same shape: lengths go with the cube root of leaf mass, here taken as leaf area (judged).
  const Canopy full = canopy(shrub(), {.plants = 1, .pot_diameter_m = 0.4}, 1.0, 1.0);
  const Canopy eighth = canopy(shrub(), {.plants = 1, .pot_diameter_m = 0.4}, 0.125, 1.0);
  CHECK(near(eighth.width_m / full.width_m, 0.5, 1e-12));
  CHECK(near(eighth.height_m / full.height_m, 0.5, 1e-12));
  CHECK(near(eighth.plan_area_m2 / full.plan_area_m2, 0.25, 1e-12));
  CHECK(near(eighth.leaf_area_m2 / full.leaf_area_m2, 0.125, 1e-12));
  for (const double share : {0.01, 0.2, 0.7}) {
    const Canopy small = canopy(shrub(), {.plants = 1, .pot_diameter_m = 0.4}, share, 1.0);
    CHECK(near(small.height_m / small.width_m, full.height_m / full.width_m, 1e-12));
  }
}

TEST_CASE("canopy: the size factor takes from area and leaves alike") {
  const Canopy full = canopy(shrub(), {.plants = 1, .pot_diameter_m = 0.4}, 0.5, 1.0);
  const Canopy short_of_mix = canopy(shrub(), {.plants = 1, .pot_diameter_m = 0.4}, 0.5, 0.64);
  CHECK(near(short_of_mix.plan_area_m2 / full.plan_area_m2, 0.64, 1e-12));
  CHECK(near(short_of_mix.leaf_area_m2 / full.leaf_area_m2, 0.64, 1e-12));
  CHECK(near(short_of_mix.width_m / full.width_m, 0.8, 1e-12));
  CHECK(near(short_of_mix.height_m / full.height_m, 0.8, 1e-12));
}

TEST_CASE("canopy: several plants never cover more than themselves, nor more than their disc") {
  for (const auto& entry : catalogue().crops.entries()) {
    CAPTURE(entry.name);
    for (int plants = 1; plants <= 40; ++plants) {
      for (const double pot_m : {0.05, 0.2, 0.5, 1.2}) {
        const Stand stand{.plants = plants, .pot_diameter_m = pot_m};
        const double spread_m = planting_ring_m(plants, pot_m);
        for (const double share : {0.01, 0.3, 1.0}) {
          for (const double factor : {0.4, 1.0}) {
            const Canopy crown = canopy(entry.value, stand, share, factor);
            const Canopy alone =
                canopy(entry.value, {.plants = 1, .pot_diameter_m = pot_m}, share, factor);
            const double sum = plants * alone.plan_area_m2;
            const double disc = disc_m2(spread_m + alone.width_m);
            REQUIRE(crown.plan_area_m2 <= sum * (1.0 + 1e-12));
            REQUIRE(crown.plan_area_m2 <= disc * (1.0 + 1e-12));
            REQUIRE(near(crown.plan_area_m2, std::min(sum, disc), 1e-12 * disc));
            REQUIRE(crown.plan_area_m2 >= alone.plan_area_m2 * (1.0 - 1e-12));
            REQUIRE(near(disc_m2(crown.width_m), crown.plan_area_m2, 1e-12 * disc));
            // FAO-56 Box 17: density goes with the square root of crowding.
            const double crowding = sum / crown.plan_area_m2;
            REQUIRE(near(crown.leaf_area_m2, plants * alone.leaf_area_m2 / std::sqrt(crowding),
                         1e-12 * crown.leaf_area_m2));
            REQUIRE(crown.height_m == alone.height_m);
          }
        }
      }
    }
  }
}

TEST_CASE("canopy: plants far apart add up, plants close together share") {
  Crop seedling = shrub();
  seedling.canopy_diameter_m = {0.02, 0.02, 0.02};
  const Canopy apart = canopy(seedling, {.plants = 4, .pot_diameter_m = 0.5}, 1.0, 1.0);
  CHECK(near(apart.plan_area_m2, 4.0 * disc_m2(0.02), 1e-15));
  // Four large plants in a small pot: the disc of ring (half the pot) plus canopy.
  const Canopy close = canopy(shrub(), {.plants = 4, .pot_diameter_m = 0.3}, 1.0, 1.0);
  CHECK(near(close.plan_area_m2, disc_m2(0.15 + 0.6), 1e-14));
  CHECK(close.plan_area_m2 < 4.0 * disc_m2(0.6));
}

TEST_CASE("canopy: crowns in a box cover what their discs cover") {
  // Counted on a grid of 1 mm, which errs by up to 2e-5 m2 a disc, for plants set out evenly in as
  // many rows as give the squarest places. Rows of unequal numbers are set out each by itself.
  struct Box {
    int plants;
    double length_m, width_m;
    std::vector<int> in_rows;
    double within;  // of the counted area
  };
  const Box boxes[] = {{3, 0.88, 0.20, {3}, 0.002},        {2, 0.60, 0.20, {2}, 0.002},
                       {6, 0.88, 0.20, {6}, 0.002},        {4, 0.40, 0.40, {2, 2}, 0.002},
                       {12, 0.90, 0.60, {4, 4, 4}, 0.002}, {1, 0.50, 0.20, {1}, 0.002},
                       {5, 0.60, 0.40, {3, 2}, 0.07},      {7, 0.80, 0.40, {4, 3}, 0.07}};
  for (const Box& box : boxes) {
    for (const double diameter_m : {0.05, 0.12, 0.25, 0.35, 0.6}) {
      CAPTURE(box.plants);
      CAPTURE(diameter_m);
      std::vector<std::pair<double, double>> middles;
      const auto rows = static_cast<double>(box.in_rows.size());
      for (std::size_t row = 0; row < box.in_rows.size(); ++row) {
        for (int i = 0; i < box.in_rows[row]; ++i) {
          middles.emplace_back(box.length_m * (i + 0.5) / box.in_rows[row],
                               box.width_m * (static_cast<double>(row) + 0.5) / rows);
        }
      }
      constexpr double step_m = 0.001;
      const double r = diameter_m / 2.0;
      int covered = 0;
      for (double x = -r; x < box.length_m + r; x += step_m) {
        for (double y = -r; y < box.width_m + r; y += step_m) {
          covered += std::any_of(middles.begin(), middles.end(), [&](const auto& at) {
            return std::hypot(x - at.first, y - at.second) <= r;
          });
        }
      }
      const double counted_m2 = covered * step_m * step_m;
      CHECK(near(box_cover_m2(box.plants, diameter_m, box.length_m, box.width_m), counted_m2,
                 box.within * counted_m2 + 2e-5 * box.plants));
    }
  }
}

TEST_CASE("canopy: three plants in a long box do not share a disc") {
  Crop bush = shrub();
  bush.canopy_diameter_m = {0.35, 0.35, 0.35};
  const Stand box{.plants = 3, .pot_diameter_m = 0.47, .box_length_m = 0.88, .box_width_m = 0.2};
  const Canopy crowns = canopy(bush, box, 1.0, 1.0);
  // 0.29 m apart: three discs less two lenses, each 2 r2 acos(s / 2r) - s / 2 sqrt(4 r2 - s2).
  const double s = 0.88 / 3.0;
  const double lens =
      2.0 * 0.175 * 0.175 * std::acos(s / 0.35) - s / 2.0 * std::sqrt(0.35 * 0.35 - s * s);
  CHECK(near(crowns.plan_area_m2, 3.0 * disc_m2(0.35) - 2.0 * lens, 1e-12));
  const Canopy in_a_round_pot = canopy(bush, {.plants = 3, .pot_diameter_m = 0.47}, 1.0, 1.0);
  CHECK(crowns.plan_area_m2 > 1.15 * in_a_round_pot.plan_area_m2);
}

TEST_CASE("canopy: a second plant in a small pot adds little (Blanusa 2009)") {
  // A second petunia raised the water use of a 2 l pot by only about 10 percent (Blanusa et al.
  // 2009, read in abstract; "about 10" taken as 5 to 15). Set against it: the plan area of crowns
  // 0.3 m wide over a pot of 15 cm (both judged), where each of two plants has half the mix
  // (pot_limit).
  Crop petunia = shrub();
  petunia.canopy_diameter_m = {0.3, 0.3, 0.3};
  const double one = canopy(petunia, {.plants = 1, .pot_diameter_m = 0.15}, 1.0, 1.0).plan_area_m2;
  const double half_the_mix = pot_limit(1.0, 2.0, catalogue().parameters.pot_limit_exponent);
  const double two =
      canopy(petunia, {.plants = 2, .pot_diameter_m = 0.15}, 1.0, half_the_mix).plan_area_m2;
  CHECK(near(two / one, 1.10, 0.05));
}

TEST_CASE("canopy: the planting ring") {
  CHECK(planting_ring_m(1, 0.4) == 0.0);
  CHECK(near(planting_ring_m(4, 0.4), 0.2, 1e-15));
  CHECK(near(planting_ring_m(100, 0.4), 0.36, 1e-15));
  for (int plants = 1; plants < 100; ++plants) {
    CHECK(planting_ring_m(plants, 0.4) < planting_ring_m(plants + 1, 0.4));
    CHECK(planting_ring_m(plants, 0.4) < 0.4);
  }
}

TEST_CASE(
    "pot limit: a plant short of mix stays smaller, one with more than enough does not grow more") {
  CHECK(pot_limit(20.0, 20.0, 0.25) == 1.0);
  CHECK(pot_limit(100.0, 20.0, 0.25) == 1.0);
  CHECK(near(pot_limit(1.25, 20.0, 0.25), 0.5, 1e-15));
  CHECK(pot_limit(10.0, 20.0, 0.5) < pot_limit(10.0, 20.0, 0.25));
  double before = 0.0;
  for (double litres = 0.05; litres < 20.0; litres *= 1.3) {
    const double now = pot_limit(litres, 20.0, 0.25);
    CHECK(now > before);
    CHECK(now < 1.0);
    before = now;
  }
}

TEST_CASE("pot limit: sweet pepper in 21 and 7 litres of coir") {
  // The crop coefficient fell by 11.5 percent from 21 to 7 l a plant (Costa Rica trial, read in
  // abstract): an exponent of 0.11, the low end of the parameter's range. The default of 0.25 says
  // 24 percent, and is judged.
  CHECK(near(pot_limit(7.0, 21.0, 0.11), 1.0 - 0.115, 0.005));
  CHECK(near(pot_limit(7.0, 21.0, 0.25), 0.76, 0.005));
}

}  // namespace wiltline::test
