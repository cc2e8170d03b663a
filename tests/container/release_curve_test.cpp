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

TEST_CASE("release curve: what lies below a suction, where it can be integrated by hand") {
  // n = 2: the integral of 1 / sqrt(1 + x^2) is asinh x, of x times it sqrt(1 + x^2) - 1, of x^2
  // times it (x sqrt(1 + x^2) - asinh x) / 2.
  const VanGenuchten part{0.90, 0.20, 1.5, 2.0};
  const ReleaseCurve curve({{1.0, part}});
  for (const double h : {0.02, 0.5, 1.0, 6.0, 49.0}) {
    CAPTURE(h);
    const double x = 1.5 * h;
    const double root = std::sqrt(1.0 + x * x);
    const ReleaseCurve::Below below = curve.below(h);
    CHECK(near(below.content / h, 0.20 + 0.70 * std::asinh(x) / x, 1e-10));
    CHECK(near(below.times_suction / (h * h), 0.10 + 0.70 * (root - 1.0) / (x * x), 1e-10));
    CHECK(near(below.times_square / (h * h * h),
               0.20 / 3.0 + 0.35 * (x * root - std::asinh(x)) / (x * x * x), 1e-8));
  }
  CHECK(curve.below(0.0).content == 0.0);
}

TEST_CASE("release curve: what lies below grows by what is in between, pores filled by shrinkage") {
  Random random(47);
  for (const double shrinkage : {0.0, 0.03, 0.2}) {
    const ReleaseCurve curve({{0.6, random_curve(random)}, {0.4, random_curve(random)}}, shrinkage);
    double content = 0.0;
    double times_suction = 0.0;
    double times_square = 0.0;
    constexpr int parts = 200000;
    constexpr double step = 20.0 / parts;
    for (int i = 0; i < parts; ++i) {
      const double h = (i + 0.5) * step;
      const double water = curve.water_content(h) * step;
      content += water;
      times_suction += water * h;
      times_square += water * h * h;
      if ((i + 1) % 10000 != 0) continue;
      const double end = (i + 1) * step;
      CAPTURE(end);
      const ReleaseCurve::Below below = curve.below(end);
      CHECK(near(below.content / end, content / end, 1e-7));
      CHECK(near(below.times_suction / (end * end), times_suction / (end * end), 1e-7));
      CHECK(near(below.times_square / (end * end * end), times_square / (end * end * end), 1e-7));
    }
    const ReleaseCurve copy = curve;
    CHECK(copy.below(7.0).content == curve.below(7.0).content);
  }
}

}  // namespace wiltline::test
