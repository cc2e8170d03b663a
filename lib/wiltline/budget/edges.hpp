// The arithmetic of a pot that passes edges, piece by piece, on plain numbers and without branches:
// one pot (flow) and the lanes of a chunk go through the same functions, in the same order, and get
// the same bits. interval.hpp has the equations.
//
// A piece ends where the first of these comes: the interval's end, the end of the top layer's line,
// an edge of the rooted or of the unrooted mix. Within it each store moves by
//   D' = constant - decay D + driven e^(-top_decay t)
// with `driven` its share of the top's rate where that falls off (on its line it is in `constant`).
#pragma once

#include "wiltline/budget/interval.hpp"
#include "wiltline/budget/kernel.hpp"

namespace wiltline::kernel {

/// Whether a function is for one pot, and leaves out what it can, or for a loop over many, and
/// works everything out and chooses; of many whose stores all move steadily, without a decay of
/// their own, or so near that (near_zero) while no top falls off, it leaves out what else that
/// would take. The bits are the same.
enum class For { one, many, many_near, many_steady };

/// Three surface phases and four regions of two stores, with room.
inline constexpr int most_pieces = 16;

/// A part of the mix, rooted or not: what plant and wall take from it in an interval while it is
/// moist, and where that changes.
struct Store {
  double draw;
  double raw;
  double taw;
  double air_dry;
  double slope;     // litres less for each litre beyond RAW (FAO-56 eq. 84)
  double draws_to;  // the depletion up to which they take any: TAW, or beyond reach below
};
WILTLINE_KERNEL Store store(double draw, double raw, double taw, double air_dry) {
  return {.draw = draw,
          .raw = raw,
          .taw = taw,
          .air_dry = air_dry,
          .slope = draw / (taw - raw),
          .draws_to = choose(flag(draw > 0.0), taw, -out_of_reach)};
}

/// A pot of two stores under a top layer.
struct TwoStores {
  Store rooted;
  Store unrooted;
  double rew;
  double tew;
  double top_decay;  // of the top that falls off while both stores feed it
  double top_rate;
  double rooted_top_share;
  double transpiration;  // at full rate
  double plant_share;    // of the draw from the rooted mix; the rest is the wall's
};

/// Share of a draw that is the plant's; of nothing, none.
WILTLINE_KERNEL double plant_share(double transpiration, double draw) {
  return choose(flag(draw > 0.0), transpiration / draw, 0.0);
}
WILTLINE_KERNEL TwoStores two_stores(const Rates& rates, const IntervalLimits& at) {
  const double r = at.rooted_share;
  const double draw = rates.transpiration + r * rates.wall;
  return {.rooted = store(draw, at.raw_l, at.taw_l, at.air_dry_l),
          .unrooted = store((1.0 - r) * rates.wall, at.unrooted_raw_l, at.unrooted_taw_l,
                            at.unrooted_air_dry_l),
          .rew = at.rew_l,
          .tew = at.tew_l,
          .top_decay = rates.top / (at.tew_l - at.rew_l),
          .top_rate = rates.top,
          .rooted_top_share = at.rooted_top_share,
          .transpiration = rates.transpiration,
          .plant_share = plant_share(rates.transpiration, draw)};
}

/// How a store moves within a piece. Rates are litres per unit of x.
struct Motion {
  double constant;  // the rate at no depletion, but for `driven`
  double decay;     // by which a litre of depletion lowers the rate, per unit of x
  double driven;    // the rate driven by a top that falls off, at the start
  double edge;      // the depletion, litres, at which the draw next changes
  double own_rate;  // the rate there but for `driven`; zero where the draw ends at the edge
};
/// `wet`: 1 while the top is on its line; `driven`: the store's share of the top's rate.
WILTLINE_KERNEL Motion motion(const Store& store, double depletion, double wet, double driven) {
  const double full = flag(depletion < store.raw);
  const double short_of_taw = flag(depletion < store.taw);
  const double gives = flag(depletion < store.air_dry);
  const double drawn = choose(full, store.draw, choose(short_of_taw, store.slope * store.taw, 0.0));
  const double decay = choose(full, 0.0, choose(short_of_taw, store.slope, 0.0));
  const double steady = wet * driven;
  return {.constant = choose(gives, drawn + steady, 0.0),
          .decay = choose(gives, decay, 0.0),
          .driven = choose(gives, driven - steady, 0.0),
          .edge = choose(full, store.raw, choose(short_of_taw, store.taw, store.air_dry)),
          .own_rate = choose(gives, choose(full, store.draw, 0.0) + steady, 0.0)};
}

/// A piece before its end is known.
template <Rooting rooting>
struct Piece {
  Motion rooted;
  Motion unrooted;
  double wet;        // 1 while the top is on its line
  double longest;    // to the end of the interval or of the line
  double line_ends;  // 1 if that is the line's
  double top_rate;   // at the start
  double top_decay;
  double rooted_part;  // share of the top's loss
};
template <Rooting rooting>
WILTLINE_KERNEL Piece<rooting> piece(const TwoStores& pot, const Depletions& now, double rest) {
  // A part that is air-dry feeds the top no more.
  const double rooted_gives = flag(now.rooted < pot.rooted.air_dry);
  double rooted_part = rooted_gives;
  double supplied = rooted_gives;
  if constexpr (rooting == Rooting::part) {
    const double share = pot.rooted_top_share;
    const double unrooted_gives = flag(now.unrooted < pot.unrooted.air_dry);
    rooted_part = rooted_gives * choose(unrooted_gives, share, 1.0);
    supplied =
        choose(rooted_gives, choose(unrooted_gives, 1.0, share), unrooted_gives * (1.0 - share));
  }
  const double wet = flag(now.top < pot.rew);
  supplied = choose(flag(now.top < pot.tew), supplied, 0.0);
  const double full_rate = supplied * pot.top_rate;
  const double top_decay = choose(wet, 0.0, supplied * pot.top_decay);
  const double top_rate = choose(wet, full_rate, top_decay * (pot.tew - now.top));
  const double line = choose(wet, (pot.rew - now.top) * per_litre(full_rate), out_of_reach);
  const double driven = rooted_part * top_rate;
  Piece<rooting> result{.rooted = motion(pot.rooted, now.rooted, wet, driven),
                        .unrooted = {},
                        .wet = wet,
                        .longest = least(line, rest),
                        .line_ends = flag(line < rest),
                        .top_rate = top_rate,
                        .top_decay = top_decay,
                        .rooted_part = rooted_part};
  if constexpr (rooting == Rooting::part) {
    result.unrooted = motion(pot.unrooted, now.unrooted, wet, top_rate - driven);
  }
  return result;
}

/// Time in which `missing` >= 0 is lost if the rate is `rate` + `decay` x what is still missing;
/// never (out of reach) at no rate.
template <For pots>
WILTLINE_KERNEL double time_to_lose(double missing, double rate, double decay) {
  constexpr double tiny = 1e-300;
  if constexpr (pots == For::one) {
    if (!(rate > 0.0)) return out_of_reach;
    if (!(decay > 0.0)) return least(missing / most(rate, tiny), out_of_reach);
  }
  const double steadily = least(missing / most(rate, tiny), out_of_reach);
  if constexpr (pots == For::many_steady) return choose(flag(rate > 0.0), steadily, out_of_reach);
  const double falling = log_of_one_and(least(decay * steadily, out_of_reach)) / decay;
  return choose(flag(rate > 0.0), choose(flag(decay > 0.0), falling, steadily), out_of_reach);
}

/// The earliest that a store can be at its edge: exact unless it is driven, then as if that rate
/// never fell off.
template <For pots>
WILTLINE_KERNEL double earliest(const Motion& motion, double depletion) {
  return time_to_lose<pots>(motion.edge - depletion, motion.own_rate + motion.driven, motion.decay);
}

/// What t leaves of rates that fall off.
struct Decayed {
  double left;      // e^(-decay t)
  double integral;  // of that from 0 to t
};
template <For pots>
WILTLINE_KERNEL Decayed decayed(double decay, double t) {
  if constexpr (pots == For::many_steady) return {.left = 1.0, .integral = t};
  if constexpr (pots == For::one) {
    if (decay == 0.0) return {.left = 1.0, .integral = t};
  }
  const double z = decay * t;
  if constexpr (pots == For::many_near) {
    return {.left = 1.0, .integral = t * mean_decay_series(z)};  // nobody asks for what is left
  }
  const double left = exponential(-z);
  if constexpr (pots == For::one) {
    if (near_zero(z) > 0.5) return {.left = left, .integral = t * mean_decay_series(z)};
  }
  return {.left = left, .integral = t * mean_decay_of(z, left)};
}
/// The same of tops, which fall off where stores move steadily.
template <For pots>
inline constexpr For of_tops = pots == For::many_steady ? For::many : pots;

/// What a unit of a driving rate that falls off has added by t: the integral over s of
/// e^(-top_decay s) e^(-decay (t - s)).
template <For pots>
WILTLINE_KERNEL double added(const Decayed& own, double decay, const Decayed& top, double top_decay,
                             double t) {
  const double apart = decay - top_decay;
  const double z = apart * t;
  if constexpr (pots == For::one) {
    if (near_zero(z) < 0.5) return (top.left - own.left) / apart;
  }
  return choose(near_zero(z), t * top.left * mean_decay_series(z), (top.left - own.left) / apart);
}

/// One round of the search for the instant at which a driven store is at its edge.
struct Approach {
  double t;     // later than before, but not too late
  double step;  // how much; 0: it is there
  double off;   // no more than about this is left after it
};
/// From a t that is not too late. What is still missing then would be lost no faster than if the
/// driving rate stayed as it is from there on; so the next t is not too late either, and by as much
/// nearer as that rate falls off little in a step: off by k step^2 / 2 at most, squared from round
/// to round.
template <For pots>
WILTLINE_KERNEL Approach approach(const Motion& motion, double depletion, double top_decay,
                                  double t) {
  const Decayed own = decayed<pots>(motion.decay, t);
  const Decayed top = decayed<of_tops<pots>>(top_decay, t);
  const double missing = (motion.edge - depletion) * own.left -
                         (motion.own_rate * own.integral +
                          motion.driven * added<pots>(own, motion.decay, top, top_decay, t));
  const double step = time_to_lose<pots>(most(missing, 0.0),
                                         motion.own_rate + motion.driven * top.left, motion.decay);
  return {.t = t + step, .step = step, .off = top_decay * step * step};
}
/// Rounds after which a search that is not done is done by halves.
inline constexpr int most_rounds = 12;
/// A search is done once it is off by no more than this share of the piece.
inline constexpr double close_enough = 1e-17;

/// When a store that is driven is at its edge; `t`: not too late. Out of reach if that is not
/// before `longest`. A fixed number of rounds: those of approach, and should they not do
/// (a top that falls off in no time), a halving for each bit of what is left.
[[nodiscard]] inline double search(const Motion& motion, double depletion, double top_decay,
                                   double t, double longest) {
  for (int round = 0; round < most_rounds; ++round) {
    const Approach next = approach<For::one>(motion, depletion, top_decay, t);
    t = next.t;
    if (!(next.off > close_enough * longest) || !(t < longest)) return t;
  }
  const auto too_early = [&](double at) {
    return approach<For::one>(motion, depletion, top_decay, at).step > 0.0;
  };
  if (too_early(longest)) return out_of_reach;
  constexpr int bits = 53;
  double high = longest;
  for (int i = 0; i < bits; ++i) {
    const double middle = t + (high - t) / 2.0;
    (too_early(middle) ? t : high) = middle;
  }
  return high;
}

/// When a store is at its edge; anything from `longest` on if not before.
[[nodiscard]] inline double time_to_edge(const Motion& motion, double depletion, double top_decay,
                                         double longest) {
  const double t = earliest<For::one>(motion, depletion);
  if (!(motion.driven > 0.0 && t < longest)) return t;
  return search(motion, depletion, top_decay, t, longest);
}

struct PieceEnd {
  Depletions after;
  Losses lost;
  double t;
};
/// The piece from `now` up to the first of its ends. `rooted_at`, `unrooted_at`: when the stores
/// are at their edges. `drying`: false only if no top of those that are taken together falls off,
/// to leave out what is zero then; the bits are the same.
template <For pots, Rooting rooting, bool drying>
WILTLINE_KERNEL PieceEnd end_of(const TwoStores& pot, const Piece<rooting>& piece,
                                const Depletions& now, double rooted_at, double unrooted_at) {
  const double rooted_t = least(piece.longest, rooted_at);
  double t = rooted_t;
  double unrooted_meets = 0.0;
  if constexpr (rooting == Rooting::part) {
    unrooted_meets = flag(unrooted_at <= rooted_t);
    t = least(rooted_t, unrooted_at);
  }
  const double rooted_meets = (1.0 - unrooted_meets) * flag(rooted_at <= piece.longest);
  const double line_ends = piece.line_ends * flag(t >= piece.longest);

  Decayed top_decayed{.left = 1.0, .integral = t};
  if constexpr (drying) top_decayed = decayed<of_tops<pots>>(piece.top_decay, t);
  const double top = piece.top_rate * top_decayed.integral;
  const double top_from_rooted = rooting == Rooting::whole ? top : piece.rooted_part * top;
  const auto after = [&](const Motion& motion, double depletion) __attribute__((always_inline)) {
    const Decayed own = decayed<pots>(motion.decay, t);
    double end = depletion + (motion.constant - motion.decay * depletion) * own.integral;
    if constexpr (drying) {
      end += motion.driven * added<pots>(own, motion.decay, top_decayed, piece.top_decay, t);
    }
    return least(end, most(depletion, motion.edge));
  };

  const double draws = flag(now.rooted < pot.rooted.draws_to);
  const double rooted_end =
      choose(rooted_meets, piece.rooted.edge,
             choose(draws, after(piece.rooted, now.rooted), now.rooted + top_from_rooted));
  // The draw is what the top did not take, so that the balance closes; plant and wall fall off
  // alike and share it. Rounding never lets a plant take more than it asks for.
  const double drawn = choose(draws, most(rooted_end - now.rooted - top_from_rooted, 0.0), 0.0);
  const double transpired = least(pot.plant_share * drawn, pot.transpiration * t);
  double wall = choose(flag(pot.plant_share < 1.0), drawn - transpired, 0.0);

  double unrooted_end = 0.0;
  if constexpr (rooting == Rooting::part) {
    const double top_from_unrooted = top - top_from_rooted;
    const double unrooted_draws = flag(now.unrooted < pot.unrooted.draws_to);
    unrooted_end = choose(unrooted_meets, piece.unrooted.edge,
                          choose(unrooted_draws, after(piece.unrooted, now.unrooted),
                                 now.unrooted + top_from_unrooted));
    wall += choose(unrooted_draws, most(unrooted_end - now.unrooted - top_from_unrooted, 0.0), 0.0);
  }
  return {.after = {.rooted = rooted_end,
                    .unrooted = unrooted_end,
                    .top = choose(line_ends, pot.rew, least(now.top + top, pot.tew)),
                    .mulch_water = now.mulch_water},
          .lost = {.transpired = transpired, .top = top, .wall = wall, .mulch = 0.0},
          .t = t};
}

/// A piece, before its end is known, of a pot that is one store, the rooted one: roots, wall and
/// top all read the same depletion.
struct SinglePiece {
  Motion motion;         // of the whole
  double draw_constant;  // of plant and wall in it
  double draw_decay;
};
WILTLINE_KERNEL SinglePiece single_piece(const TwoStores& pot, double depletion) {
  const double wet = flag(depletion < pot.rew);
  const double top_decay = choose(wet, 0.0, pot.top_decay);
  const Motion draw = motion(pot.rooted, depletion, 0.0, 0.0);
  Motion whole = draw;
  whole.edge = choose(wet, least(draw.edge, pot.rew), draw.edge);
  whole.constant += wet * pot.top_rate + top_decay * pot.tew;
  whole.decay += top_decay;
  whole.own_rate = whole.constant - whole.decay * whole.edge;
  return {.motion = whole, .draw_constant = draw.constant, .draw_decay = draw.decay};
}

/// From `depletion` up to the piece's edge, which it meets `at_edge`, or for `rest`.
template <For pots>
WILTLINE_KERNEL PieceEnd end_of(const TwoStores& pot, const SinglePiece& piece, double depletion,
                                double rest, double at_edge) {
  const Motion& whole = piece.motion;
  const double t = least(at_edge, rest);
  const double moved = depletion + (whole.constant - whole.decay * depletion) *
                                       decayed<pots>(whole.decay, t).integral;
  const double end = choose(flag(at_edge <= rest), whole.edge, least(moved, whole.edge));
  const double rise = end - depletion;
  // The draw from its equation, whose integral of D is that of the whole; the top, if it loses at
  // all, is the remainder.
  const double steady = piece.draw_constant * t;
  const double drawn_if_top_too =
      choose(flag(piece.draw_decay > 0.0),
             steady - piece.draw_decay * ((whole.constant * t - rise) / whole.decay), steady);
  const double drawn =
      choose(flag(pot.top_rate > 0.0), least(most(drawn_if_top_too, 0.0), rise), rise);
  const double transpired = pot.plant_share * drawn;
  return {.after = {.rooted = end, .unrooted = 0.0, .top = most(end, 0.0), .mulch_water = 0.0},
          .lost = {.transpired = transpired,
                   .top = rise - drawn,
                   .wall = drawn - transpired,
                   .mulch = 0.0},
          .t = t};
}

}  // namespace wiltline::kernel
