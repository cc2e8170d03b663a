#include "wiltline/budget/interval.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {
namespace {

/// D' = constant - decay D + forced e^(-forced_decay t): the equation of one store in one region.
struct Motion {
  double constant = 0.0;
  double decay = 0.0;
  double forced = 0.0;  // the top layer's drying while it falls off
  double forced_decay = 0.0;

  /// Depletion after t from `start`.
  [[nodiscard]] double after(double start, double t) const {
    const double own = decay == 0.0
                           ? start + constant * t
                           : start + (constant - decay * start) * t * kernel::mean_decay(decay * t);
    if (forced == 0.0) return own;
    return own + forced * t * kernel::exponential(-forced_decay * t) *
                     kernel::mean_decay((decay - forced_decay) * t);
  }
  struct ScaledMiss {
    double value;
    double slope;
  };
  /// e^(decay t) (D(t) - level) and its slope: rises with t for as long as the store's own rate at
  /// the level, constant - decay level, is not negative. D(t) itself may come back below an edge it
  /// has passed, since the equation holds only up to the edge; this does not.
  [[nodiscard]] ScaledMiss scaled_miss(double start, double level, double own_rate,
                                       double t) const {
    const double grown = t * kernel::mean_decay(-decay * t);  // (e^(decay t) - 1) / decay
    ScaledMiss miss{start - level + own_rate * grown, own_rate * (1.0 + decay * grown)};
    if (forced == 0.0) return miss;
    const double rate = decay - forced_decay;
    const double driven = t * kernel::mean_decay(-rate * t);
    miss.value += forced * driven;
    miss.slope += forced * (1.0 + rate * driven);
    return miss;
  }

  /// The t in [0, end] at which D reaches `level`, known to be reached by `end`.
  [[nodiscard]] double time_to(double start, double level, double own_rate, double end) const {
    if (start >= level) return 0.0;
    if (forced != 0.0 || !(own_rate > 0.0)) return search_time_to(start, level, own_rate, end);
    const double at_own_rate = (level - start) / own_rate;
    const double t =
        decay == 0.0 ? at_own_rate : kernel::log_of_one_and(decay * at_own_rate) / decay;
    return std::min(t, end);
  }

  /// The same where no formula has it. Newton, kept inside a shrinking bracket; halved where Newton
  /// is slow (far out on an exponential).
  [[nodiscard]] double search_time_to(double start, double level, double own_rate,
                                      double end) const {
    constexpr int most_rounds = 300;
    constexpr double close_enough = 4e-16;  // of the interval
    const double first_slope = own_rate + forced;
    const double at_first_slope = first_slope > 0.0 ? (level - start) / first_slope : end;
    double t = at_first_slope < end ? at_first_slope : end / 2.0;
    double low = 0.0;
    double high = end;
    double width_before = end;
    for (int round = 1; round < most_rounds && high - low > close_enough * end; ++round) {
      const ScaledMiss miss = scaled_miss(start, level, own_rate, t);
      if (miss.value == 0.0) return t;
      (miss.value > 0.0 ? high : low) = t;
      double next = miss.slope > 0.0 ? t - miss.value / miss.slope : low;
      const bool slow = round % 4 == 0 && high - low > width_before / 2.0;
      if (round % 4 == 0) width_before = high - low;
      const double step = next > t ? next - t : t - next;
      if (step <= close_enough * end) return next < low ? low : next > high ? high : next;
      if (slow || !(next > low && next < high)) next = low + (high - low) / 2.0;
      t = next;
    }
    return t;
  }
};

/// What plant and wall take from one store, rooted or not, at a depletion.
struct Store {
  double draw_l = 0.0;  // of both, while the mix is moist
  double raw_l = 0.0;
  double taw_l = 0.0;
  double air_dry_l = 0.0;

  [[nodiscard]] bool air_dry(double depletion) const { return depletion >= air_dry_l; }
  [[nodiscard]] bool draws(double depletion) const { return draw_l > 0.0 && depletion < taw_l; }

