// The interval step against FAO-56's daily stepping (eq. 71 to 88), on the day tables of its
// examples. The handbook holds the rate of a day's start all day; the interval step solves the day.
// The handbook's side is written out here.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "budget/fao56_days.hpp"
#include "support/near.hpp"
#include "wiltline/budget/interval.hpp"

namespace wiltline::test {
namespace {

using printed::Inputs;

/// Eq. 84 for Ks between RAW and TAW; eq. 74 for Kr between REW and TEW is the same line.
double falling(double depletion, double kink, double end) {
  return depletion <= kink ? 1.0 : std::max((end - depletion) / (end - kink), 0.0);
}

}  // namespace

TEST_CASE("interval step: its rates at an instant are Tp Ks (eq. 84) and Ep Kr (eq. 74)") {
  // Over dx, D gains at most (Tp + Ep) dx and De at most Ep dx; half of what the rate falls by
  // meanwhile tells in its mean. For Ks that is (Tp + Ep) dx / (2 (TAW - D)) of the rate, below
  // 1e-5 wherever TAW - D > 0.39 mm, and on this grid it is at least 1.25 mm; for Kr it is less. At
  // its end a line is exactly zero.
  constexpr double dx = 1e-6;
  constexpr double share_of_rate = 1e-5;
  constexpr IntervalLimits limits{
      .raw_l = 20.0, .taw_l = 50.0, .air_dry_l = 80.0, .rew_l = 4.0, .tew_l = 12.0};
  constexpr LineDepletions lines{20.0, 20.0, 35.0, 42.5};
  constexpr FullRates rates{.transpiration_l = 4.7, .top_l = 3.1};
  int stressed = 0;
  int drying = 0;
  for (int column = -4; column <= 60; ++column) {
    for (int line = 0; line <= 24; ++line) {
      const double d = 1.25 * column;
      const double de = 0.5 * line;
      CAPTURE(d);
      CAPTURE(de);
      const PotState state{.rooted_depletion_l = d, .top_depletion_l = de};
      const IntervalResult result = flow(rates, limits, lines, state, dx);
      const double ks = falling(d, limits.raw_l, limits.taw_l);
      const double kr = falling(de, limits.rew_l, limits.tew_l);
      const double transpiration = rates.transpiration_l * ks;
      const double top = rates.top_l * kr;
      CHECK(near(result.transpired_l / dx, transpiration, share_of_rate * transpiration));
      CHECK(near(result.top_evaporated_l / dx, top, share_of_rate * top));
      CHECK(near((result.state.rooted_depletion_l - d) / dx, transpiration + top,
                 share_of_rate * (transpiration + top)));
      if (ks > 0.0 && ks < 1.0) ++stressed;
      if (kr > 0.0 && kr < 1.0) ++drying;
    }
  }
  CHECK(stressed == 23 * 25);
  CHECK(drying == 15 * 65);
}

namespace {

/// A day of one store with its coefficients frozen: it loses `rate` down to `kink` (REW, RAW), from
/// there less and less, in a straight line to nothing at `end` (TEW, TAW).
struct FrozenDay {
  double water = 0.0;
  double rate = 0.0;
  double kink = 0.0;
  double end = 0.0;

