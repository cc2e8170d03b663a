// The arithmetic of a pot-day that takes no unusual turn, on plain numbers and without branches, so
// that a loop over pots becomes a vector loop. One pot (flow, water, planting_day) and a chunk of
// pots (batch/) both go through these functions, in the same order: they give the same bits.
//
// Everything is litres unless a name says otherwise; x is the share of the day's demand.
#pragma once

#include <cmath>

#include "wiltline/base/kernel_math.hpp"

// Inlining is what makes the loops vectorise; it must not depend on the compiler's heuristics.
#define WILTLINE_LOOP [[gnu::always_inline]] inline
#define WILTLINE_KERNEL [[nodiscard]] WILTLINE_LOOP

namespace wiltline::kernel {

WILTLINE_KERNEL double least(double a, double b) {
  return a < b ? a : b;
}
WILTLINE_KERNEL double most(double a, double b) {
  return a > b ? a : b;
}

/// Yes and no as 1 and 0. Kernels compute with flags rather than branch on conditions: compilers
/// turn a conditional value into a branch and then do not vectorise the loop.
WILTLINE_KERNEL double flag(bool condition) {
  return condition ? 1.0 : 0.0;
}
/// `a` if the flag is 1, `b` if it is 0.
WILTLINE_KERNEL double choose(double flag, double a, double b) {
  return flag > 0.5 ? a : b;
}

/// Water missing, as PotState has it.
struct Depletions {
  double rooted;
  double unrooted;
  double top;
  double mulch_water;  // held, not missing
};

/// How much of the mix roots have reached. Where it is the whole, all that concerns the rest is
/// zero: kernels told so beforehand leave it out, and give the same bits.
enum class Rooting { part, whole };

/// What a pot loses in an interval.
struct Losses {
  double transpired;
  double top;
  double wall;
  double mulch;
};

/// Full rates of a day, litres per unit x.
struct Rates {
  double transpiration;
  double wall;
  double top;
  double mulch;
};

/// All that the mix could lose: plant, wall and top.
WILTLINE_KERNEL double potential_use(const Rates& rates) {
  return rates.transpiration + rates.wall + rates.top;
}
/// The part of it that the rooted mix could lose. `rooted_top_share`: of the top's loss.
WILTLINE_KERNEL double rooted_use(const Rates& rates, double rooted_share,
                                  double rooted_top_share) {
  return rates.transpiration + rooted_share * rates.wall + rooted_top_share * rates.top;
}

WILTLINE_KERNEL double nearer_cube_root(double of, double y) {
  return (2.0 * y + of / (y * y)) / 3.0;
}
/// Share of the top that the rooted mix has: a root ball keeps its shape as it grows, so that its
/// top goes with the 2/3 power of its volume, and it loses by its own surface, whatever the pot;
/// `ball_top_factor` times as much of the pot's top (ball_top_factor in pot_parameters). Once as
/// deep as the mix it has the share of the top that it has of the mix. `rooted_share` is above 0;
/// all of it gives exactly 1.
WILTLINE_KERNEL double rooted_top_share(double rooted_share, double ball_top_factor) {
  // The cube root by Newton's rule from the power 3/8; within 1e-12 from a share of 1e-4 on.
  const double fourth_root = std::sqrt(std::sqrt(rooted_share));
  double y = fourth_root * std::sqrt(fourth_root);
  y = nearer_cube_root(rooted_share, y);
  y = nearer_cube_root(rooted_share, y);
  y = nearer_cube_root(rooted_share, y);
  y = nearer_cube_root(rooted_share, y);
  y = nearer_cube_root(rooted_share, y);
  return most(ball_top_factor * (y * y), rooted_share);
}

/// What bounds the plain course of a pot on a day.
struct PlainLimits {
  double rooted_share;
  double rooted_top_share;
  double first_edge;  // lowest depletion at which a rate changes or something is to be reported
  double unrooted_raw;
  double rew;  // of the top layer; beyond reach in a single store, whose edge is in first_edge
  double tew;
  double per_tew_rew;   // 1 / (tew - rew)
  double single_store;  // 1 or 0
};

/// No rew: the top of a single store dries at its full rate until first_edge.
inline constexpr double out_of_reach = 1e300;

struct PlainInterval {
  Depletions after;
  Losses lost;
  double plain;  // 1 if the course was plain; else `after` and `lost` mean nothing
};

/// How the top layer dries over an interval: a line to REW, and an exponential from there. In two
/// steps, so that a batch can take the exponentials of all its pots between them.
struct TopDrying {
  double in_line;   // litres lost on the line
  double exponent;  // e to this power is left, of what can still be lost after the line
};
/// Days' demand that evaporates a litre from the top; finite where nothing evaporates.
WILTLINE_KERNEL double per_litre(double top_rate) {
  constexpr double tiny = 1e-300;  // the line to REW then is practically infinite
  return 1.0 / most(top_rate, tiny);
}
WILTLINE_KERNEL TopDrying top_drying(double top_rate, double per_top_litre,
                                     const PlainLimits& limit, double top_depletion, double dx) {
  const double wet_for = least(most((limit.rew - top_depletion) * per_top_litre, 0.0), dx);
  return {.in_line = top_rate * wet_for,
          .exponent = -(top_rate * limit.per_tew_rew) * (dx - wet_for)};
}

/// Dries by `dx` >= 0 on the assumption that no edge is reached: plant and wall at full rate, the
/// top as `drying` has it, with `remaining` e to its exponent. `falls_off`: false only if that
/// exponent is 0, to leave out what is zero then; the bits are the same.
template <Rooting rooting = Rooting::part, bool falls_off = true>
WILTLINE_KERNEL PlainInterval plain_interval(const Rates& rate, const PlainLimits& limit,
                                             const Depletions& before, double dx,
                                             const TopDrying& drying, double remaining) {
  double top = drying.in_line;
  if constexpr (falls_off) {
    top += most(limit.tew - (before.top + drying.in_line), 0.0) * (1.0 - remaining);
  }
  const double wall = rate.wall * dx;
  const double transpired = rate.transpiration * dx;
  const double mulch = least(before.mulch_water, rate.mulch * dx);
  double rooted = 0.0;
  double unrooted = 0.0;
  if constexpr (rooting == Rooting::whole) {
    rooted = before.rooted + (transpired + wall + top);
  } else {
    const double r = limit.rooted_share;
    const double top_share = limit.rooted_top_share;
    rooted = before.rooted + (transpired + r * wall + top_share * top);
    unrooted = before.unrooted + ((1.0 - r) * wall + (1.0 - top_share) * top);
  }
  double plain = flag(rooted <= limit.first_edge);
  if constexpr (rooting == Rooting::part) plain *= flag(unrooted <= limit.unrooted_raw);
  return {.after = {.rooted = rooted,
                    .unrooted = unrooted,
                    .top = choose(limit.single_store, most(rooted, 0.0),
                                  least(before.top + top, most(limit.tew, before.top))),
                    .mulch_water = before.mulch_water - mulch},
          .lost = {.transpired = transpired, .top = top, .wall = wall, .mulch = mulch},
          .plain = plain};
}

struct LineFractions {
  double threshold;  // of TAW; 0: the threshold is RAW
  double wilting;
  double dry;
};

/// Depletions of the rooted mix at which something is to be reported.
struct Lines {
  double threshold;
  double wilting;
  double dry;
};
WILTLINE_KERNEL Lines lines(double raw, double taw, const LineFractions& fractions) {
  return {.threshold = fractions.threshold > 0.0 ? fractions.threshold * taw : raw,
          .wilting = fractions.wilting * taw,
          .dry = fractions.dry * taw};
}

/// Depletions that matter on a day of depletion fraction p.
struct DayLimits {
  double raw;
  double taw;
  double unrooted_raw;
  Lines lines;
};
WILTLINE_KERNEL DayLimits day_limits(double total_available, double depletion_fraction,
                                     double rooted_share, const LineFractions& fractions) {
  const double raw_of_mix = depletion_fraction * total_available;
  const double raw = raw_of_mix * rooted_share;
  const double taw = total_available * rooted_share;
  return {.raw = raw,
          .taw = taw,
          .unrooted_raw = raw_of_mix * (1.0 - rooted_share),
          .lines = lines(raw, taw, fractions)};
}

/// The lowest depletion at which a rate changes or something is to be reported. `single_store_rew`:
/// REW of a single store, whose surface reads the same depletion; else out of reach.
WILTLINE_KERNEL double first_edge(double raw, const Lines& at, double single_store_rew) {
  return least(least(least(least(raw, at.threshold), at.wilting), at.dry), single_store_rew);
}

/// Deficit of the top layer: its own evaporation and `top_draw_share` of all else the mix lost.
WILTLINE_KERNEL double top_deficit(const Depletions& state, double top_draw_share) {
  return state.top + top_draw_share * most(state.rooted + state.unrooted - state.top, 0.0);
}

/// The finger test: 1 if the top layer's deficit is at or past `limit`.
WILTLINE_KERNEL double top_feels_dry(const Depletions& state, double top_draw_share, double limit) {
  return flag(top_deficit(state, top_draw_share) >= limit);
}

/// A gardener who checks: past the threshold, or past it before the next visit if yesterday came
/// again (on the first day, today). Uses are those of the rooted mix.
WILTLINE_KERNEL double wants_water(double rooted_depletion, double threshold, double yesterday_use,
                                   double use, double until_next) {
  const double expected = choose(flag(yesterday_use > 0.0), yesterday_use, use);
  return flag(rooted_depletion + expected * until_next >= threshold);
}

/// What decides where poured water goes.
struct WateringLimits {
  double refilled;
  double rewet;
  double surplus_store;
  double watered_store;
  double mulch_store;
  double per_kept;  // 1 / (1 - drained share)
};

/// 1 if a part of the mix is below its re-wetting limit.
WILTLINE_KERNEL double part_is_dry(const WateringLimits& limit, double part, double depletion) {
  return flag(limit.refilled * part - depletion < limit.rewet * part);
}
/// Share of its deficit a part takes up: `when_dry` below its re-wetting limit, else 1.
WILTLINE_KERNEL double part_uptake(double is_dry, double when_dry) {
  return choose(is_dry, when_dry, 1.0);
}

struct Poured {
  Depletions after;
  double drained;
  double sheds;  // 1 if a part was below its re-wetting limit
};

/// Pours `litres` >= 0: mulch, mix by shares, saucer or reservoir, away. Nothing poured changes
/// nothing.
template <Rooting rooting = Rooting::part>
WILTLINE_KERNEL Poured pour(const WateringLimits& limit, double rooted_share, double when_dry,
                            const Depletions& before, double litres) {
  const double to_mulch = most(least(litres, limit.mulch_store - before.mulch_water), 0.0);
  const double through = litres - to_mulch;
  const double r = rooting == Rooting::whole ? 1.0 : rooted_share;
  const double rooted_is_dry = part_is_dry(limit, r, before.rooted);
  const double rooted_room = part_uptake(rooted_is_dry, when_dry) * most(before.rooted, 0.0);
  double unrooted_is_dry = 0.0;
  double to_unrooted = 0.0;
  if constexpr (rooting == Rooting::part) {
    unrooted_is_dry = part_is_dry(limit, 1.0 - r, before.unrooted);
    const double unrooted_room =
        part_uptake(unrooted_is_dry, when_dry) * most(before.unrooted, 0.0);
    const double first_to_rooted = least(through * r, rooted_room);
    to_unrooted = least(through - first_to_rooted, unrooted_room);
  }
  const double to_rooted = least(through - to_unrooted, rooted_room);
  const double rest = most(through - to_rooted - to_unrooted, 0.0);
  const double rooted = before.rooted - to_rooted;
  // What the mix lets through stands in saucer or reservoir; a mix still short takes it up.
  const double to_below = least(rest, most(limit.surplus_store + least(rooted, 0.0), 0.0));
  return {.after = {.rooted = rooted - to_below,
                    .unrooted = before.unrooted - to_unrooted,
                    .top = most(before.top - through, 0.0),
                    .mulch_water = before.mulch_water + to_mulch},
          .drained = rest - to_below,
          .sheds = most(rooted_is_dry, unrooted_is_dry)};
}

/// Litres to pour until it drains.
template <Rooting rooting = Rooting::part>
WILTLINE_KERNEL double until_drained(const WateringLimits& limit, double rooted_share,
                                     double when_dry, const Depletions& before) {
  const double r = rooting == Rooting::whole ? 1.0 : rooted_share;
  const double below = least(most(before.rooted + limit.watered_store, 0.0), limit.watered_store);
  double taken_up =
      part_uptake(part_is_dry(limit, r, before.rooted), when_dry) * most(before.rooted, 0.0) +
      below;
  if constexpr (rooting == Rooting::part) {
    taken_up +=
        part_uptake(part_is_dry(limit, 1.0 - r, before.unrooted), when_dry) * before.unrooted;
  }
  return (taken_up + (limit.mulch_store - before.mulch_water)) * limit.per_kept;
}

/// A watering or rain counts as a refill if it brings depletion below a tenth of TAW.
WILTLINE_KERNEL double is_refill(double rooted_depletion, double taw) {
  return flag(rooted_depletion < 0.10 * taw);
}

/// The longest time between refills, days; planting counts as one.
struct RefillGap {
  double last_days = 0.0;
  double longest_days = 0.0;
};
/// `refill`: 1 if there was one at `at_days`.
WILTLINE_KERNEL RefillGap refilled(const RefillGap& gap, double refill, double at_days) {
  return {.last_days = choose(refill, at_days, gap.last_days),
          .longest_days = most(gap.longest_days, refill * (at_days - gap.last_days))};
}

/// A night of rooted and unrooted mix, and a day's growth of the roots.
struct Rooted {
  double share;
  double rooted_depletion;
  double unrooted_depletion;
};
/// Water moves overnight to where more of it is missing: of the difference between the depletions
/// per litre of mix, `exchanged` is made up for. A mix over a filled saucer counts as full.
WILTLINE_KERNEL Rooted exchange(const Rooted& mix, double exchanged) {
  const double moved = exchanged * ((1.0 - mix.share) * most(mix.rooted_depletion, 0.0) -
                                    mix.share * mix.unrooted_depletion);
  return {.share = mix.share,
          .rooted_depletion = mix.rooted_depletion - moved,
          .unrooted_depletion = mix.unrooted_depletion + moved};
}
/// `odds_decay`: factor on the unrooted-to-rooted odds in a day; `filled`: 1 on the day from which
/// the whole mix is rooted.
WILTLINE_KERNEL Rooted grow(const Rooted& mix, double odds_decay, double filled) {
  const double share = mix.share;
  const double unrooted = 1.0 - share;
  const double per = 1.0 / (share + unrooted * odds_decay);
  // Logistic: the odds shrink by a constant factor. Of the unrooted mix, this part is entered.
  const double grown = share * per;
  const double entered = share * (1.0 - odds_decay) * per;
  const double moved = mix.unrooted_depletion * most(entered, filled);
  return {.share = most(grown, filled),
          .rooted_depletion = mix.rooted_depletion + moved,
          .unrooted_depletion = mix.unrooted_depletion - moved};
}

/// Sun, air, rain and crown over a pot, and the pot's top.
struct PotDay {
  double surface_mm;  // ET0 of a wet top or wall
  double rain_mm;
  double transpiration;    // of the crown, before rain held on leaves
  double plan_m2;          // of the crown
  double under_crown;      // share of evaporation left under it
  double interception_mm;  // most that the crown holds back
  double capture_factor;
  double top_m2;
  double per_top_m2;
  double wall_per_mm;
  double top_coefficient;
  double mulch_factor;  // 1 without mulch
  double mulched;       // 1 or 0
};

struct PotUse {
  Rates rates;
  double rain;  // caught
};

/// What a pot could use on a day: the crown covers the top as far as it reaches; the uncovered part
/// evaporates and catches rain as if there were none. `rains`: false only where rain_mm is 0, to
/// leave out what is zero then; the bits are the same.
template <bool rains = true>
WILTLINE_KERNEL PotUse pot_use(const PotDay& day) {
  const double covered = least(day.plan_m2 * day.per_top_m2, 1.0);
  const double bare =
      day.top_coefficient * day.surface_mm * (1.0 - covered * (1.0 - day.under_crown)) * day.top_m2;
  double transpiration = day.transpiration;
  double caught = 0.0;
  if constexpr (rains) {
    const double held_mm = least(day.rain_mm, day.interception_mm);
    transpiration = most(transpiration - held_mm * day.plan_m2, 0.0);
    caught = day.top_m2 * ((1.0 - covered) * day.rain_mm +
                           covered * ((day.rain_mm - held_mm) * day.capture_factor));
  }
  return {.rates = {.transpiration = transpiration,
                    .wall = day.wall_per_mm * day.surface_mm,
                    .top = day.mulch_factor * bare,
                    .mulch = day.mulched * bare},
          .rain = caught};
}

}  // namespace wiltline::kernel
