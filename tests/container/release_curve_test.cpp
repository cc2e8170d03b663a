// Release curves: van Genuchten's form, and whole curves added by volume.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "support/near.hpp"
#include "support/random.hpp"
#include "wiltline/container/release_curve.hpp"

namespace wiltline::test {
namespace {

VanGenuchten random_curve(Random& random) {
  VanGenuchten curve;
  curve.theta_s = random.uniform(0.3, 0.95);
  curve.theta_r = random.uniform(0.0, 0.25);
  curve.alpha_per_kpa = std::pow(10.0, random.uniform(-1.0, 1.6));
  curve.n = random.uniform(1.1, 3.0);
  return curve;
}

}  // namespace

TEST_CASE("van Genuchten: points that follow from the form itself") {
  // theta = theta_r + (theta_s - theta_r) (1 + (alpha h)^n)^-(1 - 1/n): van Genuchten 1980, eq. 21.
  const VanGenuchten curve{0.91, 0.21, 0.5, 2.0};
  CHECK(curve.water_content(0.0) == 0.91);
  // alpha h = 1: the bracket is 2, whatever n is.
  CHECK(near(curve.water_content(2.0), 0.21 + 0.70 / std::sqrt(2.0), 1e-15));
  // n = 2: 1 / sqrt(1 + x^2), which at x = 3/4 is 4/5.
  CHECK(near(curve.water_content(1.5), 0.21 + 0.70 * 0.8, 1e-15));
  // n = 3/2: (1 + x^1.5)^(-1/3), which at x = 7^(2/3) is 1/2.
  const VanGenuchten other{0.80, 0.10, 1.0, 1.5};
  CHECK(near(other.water_content(std::pow(7.0, 2.0 / 3.0)), 0.10 + 0.70 * 0.5, 1e-15));
}

TEST_CASE("van Genuchten: falls from saturation to the residual content") {
  Random random(11);
  for (int i = 0; i < 200; ++i) {
    const VanGenuchten curve = random_curve(random);
    double before = curve.theta_s;
    for (double suction_kpa = 0.01; suction_kpa < 1e5; suction_kpa *= 1.5) {
      const double content = curve.water_content(suction_kpa);
      REQUIRE(content < before);
      REQUIRE(content > curve.theta_r);
      before = content;
    }
    // Far out the form is a power law: (alpha h)^-(n - 1).
    const double content = curve.water_content(1e4 / curve.alpha_per_kpa);
    const double effective = (content - curve.theta_r) / (curve.theta_s - curve.theta_r);
    CHECK(near(effective / std::pow(1e4, -(curve.n - 1.0)), 1.0, 1e-4));
  }
}

TEST_CASE("release curve: one material is that material") {
  Random random(12);
  for (int i = 0; i < 50; ++i) {
    const VanGenuchten material = random_curve(random);
    const ReleaseCurve curve({{1.0, material}});
    CHECK(near(curve.total_porosity(), material.theta_s, 1e-15));
    for (const double suction_kpa : {0.0, 0.3, 1.0, 5.0, 100.0, 1500.0}) {
      CHECK(near(curve.water_content(suction_kpa), material.water_content(suction_kpa), 1e-15));
    }
  }
}

TEST_CASE("release curve: contents add up by volume at each suction") {
  Random random(13);
  for (int i = 0; i < 50; ++i) {
    const VanGenuchten a = random_curve(random);
    const VanGenuchten b = random_curve(random);
    const VanGenuchten c = random_curve(random);
    const ReleaseCurve curve({{0.5, a}, {0.3, b}, {0.2, c}});
    CHECK(near(curve.total_porosity(), 0.5 * a.theta_s + 0.3 * b.theta_s + 0.2 * c.theta_s, 1e-14));
    for (double h = 0.0; h < 2000.0; h = h * 2.0 + 0.05) {
      CHECK(near(curve.water_content(h),
                 0.5 * a.water_content(h) + 0.3 * b.water_content(h) + 0.2 * c.water_content(h),
                 1e-14));
    }
  }
}

TEST_CASE("release curve: shrinkage packs the solids and the water, and drowns no one") {
  Random random(14);
  for (int i = 0; i < 100; ++i) {
    const VanGenuchten a = random_curve(random);
    const VanGenuchten b = random_curve(random);
    const double shrinkage = random.uniform(0.0, 0.2);
    const ReleaseCurve curve({{0.6, a}, {0.4, b}}, shrinkage);
    // A litre of the loose parts becomes 1 - s litres of mix: its solids stay what they were.
    const double solids_before = 0.6 * (1.0 - a.theta_s) + 0.4 * (1.0 - b.theta_s);
    CHECK(near((1.0 - curve.total_porosity()) * (1.0 - shrinkage), solids_before, 1e-14));
    for (double h = 0.0; h < 2000.0; h = h * 2.0 + 0.05) {
      const double packed =
          (0.6 * a.water_content(h) + 0.4 * b.water_content(h)) / (1.0 - shrinkage);
      CHECK(curve.water_content(h) <= curve.total_porosity());
      CHECK(near(curve.water_content(h), std::fmin(packed, curve.total_porosity()), 1e-14));
    }
  }
}

TEST_CASE("release curve: many suctions at once give the bits of each alone, and those of powers") {
  Random random(31);
  for (const std::size_t count : {1U, 95U, 96U, 250U}) {
    const ReleaseCurve curve({{0.7, random_curve(random)}, {0.3, random_curve(random)}}, 0.05);
    std::vector<double> suctions(count);
    for (double& suction : suctions)
      suction = random.chance(0.1) ? 0.0 : random.uniform(0.0, 200.0);
    std::vector<double> contents = suctions;
    curve.water_contents(contents);
    for (std::size_t i = 0; i < count; ++i) {
      CHECK(contents[i] == curve.water_content(suctions[i]));
    }
    const VanGenuchten one = random_curve(random);
    for (const double suction : suctions) {
      const double expected =
          one.theta_r +
          (one.theta_s - one.theta_r) *
              std::pow(1.0 + std::pow(one.alpha_per_kpa * suction, one.n), -(1.0 - 1.0 / one.n));
      CHECK(near(one.water_content(suction), expected, 1e-14));
    }
  }
}

}  // namespace wiltline::test