  [[nodiscard]] double slope() const { return rate / (end - kink); }
  [[nodiscard]] double rate_at(double depletion) const {
    return rate * falling(depletion, kink, end);
  }
  /// The part of the day after the kink, for a store that starts at `depletion`.
  [[nodiscard]] double beyond_kink(double depletion) const {
    if (depletion >= kink) return 1.0;
    return std::max(1.0 - (kink - depletion) / rate, 0.0);
  }
};

using IntervalDay = double (*)(const FrozenDay&, double start);

double top_layer_end(const FrozenDay& day, double start) {
  constexpr double out_of_reach = 1e6;  // a root zone that never interferes
  const IntervalLimits limits{.raw_l = out_of_reach,
                              .taw_l = 2.0 * out_of_reach,
                              .air_dry_l = 3.0 * out_of_reach,
                              .rew_l = day.kink,
                              .tew_l = day.end};
  const PotState state{.rooted_depletion_l = start, .top_depletion_l = start};
  const PotState after = flow({.top_l = day.rate}, limits, {}, state, 1.0).state;
  CHECK(near(after.rooted_depletion_l, after.top_depletion_l, 1e-9));  // D contains De
  return after.top_depletion_l;
}

double root_zone_end(const FrozenDay& day, double start) {
  const IntervalLimits limits{
      .raw_l = day.kink, .taw_l = day.end, .air_dry_l = 2.0 * day.end, .rew_l = 1.0, .tew_l = 2.0};
  const PotState state{.rooted_depletion_l = start};
  return flow({.transpiration_l = day.rate}, limits, {}, state, 1.0).state.rooted_depletion_l;
}

/// Runs both through an example, each on its own from the same first depletion.
///
/// The handbook holds the rate g(a) of the day's start a all day; really the rate falls while the
/// store dries, on the slope L beyond the kink. So a day of the handbook ends drier, by
///   L x integral of max(0, D(t) - max(a, kink)) over the day.
/// Above, D(t) <= a + g(a) t gives L g(a) u^2 / 2, where u is the part of the day beyond the kink;
/// below, D is concave, so that it lies above its chord: L u (D(1) - max(a, kink)) / 2.
/// What the days before left of a difference shrinks by e^(-L u') where u' is that part for the
/// wetter of the two, the interval step's; rain and irrigation never make it larger.
void compare(const char* name, const std::vector<FrozenDay>& days, double first_depletion,
             IntervalDay interval_day) {
  constexpr double rounding_mm = 1e-11;
  double stepped = first_depletion;
  double solved = first_depletion;
  double bound = 0.0;
  double largest = 0.0;
  std::string differences;
  std::string bounds;
  for (const FrozenDay& day : days) {
    REQUIRE(day.slope() < 1.0);  // else a day of the handbook would overshoot the end
    const double start = std::max(solved - day.water, 0.0);
    const double a = std::max(stepped - day.water, 0.0);
    solved = interval_day(day, start);
    stepped = std::min(a + day.rate_at(a), day.end);
    const double difference = stepped - solved;

    const double beyond = day.beyond_kink(a);
    bound = bound * std::exp(-day.slope() * day.beyond_kink(start)) +
            day.slope() * day.rate_at(a) * beyond * beyond / 2.0;
    const double from_same_start = interval_day(day, a);
    const double least =
        day.slope() * beyond * std::max(from_same_start - std::max(a, day.kink), 0.0) / 2.0;

    CAPTURE(&day - days.data() + 1);
    CHECK(difference <= bound + rounding_mm);
    CHECK(difference >= least - rounding_mm);
    largest = std::max(largest, difference);
    const auto add = [](std::string& list, double value) {
      constexpr int digits = 16;
      char text[digits];
      std::snprintf(text, sizeof text, " %.3f", value);
      list += text;
    };
    add(differences, std::abs(difference) < rounding_mm ? 0.0 : difference);
    add(bounds, bound);
  }
  CHECK(largest > rounding_mm);
  std::printf("FAO-56 %s, handbook's day less interval step, mm:%s\n", name, differences.c_str());
  std::printf("FAO-56 %s, at most:%s\n", name, bounds.c_str());
}

constexpr int days_of_a_table = 10;

std::vector<FrozenDay> surface_days(const char* example) {
  std::vector<FrozenDay> days;
  for (int number = 1; number <= days_of_a_table; ++number) {
    const Inputs in = printed::day_inputs(example, number);
    days.push_back({.water = printed::surface_water(in),
                    .rate = printed::wet_surface_loss(in),
                    .kink = in["REW_mm"],
                    .end = in["TEW_mm"]});
  }
  return days;
}

/// Stated, or eq. 82 and 83.
std::vector<FrozenDay> root_zone_days(const char* example) {
  std::vector<FrozenDay> days;
  for (int number = 1; number <= days_of_a_table; ++number) {
    const Inputs in = printed::day_inputs(example, number);
    const double taw = in.has("TAW_mm")
                           ? in["TAW_mm"]
                           : 1000.0 * (in["FC"] - in["WP"]) * printed::root_depth_m(in);
    days.push_back({.water = printed::root_zone_water(in),
                    .rate = in["Kc"] * in["ET0_mm"],
                    .kink = in.has("RAW_mm") ? in["RAW_mm"] : in["p"] * taw,
                    .end = taw});
  }
  return days;
}

}  // namespace

TEST_CASE("interval step: the surface layer of Examples 31 and 35, against the handbook's days") {
  for (const char* example : {"Example 31", "Example 35"}) {
    CAPTURE(std::string(example));
    compare(example, surface_days(example), printed::day_inputs(example, 1)["De_day0_mm"],
            top_layer_end);
  }
}

TEST_CASE("interval step: the root zone of Examples 37 and 38, against the handbook's days") {
  for (const char* example : {"Example 37", "Example 38"}) {
    CAPTURE(std::string(example));
    const std::vector<FrozenDay> days = root_zone_days(example);
    const Inputs first = printed::day_inputs(example, 1);
    const double start = first.has("Dr_day0_mm") ? first["Dr_day0_mm"] : days.front().kink;
    compare(example, days, start, root_zone_end);
  }
}

}  // namespace wiltline::test
