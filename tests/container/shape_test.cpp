// The inside of pots: volumes and areas against closed forms written down another way.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "support/near.hpp"
#include "support/random.hpp"
#include "wiltline/container/shape.hpp"

namespace wiltline::test {
namespace {

constexpr double pi = std::numbers::pi;

PotShape random_shape(Random& random) {
  const double height = random.uniform(2.0, 60.0);
  if (random.chance(0.5)) {
    return PotShape::round(random.uniform(2.0, 70.0), random.uniform(2.0, 70.0), height);
  }
  return PotShape::rectangular(random.uniform(2.0, 100.0), random.uniform(2.0, 60.0),
                               random.uniform(2.0, 100.0), random.uniform(2.0, 60.0), height);
}

}  // namespace

TEST_CASE("shape: a round pot is the frustum of a cone") {
  // V = pi h (D^2 + D d + d^2) / 12, side = pi (R + r) s with s^2 = h^2 + (R - r)^2: Euclidean
  // geometry, from memory.
  Random random(1);
  for (int i = 0; i < 200; ++i) {
    const double top = random.uniform(2.0, 70.0);
    const double bottom = random.uniform(2.0, 70.0);
    const double height = random.uniform(2.0, 60.0);
    const PotShape pot = PotShape::round(top, bottom, height);
    const double volume_cm3 = pi * height * (top * top + top * bottom + bottom * bottom) / 12.0;
    const double slant = std::sqrt(height * height + (top - bottom) * (top - bottom) / 4.0);
    CHECK(near(pot.volume_l(), volume_cm3 / 1000.0, 1e-12 * volume_cm3));
    CHECK(near(pot.wall_area_m2(), pi * (top + bottom) / 2.0 * slant / 1e4, 1e-12));
    CHECK(near(pot.top_area_m2(), pi * top * top / 4e4, 1e-14));
    CHECK(near(pot.top_equivalent_diameter_m(), top / 100.0, 1e-14));
  }
}

TEST_CASE("shape: a known pot") {
  // 26 cm over 22.5 cm, 22.9 cm high: the printed digits of a hand calculation.
  const PotShape pot = PotShape::round(26.0, 22.5, 22.9);
  CHECK(near(pot.volume_l(), 10.595, 0.0005));
  CHECK(near(pot.wall_area_m2(), 0.1750, 0.00005));
  CHECK(pot.is_round());
  CHECK(pot.height_cm() == 22.9);
  CHECK(pot.top_length_cm() == 26.0);
  CHECK(pot.top_width_cm() == 26.0);
  CHECK(pot.bottom_length_cm() == 22.5);
  CHECK(pot.bottom_width_cm() == 22.5);
}

TEST_CASE("shape: a rectangular pot is a tapered box") {
  // V = h (2 L W + L w + l W + 2 l w) / 6 with top L x W and bottom l x w (the obelisk), and four
  // trapezia as sides: Euclidean geometry, from memory.
  Random random(2);
  for (int i = 0; i < 200; ++i) {
    const double top_l = random.uniform(2.0, 100.0);
    const double top_w = random.uniform(2.0, 60.0);
    const double bottom_l = random.uniform(2.0, 100.0);
    const double bottom_w = random.uniform(2.0, 60.0);
    const double height = random.uniform(2.0, 60.0);
    const PotShape pot = PotShape::rectangular(top_l, top_w, bottom_l, bottom_w, height);
    const double volume_cm3 =
        height *
        (2.0 * top_l * top_w + top_l * bottom_w + bottom_l * top_w + 2.0 * bottom_l * bottom_w) /
        6.0;
    const double across_width =
        std::sqrt(height * height + (top_w - bottom_w) * (top_w - bottom_w) / 4.0);
    const double across_length =
        std::sqrt(height * height + (top_l - bottom_l) * (top_l - bottom_l) / 4.0);
    const double walls_cm2 = (top_l + bottom_l) * across_width + (top_w + bottom_w) * across_length;
    CHECK(near(pot.volume_l(), volume_cm3 / 1000.0, 1e-12 * volume_cm3));
    CHECK(near(pot.wall_area_m2(), walls_cm2 / 1e4, 1e-12));
    CHECK(near(pot.top_area_m2(), top_l * top_w / 1e4, 1e-14));
    CHECK(
        near(pot.top_equivalent_diameter_m(), std::sqrt(4.0 * top_l * top_w / pi) / 100.0, 1e-12));
  }
}

TEST_CASE("shape: straight sides") {
  const PotShape cylinder = PotShape::round(20.0, 20.0, 30.0);
  CHECK(near(cylinder.volume_l(), pi * 100.0 * 30.0 / 1000.0, 1e-12));
  CHECK(near(cylinder.wall_area_m2(), pi * 20.0 * 30.0 / 1e4, 1e-14));
  const PotShape box = PotShape::rectangular(61.0, 30.5, 61.0, 30.5, 30.5);
  CHECK_FALSE(box.is_round());
  CHECK(near(box.volume_l(), 61.0 * 30.5 * 30.5 / 1000.0, 1e-12));
  CHECK(near(box.wall_area_m2(), 2.0 * (61.0 + 30.5) * 30.5 / 1e4, 1e-14));
}

TEST_CASE("shape: the volume is the sum of its slices") {
  Random random(3);
  for (int i = 0; i < 50; ++i) {
    const PotShape pot = random_shape(random);
    constexpr int slices = 2000;
    double sum_cm3 = 0.0;
    for (int k = 0; k < slices; ++k) {
      sum_cm3 += pot.area_cm2((k + 0.5) * pot.height_cm() / slices) * pot.height_cm() / slices;
    }
    CHECK(near(pot.volume_l() / (sum_cm3 / 1000.0), 1.0, 1e-6));
  }
}

TEST_CASE("shape: the cross-section runs from floor to rim") {
  const PotShape pot = PotShape::rectangular(40.0, 20.0, 30.0, 10.0, 25.0);
  CHECK(near(pot.area_cm2(0.0), 300.0, 1e-12));
  CHECK(near(pot.area_cm2(25.0), 800.0, 1e-12));
  CHECK(near(pot.area_cm2(12.5), 35.0 * 15.0, 1e-12));
}

TEST_CASE("shape: filled to a height it is the lower part of the same pot") {
  Random random(4);
  for (int i = 0; i < 100; ++i) {
    const PotShape pot = random_shape(random);
    const double height = pot.height_cm() * random.uniform(0.05, 1.0);
    const PotShape part = pot.filled_to(height);
    CHECK(part.height_cm() == height);
    CHECK(part.is_round() == pot.is_round());
    CHECK(part.bottom_length_cm() == pot.bottom_length_cm());
    CHECK(part.bottom_width_cm() == pot.bottom_width_cm());
    for (const double share : {0.0, 0.3, 0.7, 1.0}) {
      CHECK(near(part.area_cm2(share * height) / pot.area_cm2(share * height), 1.0, 1e-12));
    }
    // What is above it is the rest.
    const PotShape above =
        pot.is_round()
            ? PotShape::round(pot.top_length_cm(), part.top_length_cm(), pot.height_cm() - height)
            : PotShape::rectangular(pot.top_length_cm(), pot.top_width_cm(), part.top_length_cm(),
                                    part.top_width_cm(), pot.height_cm() - height);
    CHECK(near(part.volume_l() + above.volume_l(), pot.volume_l(), 1e-12 * pot.volume_l()));
    CHECK(near(part.wall_area_m2() + above.wall_area_m2(), pot.wall_area_m2(), 1e-12));
  }
  const PotShape pot = PotShape::round(30.0, 20.0, 25.0);
  CHECK(near(pot.filled_to(25.0).volume_l(), pot.volume_l(), 1e-12));
}

TEST_CASE(
    "shape: scaled, lengths go with the factor, areas with its square, volumes with its cube") {
  Random random(5);
  for (int i = 0; i < 100; ++i) {
    const PotShape pot = random_shape(random);
    const double factor = random.uniform(0.1, 5.0);
    const PotShape scaled = pot.scaled(factor);
    CHECK(scaled.is_round() == pot.is_round());
    CHECK(near(scaled.height_cm() / pot.height_cm(), factor, 1e-12));
    CHECK(near(scaled.top_length_cm() / pot.top_length_cm(), factor, 1e-12));
    CHECK(near(scaled.bottom_width_cm() / pot.bottom_width_cm(), factor, 1e-12));
    CHECK(near(scaled.top_area_m2() / pot.top_area_m2() / (factor * factor), 1.0, 1e-12));
    CHECK(near(scaled.wall_area_m2() / pot.wall_area_m2() / (factor * factor), 1.0, 1e-12));
    CHECK(near(scaled.volume_l() / pot.volume_l() / (factor * factor * factor), 1.0, 1e-12));
  }
}

}  // namespace wiltline::test