  /// The draw as constant - decay D.
  [[nodiscard]] Motion drawn(double depletion) const {
    if (depletion < raw_l) return {.constant = draw_l};
    if (depletion >= taw_l) return {};
    const double slope = draw_l / (taw_l - raw_l);  // FAO-56 eq. 84
    return {.constant = slope * taw_l, .decay = slope};
  }
  /// The depletion at which the draw next changes, and the draw when it is reached.
  struct Edge {
    double depletion = 0.0;
    double rate = 0.0;
  };
  [[nodiscard]] Edge next_edge(double depletion) const {
    if (depletion < raw_l) return {raw_l, draw_l};
    return {depletion < taw_l ? taw_l : air_dry_l, 0.0};
  }
};

/// Litres a part linear in D took over a piece: constant t - decay (integral of D).
double taken(const Motion& part, const Motion& whole, double t, double rise) {
  if (part.decay == 0.0) return part.constant * t;
  // Integral of D from the equation itself: D' integrates to the rise.
  const double integral = (whole.constant * t - rise) / whole.decay;
  return part.constant * t - part.decay * integral;
}

/// Adds to `result` the lines that D passed on its way from `start` to `end` over a piece.
void report_lines(const LineDepletions& lines, const Motion& motion, double start, double end,
                  double piece_begin, double piece, IntervalResult& result) {
  for (std::size_t i = 0; i < line_count; ++i) {
    if (result.crossed_at[i] >= 0.0 || !(start <= lines[i] && lines[i] < end)) continue;
    const double own_rate = motion.constant - motion.decay * lines[i];
    result.crossed_at[i] = piece_begin + motion.time_to(start, lines[i], own_rate, piece);
  }
}

constexpr int most_pieces = 16;  // three surface phases and four regions of two stores, with room

/// A mulch's own water: gone at a constant rate, then no more.
void dry_mulch(const FullRates& rates, double dx, IntervalResult& result) {
  const double gone = std::min(result.state.mulch_water_l, rates.mulch_l * dx);
  result.mulch_evaporated_l = gone;
  result.state.mulch_water_l -= gone;
}

/// `part` over `whole`; of nothing, none.
double share_of(double part, double whole) {
  return whole > 0.0 ? part / whole : 0.0;
}

/// The whole pot is one store: D alone, with transpiration, wall and top all reading it.
IntervalResult flow_single_store(const FullRates& rates, const IntervalLimits& limits,
                                 const LineDepletions& lines, const PotState& state, double dx) {
  const Store store{rates.transpiration_l + rates.wall_l, limits.raw_l, limits.taw_l,
                    limits.air_dry_l};
  const double plant_share = share_of(rates.transpiration_l, store.draw_l);
  IntervalResult result{.state = state};
  double d = state.rooted_depletion_l;
  double gone = 0.0;
  for (int piece = 0; piece < most_pieces && gone < dx && !store.air_dry(d); ++piece) {
    const Motion draw = store.drawn(d);
    Motion top;
    double edge = store.next_edge(d).depletion;
    if (d < limits.rew_l) {
      top.constant = rates.top_l;
      edge = std::min(edge, limits.rew_l);
    } else {
      top.decay = rates.top_l / (limits.tew_l - limits.rew_l);
      top.constant = top.decay * limits.tew_l;
    }
    const Motion whole{draw.constant + top.constant, draw.decay + top.decay, 0.0, 0.0};
    double t = dx - gone;
    double end = whole.after(d, t);
    if (end >= edge) {
      t = whole.time_to(d, edge, whole.constant - whole.decay * edge, t);
      end = edge;
    }
    report_lines(lines, whole, d, end, gone, t, result);
    // The draw from its equation; the top, if it loses at all, is the remainder.
    const double rise = end - d;
    const double drawn =
        rates.top_l > 0.0 ? std::clamp(taken(draw, whole, t, rise), 0.0, rise) : rise;
    const double transpired = plant_share * drawn;
    result.transpired_l += transpired;
    result.wall_evaporated_l += drawn - transpired;
    result.top_evaporated_l += rise - drawn;
    d = end;
    gone += t;
  }
  result.state.rooted_depletion_l = d;
  result.state.top_depletion_l = std::max(d, 0.0);
  dry_mulch(rates, dx, result);
  return result;
}

/// The course through edges: regions and surface phases one after another.
IntervalResult flow_through_edges(const FullRates& rates, const IntervalLimits& limits,
                                  const LineDepletions& lines, const PotState& state, double dx) {
  if (limits.single_store) return flow_single_store(rates, limits, lines, state, dx);

  const double r = limits.rooted_share;
  const double rooted_top = limits.rooted_top_share;
  const Store rooted{rates.transpiration_l + r * rates.wall_l, limits.raw_l, limits.taw_l,
                     limits.air_dry_l};
  const Store unrooted{(1.0 - r) * rates.wall_l, limits.unrooted_raw_l, limits.unrooted_taw_l,
                       limits.unrooted_air_dry_l};
  const double plant_share = share_of(rates.transpiration_l, rooted.draw_l);
  IntervalResult result{.state = state};
  double d = state.rooted_depletion_l;
  double du = state.unrooted_depletion_l;
  double de = state.top_depletion_l;
  double gone = 0.0;

  for (int piece = 0; piece < most_pieces && gone < dx; ++piece) {
    const double rooted_part = rooted.air_dry(d) ? 0.0 : rooted_top;
    const double unrooted_part = unrooted.air_dry(du) ? 0.0 : 1.0 - rooted_top;
    const double supplied = rooted_part + unrooted_part;  // share of the top that still gets water
    double t = dx - gone;

    // The top layer alone: which phase, and how long.
    const bool wet = de < limits.rew_l;
    const double full_rate = de < limits.tew_l ? supplied * rates.top_l : 0.0;
    const double top_decay = wet ? 0.0 : full_rate / (limits.tew_l - limits.rew_l);
    const double top_rate = wet ? full_rate : top_decay * (limits.tew_l - de);  // at the start
    const double wet_for = wet && full_rate > 0.0 ? (limits.rew_l - de) / full_rate : dx;
    bool wet_phase_ends = wet && wet_for < t;
    if (wet_phase_ends) t = wet_for;

    // The two parts of the mix, each driven by its share of the top's rate.
    const double rooted_top_share = supplied > 0.0 ? rooted_part / supplied : 0.0;
    const double rooted_top_rate = rooted_top_share * top_rate;
    const double unrooted_top_rate = top_rate - rooted_top_rate;
    const auto motion_of = [&](const Store& store, double depletion, double driven) {
      if (store.air_dry(depletion)) return Motion{};
      Motion motion = store.drawn(depletion);
      (wet ? motion.constant : motion.forced) += driven;
      motion.forced_decay = top_decay;
      return motion;
    };
    const Motion rooted_motion = motion_of(rooted, d, rooted_top_rate);
    const Motion unrooted_motion = motion_of(unrooted, du, unrooted_top_rate);

    // The piece ends where the first of the two reaches an edge.
    const Store::Edge rooted_edge = rooted.next_edge(d);
    const Store::Edge unrooted_edge = unrooted.next_edge(du);
    const auto meets = [&t, wet](const Store& store, const Motion& motion, double depletion,
                                 const Store::Edge& edge, double driven) {
      if (store.air_dry(depletion)) return false;
      const double own_rate = edge.rate + (wet ? driven : 0.0);
      if (motion.scaled_miss(depletion, edge.depletion, own_rate, t).value < 0.0) return false;
      t = motion.time_to(depletion, edge.depletion, own_rate, t);
      return true;
    };
    const bool rooted_meets = meets(rooted, rooted_motion, d, rooted_edge, rooted_top_rate);
    const bool unrooted_meets =
        meets(unrooted, unrooted_motion, du, unrooted_edge, unrooted_top_rate);
    wet_phase_ends = wet_phase_ends && !rooted_meets && !unrooted_meets;
    const bool at_rooted_edge = rooted_meets && !unrooted_meets;

    const double top = wet ? top_rate * t : top_rate * t * kernel::mean_decay(top_decay * t);
    const double top_from_rooted = top * rooted_top_share;
    const double top_from_unrooted = top - top_from_rooted;
    const auto end_of = [&](const Store& store, const Motion& motion, double depletion,
                            const Store::Edge& edge, double driven) {
      return store.draws(depletion)
                 ? std::min(motion.after(depletion, t), std::max(depletion, edge.depletion))
                 : depletion + driven;
    };
    const double d_end = at_rooted_edge
                             ? rooted_edge.depletion
                             : end_of(rooted, rooted_motion, d, rooted_edge, top_from_rooted);
    const double du_end =
        unrooted_meets ? unrooted_edge.depletion
                       : end_of(unrooted, unrooted_motion, du, unrooted_edge, top_from_unrooted);
    report_lines(lines, rooted_motion, d, d_end, gone, t, result);

    // The draw is what the top did not take, so that the balance closes; plant and wall fall off
    // alike and share it.
    const double drawn = rooted.draws(d) ? std::max(d_end - d - top_from_rooted, 0.0) : 0.0;
    const double transpired = plant_share * drawn;
    result.transpired_l += transpired;
    result.wall_evaporated_l += drawn - transpired;
    if (unrooted.draws(du)) {
      result.wall_evaporated_l += std::max(du_end - du - top_from_unrooted, 0.0);
    }
    result.top_evaporated_l += top;

    de = wet_phase_ends ? limits.rew_l : std::min(de + top, limits.tew_l);
    d = d_end;
    du = du_end;
    gone = t >= dx - gone ? dx : gone + t;
  }
  result.state.rooted_depletion_l = d;
  result.state.unrooted_depletion_l = du;
  result.state.top_depletion_l = de;
  dry_mulch(rates, dx, result);
  return result;
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
