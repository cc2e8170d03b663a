#include "wiltline/budget/interval.hpp"

#include <algorithm>

#include "wiltline/budget/edges.hpp"

namespace wiltline {
namespace {

using kernel::For;
using kernel::Rooting;

/// Adds to `result` the lines that D passed on its way from `start` to `end` over a piece of `t`.
void report_lines(const LineDepletions& lines, kernel::Motion motion, double start, double end,
                  double top_decay, double piece_begin, double t, IntervalResult& result) {
  for (std::size_t i = 0; i < line_count; ++i) {
    if (result.crossed_at[i] >= 0.0 || !(start <= lines[i] && lines[i] < end)) continue;
    motion.edge = lines[i];
    motion.own_rate = motion.constant - motion.decay * lines[i];
    result.crossed_at[i] =
        piece_begin + std::min(kernel::time_to_edge(motion, start, top_decay, t), t);
  }
}

/// A mulch's own water: gone at a constant rate, then no more.
void dry_mulch(const FullRates& rates, double dx, IntervalResult& result) {
  const double gone = std::min(result.state.mulch_water_l, rates.mulch_l * dx);
  result.mulch_evaporated_l = gone;
  result.state.mulch_water_l -= gone;
}

/// The whole pot is one store: D alone, with transpiration, wall and top all reading it.
IntervalResult flow_single_store(const FullRates& rates, const IntervalLimits& limits,
                                 const LineDepletions& lines, const PotState& state, double dx) {
  const kernel::TwoStores pot = kernel::two_stores(rates.for_kernel(), limits);
  IntervalResult result{.state = state};
  double d = state.rooted_depletion_l;
  double gone = 0.0;
  for (int i = 0; i < kernel::most_pieces && gone < dx && d < pot.rooted.air_dry; ++i) {
    const double rest = dx - gone;
    const kernel::SinglePiece piece = kernel::single_piece(pot, d);
    const kernel::PieceEnd end =
        kernel::end_of<For::one>(pot, piece, d, rest, kernel::earliest<For::one>(piece.motion, d));
    report_lines(lines, piece.motion, d, end.after.rooted, 0.0, gone, end.t, result);
    result.transpired_l += end.lost.transpired;
    result.wall_evaporated_l += end.lost.wall;
    result.top_evaporated_l += end.lost.top;
    d = end.after.rooted;
    gone = end.t >= rest ? dx : gone + end.t;
  }
  result.state.rooted_depletion_l = d;
  result.state.top_depletion_l = std::max(d, 0.0);
  dry_mulch(rates, dx, result);
  return result;
}

/// Two stores under a top layer: regions and surface phases one after another.
template <Rooting rooting>
IntervalResult flow_two_stores(const FullRates& rates, const IntervalLimits& limits,
                               const LineDepletions& lines, const PotState& state, double dx) {
  const kernel::TwoStores pot = kernel::two_stores(rates.for_kernel(), limits);
  IntervalResult result{.state = state};
  kernel::Depletions now = depletions(state);
  double gone = 0.0;
  for (int i = 0; i < kernel::most_pieces && gone < dx; ++i) {
    const double rest = dx - gone;
    const kernel::Piece<rooting> piece = kernel::piece<rooting>(pot, now, rest);
    const double rooted_at =
        kernel::time_to_edge(piece.rooted, now.rooted, piece.top_decay, piece.longest);
    const double unrooted_at =
        rooting == Rooting::whole
            ? kernel::out_of_reach
            : kernel::time_to_edge(piece.unrooted, now.unrooted, piece.top_decay, piece.longest);
    const kernel::PieceEnd end =
        piece.top_decay > 0.0
            ? kernel::end_of<For::one, rooting, true>(pot, piece, now, rooted_at, unrooted_at)
            : kernel::end_of<For::one, rooting, false>(pot, piece, now, rooted_at, unrooted_at);
    report_lines(lines, piece.rooted, now.rooted, end.after.rooted, piece.top_decay, gone, end.t,
                 result);
    result.transpired_l += end.lost.transpired;
    result.top_evaporated_l += end.lost.top;
    result.wall_evaporated_l += end.lost.wall;
    now = end.after;
    gone = end.t >= rest ? dx : gone + end.t;
  }
  result.state = with_depletions(state, now);
  dry_mulch(rates, dx, result);
  return result;
}

/// The course through edges.
IntervalResult flow_through_edges(const FullRates& rates, const IntervalLimits& limits,
                                  const LineDepletions& lines, const PotState& state, double dx) {
  if (limits.single_store) return flow_single_store(rates, limits, lines, state, dx);
  return limits.rooted_share == 1.0
             ? flow_two_stores<Rooting::whole>(rates, limits, lines, state, dx)
             : flow_two_stores<Rooting::part>(rates, limits, lines, state, dx);
}

}  // namespace

kernel::PlainLimits plain_limits(const IntervalLimits& limits, const LineDepletions& lines) {
  const auto line = [&lines](Line which) { return lines[static_cast<std::size_t>(which)]; };
  const double first_edge = kernel::first_edge(
      limits.raw_l,
      {.threshold = line(Line::threshold), .wilting = line(Line::wilting), .dry = line(Line::dry)},
      limits.single_store ? limits.rew_l : kernel::out_of_reach);
  return {.rooted_share = limits.rooted_share,
          .rooted_top_share = limits.rooted_top_share,
          .first_edge = first_edge,
          .unrooted_raw = limits.unrooted_raw_l,
          .rew = limits.single_store ? kernel::out_of_reach : limits.rew_l,
          .tew = limits.tew_l,
          .per_tew_rew = 1.0 / (limits.tew_l - limits.rew_l),
          .single_store = limits.single_store ? 1.0 : 0.0};
}

IntervalResult flow(const FullRates& rates, const IntervalLimits& limits,
                    const LineDepletions& lines, const PotState& state, double dx) {
  const kernel::PlainLimits plain = plain_limits(limits, lines);
  // Depletions only rise: a pot past an edge will not take a plain course, which need not be tried.
  const bool past_edge = state.rooted_depletion_l > plain.first_edge ||
                         state.unrooted_depletion_l > plain.unrooted_raw;
  const kernel::PlainInterval interval =
      past_edge ? kernel::PlainInterval{} : plain_course(rates, plain, state, dx);
  if (interval.plain < 0.5) return flow_through_edges(rates, limits, lines, state, dx);
  IntervalResult result{.state = with_depletions(state, interval.after)};
  result.transpired_l = interval.lost.transpired;
  result.top_evaporated_l = interval.lost.top;
  result.wall_evaporated_l = interval.lost.wall;
  result.mulch_evaporated_l = interval.lost.mulch;
  return result;
}

}  // namespace wiltline
