// The interval step's three checks (balance, composition, Runge-Kutta), and its corners.
#include "wiltline/budget/interval.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "support/near.hpp"
#include "support/random.hpp"

namespace wiltline::test {
namespace {

struct Case {
  FullRates full_rates;
  IntervalLimits limits;
  LineDepletions lines{};
  PotState state;
};

/// A random pot on a random day, at a random moment; often with a part switched off.
Case random_case(Random& random) {
  Case c;
  const double available_l = std::pow(10.0, random.uniform(-1.5, 1.7));
  const double air_dry_l = available_l * random.uniform(1.02, 1.8);
  const double r = random.chance(0.4) ? 1.0 : random.uniform(0.02, 0.98);
  const double p = random.uniform(0.1, 0.8);
  c.limits = {.raw_l = p * available_l * r,
              .taw_l = available_l * r,
              .air_dry_l = air_dry_l * r,
              .unrooted_raw_l = p * available_l * (1.0 - r),
              .unrooted_taw_l = available_l * (1.0 - r),
              .unrooted_air_dry_l = air_dry_l * (1.0 - r),
              .rew_l = available_l * random.uniform(0.02, 0.3),
              .tew_l = 0.0,
              .rooted_share = r,
              .rooted_top_share = std::pow(r, 2.0 / 3.0),
              .single_store = random.chance(0.2)};
  c.limits.tew_l = c.limits.rew_l + available_l * random.uniform(0.05, 0.5);
  if (c.limits.single_store) {
    c.limits.rooted_share = c.limits.rooted_top_share = 1.0;
    c.limits.raw_l = p * available_l;
    c.limits.taw_l = available_l;
    c.limits.air_dry_l = c.limits.tew_l = air_dry_l;
    c.limits.rew_l = air_dry_l * random.uniform(0.1, 0.8);
    c.limits.unrooted_raw_l = c.limits.unrooted_taw_l = c.limits.unrooted_air_dry_l = 0.0;
  }
  const double vigour = available_l * std::pow(10.0, random.uniform(-1.0, 0.7));
  c.full_rates = {.transpiration_l = random.chance(0.1) ? 0.0 : vigour * random.uniform(),
                  .wall_l = random.chance(0.5) ? 0.0 : vigour * random.uniform(0.0, 0.6),
                  .top_l = random.chance(0.1) ? 0.0 : vigour * random.uniform(0.0, 0.8)};
  c.state.rooted_share = c.limits.rooted_share;
  c.state.rooted_depletion_l = random.uniform(-0.2, 1.0) * c.limits.air_dry_l;
  c.state.unrooted_depletion_l = random.uniform() * c.limits.unrooted_air_dry_l;
  c.state.top_depletion_l = random.uniform() * c.limits.tew_l;
  if (c.limits.single_store) c.state.top_depletion_l = std::max(c.state.rooted_depletion_l, 0.0);
  const auto at = [&](double fraction) { return fraction * c.limits.taw_l; };
  c.lines = {random.chance(0.5) ? c.limits.raw_l : at(random.uniform(0.05, 0.9)), c.limits.raw_l,
             at(0.70), at(0.85)};
  return c;
}

struct Totals {
  double transpired = 0.0;
  double top = 0.0;
  double wall = 0.0;
};

/// The rates as the model states them, written out again: FAO-56 eq. 74 and 84, the wall's as the
/// plant's.
struct Rates {
  double d, du, de, transpired, top, wall;
};
Rates rates(const Case& c, double d, double du, double de) {
  const IntervalLimits& l = c.limits;
  const auto falling = [](double x, double from, double to) {
    return x <= from ? 1.0 : x >= to ? 0.0 : (to - x) / (to - from);
  };
  const double transpired = c.full_rates.transpiration_l * falling(d, l.raw_l, l.taw_l);
  if (l.single_store) {
    if (d >= l.air_dry_l) return {};
    const double top = c.full_rates.top_l * falling(d, l.rew_l, l.tew_l);
    const double wall = c.full_rates.wall_l * falling(d, l.raw_l, l.taw_l);
    return {transpired + top + wall, 0.0, 0.0, transpired, top, wall};
  }
  const double r = l.rooted_share;
  const double s = l.rooted_top_share;
  const double kr = falling(de, l.rew_l, l.tew_l);
  const double rooted_top = d >= l.air_dry_l ? 0.0 : s * c.full_rates.top_l * kr;
  const double unrooted_top =
      du >= l.unrooted_air_dry_l ? 0.0 : (1.0 - s) * c.full_rates.top_l * kr;
  const double rooted_wall = r * c.full_rates.wall_l * falling(d, l.raw_l, l.taw_l);
  const double unrooted_wall =
      (1.0 - r) * c.full_rates.wall_l * falling(du, l.unrooted_raw_l, l.unrooted_taw_l);
  return {transpired + rooted_top + rooted_wall,
          unrooted_top + unrooted_wall,
          rooted_top + unrooted_top,
          transpired,
          rooted_top + unrooted_top,
          rooted_wall + unrooted_wall};
}

/// Classical Runge-Kutta with many steps: slow, simple and independent of flow().
IntervalResult runge_kutta(const Case& c, double dx, int steps) {
  IntervalResult result{.state = c.state};
  double d = c.state.rooted_depletion_l;
  double du = c.state.unrooted_depletion_l;
  double de = c.state.top_depletion_l;
  const double h = dx / steps;
  for (int i = 0; i < steps; ++i) {
    const Rates a = rates(c, d, du, de);
    const Rates b = rates(c, d + h / 2 * a.d, du + h / 2 * a.du, de + h / 2 * a.de);
    const Rates e = rates(c, d + h / 2 * b.d, du + h / 2 * b.du, de + h / 2 * b.de);
    const Rates f = rates(c, d + h * e.d, du + h * e.du, de + h * e.de);
    const auto mean = [&](double Rates::*m) { return (a.*m + 2 * b.*m + 2 * e.*m + f.*m) / 6; };
    d += h * mean(&Rates::d);
    du += h * mean(&Rates::du);
    de += h * mean(&Rates::de);
    result.transpired_l += h * mean(&Rates::transpired);
    result.top_evaporated_l += h * mean(&Rates::top);
    result.wall_evaporated_l += h * mean(&Rates::wall);
  }
  result.state.rooted_depletion_l = d;
  result.state.unrooted_depletion_l = du;
  result.state.top_depletion_l = c.limits.single_store ? std::max(d, 0.0) : de;
  return result;
}

IntervalResult run(const Case& c, double dx) {
  return flow(c.full_rates, c.limits, c.lines, c.state, dx);
}

double lost(const PotState& before, const PotState& after) {
  return after.rooted_depletion_l - before.rooted_depletion_l + after.unrooted_depletion_l -
         before.unrooted_depletion_l;
}

}  // namespace

TEST_CASE("interval: what is lost is transpired, evaporated from the top or through the wall") {
  Random random(11);
  for (int i = 0; i < 100000; ++i) {
    const Case c = random_case(random);
    const IntervalResult result = run(c, random.uniform(0.0, 1.0));
    const double gone = result.transpired_l + result.top_evaporated_l + result.wall_evaporated_l;
    const double scale = c.limits.air_dry_l + c.limits.unrooted_air_dry_l;
    CAPTURE(i);
    REQUIRE(near(lost(c.state, result.state), gone, 1e-12 * scale));
    REQUIRE(result.transpired_l >= -1e-13 * scale);
    REQUIRE(result.top_evaporated_l >= 0.0);
    REQUIRE(result.wall_evaporated_l >= -1e-13 * scale);
    REQUIRE(result.transpired_l <= c.full_rates.transpiration_l + 1e-13 * scale);
  }
}

TEST_CASE("interval: flow(a) then flow(b) is flow(a + b)") {
  Random random(12);
  for (int i = 0; i < 100000; ++i) {
    Case c = random_case(random);
    const double a = random.uniform(0.0, 0.7);
    const double b = random.uniform(0.0, 0.7);
    const IntervalResult whole = run(c, a + b);
    const IntervalResult first = run(c, a);
    c.state = first.state;
    const IntervalResult second = run(c, b);
    const double tolerance = 1e-12 * (c.limits.air_dry_l + c.limits.unrooted_air_dry_l);
    CAPTURE(i);
    REQUIRE(near(second.state.rooted_depletion_l, whole.state.rooted_depletion_l, tolerance));
    REQUIRE(near(second.state.unrooted_depletion_l, whole.state.unrooted_depletion_l, tolerance));
    REQUIRE(near(second.state.top_depletion_l, whole.state.top_depletion_l, tolerance));
    REQUIRE(near(first.transpired_l + second.transpired_l, whole.transpired_l, tolerance));
    REQUIRE(near(first.wall_evaporated_l + second.wall_evaporated_l, whole.wall_evaporated_l,
                 tolerance));
  }
}

TEST_CASE("interval: a top that falls off in no time is still composed exactly") {
  // The search for the instant at which an edge is met then has to halve.
  Random random(61);
  for (int i = 0; i < 20000; ++i) {
    Case c = random_case(random);
    if (c.limits.single_store) continue;
    c.limits.tew_l = c.limits.rew_l * (1.0 + std::pow(10.0, random.uniform(-8.0, -1.0)));
    c.state.top_depletion_l = std::min(c.state.top_depletion_l, c.limits.rew_l);
    const double dx = random.uniform(0.01, 1.0);
    const double first_dx = dx * random.uniform();
    const IntervalResult whole = flow(c.full_rates, c.limits, c.lines, c.state, dx);
    const IntervalResult first = flow(c.full_rates, c.limits, c.lines, c.state, first_dx);
    const IntervalResult rest = flow(c.full_rates, c.limits, c.lines, first.state, dx - first_dx);
    const double litres = c.limits.air_dry_l + c.limits.unrooted_air_dry_l;
    CAPTURE(i);
    REQUIRE(near(rest.state.rooted_depletion_l, whole.state.rooted_depletion_l, 1e-9 * litres));
    REQUIRE(near(rest.state.unrooted_depletion_l, whole.state.unrooted_depletion_l, 1e-9 * litres));
    REQUIRE(near(first.transpired_l + rest.transpired_l, whole.transpired_l, 1e-9 * litres));
    const double lost = whole.transpired_l + whole.top_evaporated_l + whole.wall_evaporated_l;
    const double drawn = whole.state.rooted_depletion_l + whole.state.unrooted_depletion_l -
                         c.state.rooted_depletion_l - c.state.unrooted_depletion_l;
    REQUIRE(near(lost, drawn, 1e-12 * std::max(1.0, litres)));
  }
}

TEST_CASE("interval: within 1e-6 L of Runge-Kutta") {
  Random random(13);
  double largest = 0.0;
  for (int i = 0; i < 400; ++i) {
    const Case c = random_case(random);
    const double dx = random.uniform(0.05, 1.0);
    const IntervalResult exact = run(c, dx);
    const IntervalResult stepped = runge_kutta(c, dx, 20000);
    CAPTURE(i);
    CAPTURE(c.limits.single_store);
    const auto close = [&](double a, double b) {
      largest = std::max(largest, std::abs(a - b));
      // Runge-Kutta itself errs by a step's worth of rate where a part runs air-dry within a step.
      const double rate = c.full_rates.transpiration_l + c.full_rates.wall_l + c.full_rates.top_l;
      const bool ran_dry = exact.state.rooted_depletion_l >= c.limits.air_dry_l ||
                           exact.state.unrooted_depletion_l >= c.limits.unrooted_air_dry_l;
      return near(a, b, ran_dry ? 1e-6 + 2.0 * rate * dx / 20000 : 1e-6);
    };
    REQUIRE(close(exact.state.rooted_depletion_l, stepped.state.rooted_depletion_l));
    REQUIRE(close(exact.state.unrooted_depletion_l, stepped.state.unrooted_depletion_l));
    REQUIRE(close(exact.state.top_depletion_l, stepped.state.top_depletion_l));
    REQUIRE(close(exact.transpired_l, stepped.transpired_l));
    REQUIRE(close(exact.top_evaporated_l, stepped.top_evaporated_l));
    REQUIRE(close(exact.wall_evaporated_l, stepped.wall_evaporated_l));
  }
  MESSAGE("largest difference from Runge-Kutta, litres: ", largest);
}

TEST_CASE("interval: a line is reported where the depletion stands on it") {
  Random random(14);
  int crossings = 0;
  for (int i = 0; i < 20000; ++i) {
    const Case c = random_case(random);
    const IntervalResult result = run(c, 1.0);
    for (std::size_t k = 0; k < line_count; ++k) {
      CAPTURE(i);
      CAPTURE(k);
      const bool passed =
          c.state.rooted_depletion_l <= c.lines[k] && result.state.rooted_depletion_l > c.lines[k];
      REQUIRE(passed == (result.crossed_at[k] >= 0.0));
      if (!passed) continue;
      ++crossings;
      const IntervalResult there = run(c, result.crossed_at[k]);
      REQUIRE(near(there.state.rooted_depletion_l, c.lines[k], 1e-12 * c.limits.air_dry_l));
    }
  }
  CHECK(crossings > 1000);
}

TEST_CASE("interval: depletions never fall, never pass air-dry, and nothing moves in no time") {
  Random random(15);
  for (int i = 0; i < 50000; ++i) {
    const Case c = random_case(random);
    const IntervalResult result = run(c, random.uniform(0.0, 3.0));
    CAPTURE(i);
    REQUIRE(result.state.rooted_depletion_l >= c.state.rooted_depletion_l);
    REQUIRE(result.state.unrooted_depletion_l >= c.state.unrooted_depletion_l);
    REQUIRE(result.state.top_depletion_l >= c.state.top_depletion_l);
    REQUIRE(result.state.rooted_depletion_l <=
            std::max(c.limits.air_dry_l, c.state.rooted_depletion_l) + 1e-14);
    REQUIRE(result.state.top_depletion_l <= c.limits.tew_l);
    const IntervalResult still = run(c, 0.0);
    REQUIRE(still.state.rooted_depletion_l == c.state.rooted_depletion_l);
    REQUIRE(still.transpired_l == 0.0);
  }
}

TEST_CASE("interval: corners") {
  Case c;
  c.limits = {.raw_l = 2.0,
              .taw_l = 5.0,
              .air_dry_l = 8.0,
              .unrooted_raw_l = 0.0,
              .unrooted_taw_l = 0.0,
              .unrooted_air_dry_l = 0.0,
              .rew_l = 0.4,
              .tew_l = 1.0,
              .rooted_share = 1.0};
  c.lines = {2.0, 2.0, 3.5, 4.25};
  c.full_rates = {.transpiration_l = 3.0, .wall_l = 0.5, .top_l = 0.6};

  SUBCASE("no evaporation from the top") {
    c.full_rates.top_l = 0.0;
    const IntervalResult result = run(c, 0.5);
    CHECK(near(result.state.rooted_depletion_l, 1.75, 1e-14));
    CHECK(result.state.top_depletion_l == 0.0);
  }
  SUBCASE("starting exactly on RAW is not yet beyond it, and is passed at once") {
    c.state.rooted_depletion_l = 2.0;
    const IntervalResult result = run(c, 0.1);
    CHECK(result.crossed_at[static_cast<std::size_t>(Line::stressed)] == 0.0);
    CHECK(result.state.rooted_depletion_l > 2.0);
  }
  SUBCASE("a mulch gives what it holds, over a wet mix and over one beyond RAW") {
    c.full_rates.mulch_l = 0.5;
    for (const double depletion_l : {0.0, 3.0}) {
      c.state.rooted_depletion_l = depletion_l;
      c.state.mulch_water_l = 0.3;
      const IntervalResult dries = run(c, 1.0);
      CHECK(near(dries.mulch_evaporated_l, 0.3, 1e-15));
      CHECK(dries.state.mulch_water_l == 0.0);
      const IntervalResult wet = run(c, 0.4);
      CHECK(near(wet.mulch_evaporated_l, 0.2, 1e-15));
      CHECK(near(wet.state.mulch_water_l, 0.1, 1e-15));
    }
  }
  SUBCASE("mix that feeds no roots feeds no wall") {
    // Peat conducts below 1e-10 m/s at 60 kPa (Heiskanen 1993, abstract); the lower limit is drier.
    c.full_rates.top_l = 0.0;
    c.state.rooted_depletion_l = 5.0;
    CHECK(run(c, 1.0).wall_evaporated_l == 0.0);
    c.state.rooted_depletion_l = 3.5;  // half-way from RAW: plant and wall at half rate, in step
    const IntervalResult half = run(c, 1e-6);
    CHECK(near(half.wall_evaporated_l, 0.25e-6, 1e-11));
    CHECK(near(half.wall_evaporated_l / half.transpired_l, 0.5 / 3.0, 1e-12));
  }
  SUBCASE("top layer exactly at TEW gives nothing") {
    c.state.top_depletion_l = 1.0;
    CHECK(run(c, 1.0).top_evaporated_l == 0.0);
  }
  SUBCASE("top layer exactly at REW falls off from there") {
    c.state.top_depletion_l = 0.4;
    const double k = c.full_rates.top_l / (c.limits.tew_l - c.limits.rew_l);
    CHECK(near(run(c, 1.0).top_evaporated_l, 0.6 * (1.0 - std::exp(-k)), 1e-14));
  }
  SUBCASE("equal decay of plant and top: no division by their difference") {
    c.full_rates.wall_l = 0.0;
    c.state.top_depletion_l = 0.4;
    c.state.rooted_depletion_l = 2.0;
    c.full_rates.transpiration_l = c.full_rates.top_l / (c.limits.tew_l - c.limits.rew_l) *
                                   (c.limits.taw_l - c.limits.raw_l);  // b = k
    const IntervalResult stepped = runge_kutta(c, 1.0, 40000);
    CHECK(near(run(c, 1.0).state.rooted_depletion_l, stepped.state.rooted_depletion_l, 1e-9));
  }
  SUBCASE("a plastic pot loses nothing through its wall, to the last bit") {
    c.full_rates.wall_l = 0.0;
    for (const double start : {-0.5, 0.0, 1.9, 2.0, 4.9, 5.0, 7.0}) {
      c.state.rooted_depletion_l = start;
      CHECK(run(c, 1.0).wall_evaporated_l == 0.0);
    }
  }
  SUBCASE("air-dry gives nothing more") {
    c.state.rooted_depletion_l = 8.0;
    const IntervalResult result = run(c, 1.0);
    CHECK(result.state.rooted_depletion_l == 8.0);
    CHECK(result.top_evaporated_l == 0.0);
    CHECK(result.transpired_l == 0.0);
  }
}

}  // namespace wiltline::test
