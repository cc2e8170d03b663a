// The interval step: how a pot dries between two instants of a day.
//
// Time enters only through x, the share of the day's demand that has passed (0 to 1). All rates are
// litres per unit x and frozen for the day. The rooted mix, the unrooted mix and the top layer lose
//   top layer      De' = Ep Kr(De)                        a line to REW, then an exponential to TEW
//   rooted mix     D'  = (Tp + r Wp) Ks(D) + s De'
//   unrooted mix   Du' =  (1-r) Wp Ks(Du) + (1-s) De'
// with r the rooted share of the mix and s its share of the top (kernel::rooted_top_share),
// Kr and Ks piecewise linear (FAO-56 eq. 74 and 84). A wall is fed through the mix as roots are: it
// ends where the mix conducts no more (the lower limit). Between
// waterings D and Du only rise, so each region of them is passed once, and in each the equation is
// linear with a known right-hand side: it is solved exactly; the instant of crossing is searched
// for only while the top falls off.
//
// A mulch dries on its own, at a constant rate until it is dry.
//
// A part that is air-dry (D = Dm) gives nothing more: its share of the top's evaporation stops.
#pragma once

#include <array>
#include <cstddef>

#include "wiltline/budget/kernel.hpp"

namespace wiltline {

/// What a checkpoint saves. Depletions are litres below refilled capacity.
struct PotState {
  double rooted_depletion_l = 0.0;    // D; negative while a saucer or reservoir holds water
  double top_depletion_l = 0.0;       // De, contained in D and Du
  double unrooted_depletion_l = 0.0;  // Du
  double rooted_share = 1.0;          // r, of the mix
  double mulch_water_l = 0.0;         // held by a mulch, above the mix
  double yesterday_use_l = 0.0;       // of the rooted mix: what a gardener who checks expects

  bool operator==(const PotState&) const = default;
};

[[nodiscard]] inline kernel::Depletions depletions(const PotState& state) {
  return {.rooted = state.rooted_depletion_l,
          .unrooted = state.unrooted_depletion_l,
          .top = state.top_depletion_l,
          .mulch_water = state.mulch_water_l};
}
[[nodiscard]] inline PotState with_depletions(PotState state, const kernel::Depletions& after) {
  state.rooted_depletion_l = after.rooted;
  state.unrooted_depletion_l = after.unrooted;
  state.top_depletion_l = after.top;
  state.mulch_water_l = after.mulch_water;
  return state;
}

/// Full-rate losses of a day, litres per unit x.
struct FullRates {
  double transpiration_l = 0.0;  // Tp
  double wall_l = 0.0;           // Wp, whole wall
  double top_l = 0.0;            // Ep, while the top is wet
  double mulch_l = 0.0;          // of a wet mulch, beside what the mix below it loses

  /// All that the mix could lose: plant, wall and top.
  [[nodiscard]] double potential_use_l() const { return kernel::potential_use(for_kernel()); }
  /// The part of it that the rooted mix could lose.
  [[nodiscard]] double rooted_use_l(double rooted_share, double rooted_top_share) const {
    return kernel::rooted_use(for_kernel(), rooted_share, rooted_top_share);
  }
  [[nodiscard]] kernel::Rates for_kernel() const {
    return {.transpiration = transpiration_l, .wall = wall_l, .top = top_l, .mulch = mulch_l};
  }
};

/// Where the rates change, litres of depletion; fixed for a day. Invariants: 0 < RAW < TAW <=
/// air-dry, the same ratio between the unrooted and rooted limits as between their shares.
struct IntervalLimits {
  double raw_l = 0.0;
  double taw_l = 0.0;
  double air_dry_l = 0.0;
  double unrooted_raw_l = 0.0;
  double unrooted_taw_l = 0.0;
  double unrooted_air_dry_l = 0.0;
  double rew_l = 0.0;
  double tew_l = 0.0;
  double rooted_share = 1.0;
  double rooted_top_share = 1.0;
  bool single_store = false;  // D alone is the whole pot, top layer included
};

/// Depletions of the rooted mix at which something is to be reported.
inline constexpr std::size_t line_count = 4;
enum class Line : std::size_t { threshold, stressed, wilting, dry };
using LineDepletions = std::array<double, line_count>;

/// What an interval did. Litres; `crossed_at[i]` is x from the interval's start at which D first
/// passed line i, or a negative number if it did not.
struct IntervalResult {
  PotState state;
  double transpired_l = 0.0;
  double top_evaporated_l = 0.0;
  double wall_evaporated_l = 0.0;
  double mulch_evaporated_l = 0.0;
  std::array<double, line_count> crossed_at{-1.0, -1.0, -1.0, -1.0};
};

/// The plain course's bounds on a day with these limits and lines.
[[nodiscard]] kernel::PlainLimits plain_limits(const IntervalLimits& limits,
                                               const LineDepletions& lines);

/// Moves a pot on by `dx` >= 0. Exact up to rounding: flow(a) then flow(b) is flow(a + b).
[[nodiscard]] IntervalResult flow(const FullRates& rates, const IntervalLimits& limits,
                                  const LineDepletions& lines, const PotState& state, double dx);

/// A stretch on the assumption that no edge is reached.
[[nodiscard]] inline kernel::PlainInterval plain_course(const FullRates& rates,
                                                        const kernel::PlainLimits& plain,
                                                        const PotState& state, double dx) {
  const kernel::TopDrying drying = kernel::top_drying(rates.top_l, kernel::per_litre(rates.top_l),
                                                      plain, state.top_depletion_l, dx);
  const double remaining = drying.exponent == 0.0 ? 1.0 : kernel::exponential(drying.exponent);
  return kernel::plain_interval(rates.for_kernel(), plain, depletions(state), dx, drying,
                                remaining);
}

}  // namespace wiltline
