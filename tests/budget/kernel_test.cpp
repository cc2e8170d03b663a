// The arithmetic of a pot-day on plain numbers, piece by piece. That one pot and a chunk of pots go
// through it alike is tested with the seasons.
#include "wiltline/budget/kernel.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

using namespace kernel;

constexpr double tiny = 1e-14;

}  // namespace

TEST_CASE("kernel: limits and lines of a day, by the rooted share") {
  const DayLimits limits =
      day_limits(4.0, 0.5, 0.25, {.threshold = 0.0, .wilting = 0.7, .dry = 0.85});
  CHECK(near(limits.raw, 0.5, tiny));
  CHECK(near(limits.taw, 1.0, tiny));
  CHECK(near(limits.unrooted_raw, 1.5, tiny));
  CHECK(near(limits.lines.threshold, 0.5, tiny));  // RAW where no threshold is given
  CHECK(near(limits.lines.wilting, 0.7, tiny));
  CHECK(near(limits.lines.dry, 0.85, tiny));
  CHECK(
      near(lines(0.5, 1.0, {.threshold = 0.3, .wilting = 0.7, .dry = 0.85}).threshold, 0.3, tiny));
}

TEST_CASE("kernel: the first edge is the lowest of all that tell") {
  const Lines at{.threshold = 0.5, .wilting = 0.7, .dry = 0.85};
  CHECK(first_edge(0.6, at, out_of_reach) == 0.5);
  CHECK(first_edge(0.4, at, out_of_reach) == 0.4);
  CHECK(first_edge(0.6, at, 0.2) == 0.2);
  CHECK(first_edge(0.9, {.threshold = 0.8, .wilting = 0.7, .dry = 0.85}, out_of_reach) == 0.7);
  CHECK(first_edge(0.9, {.threshold = 0.8, .wilting = 0.7, .dry = 0.6}, out_of_reach) == 0.6);
}

TEST_CASE("kernel: the finger feels the top's own loss and its share of what the roots took") {
  // 0.2 L off the top; of the other 1.0 L a quarter came from the top layer: 0.45 L in all.
  const Depletions state{.rooted = 0.8, .unrooted = 0.4, .top = 0.2, .mulch_water = 0.0};
  CHECK(top_feels_dry(state, 0.25, 0.45 - 1e-9) == 1.0);
  CHECK(top_feels_dry(state, 0.25, 0.45 + 1e-9) == 0.0);
  // A saucer's water is no loss to be made up for.
  CHECK(top_feels_dry({.rooted = -0.5, .unrooted = 0.0, .top = 0.2, .mulch_water = 0.0}, 0.25,
                      0.2) == 1.0);
}

TEST_CASE("kernel: who checks waters past the threshold, or if yesterday again would pass it") {
  CHECK(wants_water(2.0, 2.0, 0.0, 0.0, 0.0) == 1.0);
  CHECK(wants_water(1.9, 2.0, 1.0, 5.0, 0.1) == 1.0);
  CHECK(wants_water(1.9, 2.0, 1.0, 5.0, 0.09) == 0.0);
  CHECK(wants_water(1.9, 2.0, 0.0, 5.0, 0.09) == 1.0);  // on the first day, today's
}

TEST_CASE("kernel: a refill brings depletion below a tenth of what is available") {
  CHECK(is_refill(0.399, 4.0) == 1.0);
  CHECK(is_refill(0.4, 4.0) == 0.0);
  CHECK(is_refill(-0.5, 4.0) == 1.0);
}

TEST_CASE("kernel: the longest gap between refills, planting counted as one") {
  RefillGap gap;
  gap = refilled(gap, 1.0, 2.5);
  CHECK(gap.longest_days == 2.5);
  gap = refilled(gap, 0.0, 9.0);  // no refill: nothing moves
  CHECK(gap.last_days == 2.5);
  CHECK(gap.longest_days == 2.5);
  gap = refilled(gap, 1.0, 4.0);
  CHECK(gap.last_days == 4.0);
  CHECK(gap.longest_days == 2.5);
  CHECK(refilled(gap, 1.0, 10.0).longest_days == 6.0);
}

TEST_CASE("kernel: what a pot can use under a crown that covers part of its top") {
  const PotDay day{.surface_mm = 5.0,
                   .rain_mm = 10.0,
                   .transpiration = 1.0,
                   .plan_m2 = 0.06,
                   .under_crown = 0.25,
                   .interception_mm = 0.8,
                   .capture_factor = 0.7,
                   .top_m2 = 0.1,
                   .per_top_m2 = 10.0,
                   .wall_per_mm = 0.02,
                   .top_coefficient = 1.1,
                   .mulch_factor = 0.55,
                   .mulched = 1.0};
  const PotUse pot = pot_use(day);
  // 0.6 of the top is covered; a quarter of its evaporation is left there.
  const double bare = 1.1 * 5.0 * (0.4 + 0.6 * 0.25) * 0.1;
  CHECK(near(pot.rates.top, 0.55 * bare, tiny));
  CHECK(near(pot.rates.mulch, bare, tiny));
  CHECK(near(pot.rates.wall, 0.1, tiny));
  CHECK(near(pot.rates.transpiration, 1.0 - 0.8 * 0.06, tiny));
  CHECK(near(pot.rain, 0.1 * (0.4 * 10.0 + 0.6 * 9.2 * 0.7), tiny));
  CHECK(near(potential_use(pot.rates), pot.rates.transpiration + pot.rates.wall + pot.rates.top,
             tiny));
  // A crown wider than the pot covers all of it, no more; less rain than leaves hold stays there.
  PotDay wide = day;
  wide.plan_m2 = 0.5;
  wide.rain_mm = 0.5;
  CHECK(near(pot_use(wide).rates.mulch, 1.1 * 5.0 * 0.25 * 0.1, tiny));
  CHECK(pot_use(wide).rain == 0.0);
  CHECK(near(pot_use(wide).rates.transpiration, 1.0 - 0.5 * 0.5, tiny));
}

}  // namespace wiltline::test
