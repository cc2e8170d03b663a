#include "wiltline/budget/batch/left_alone.hpp"

#include <algorithm>
#include <cstring>

#include "wiltline/budget/batch/lanes.hpp"

namespace wiltline {
namespace {

using kernel::Rooting;

/// Of a day and those after it, one for each start: copies, so that the compiler sees that nothing
/// is written over them.
WILTLINE_KERNEL Eight on(const std::vector<double>& quantity, std::size_t day) {
  Eight values;
  std::memcpy(values.at.data(), quantity.data() + day, sizeof values);
  return values;
}

/// The depletions lie between these; the top's own, which no other drives, is known but for what a
/// mulch keeps of a rain.
struct LaneBounds {
  Eight low;
  Eight high;
  Eight unrooted_low;
  Eight unrooted_high;
  Eight top_low;
  Eight top_high;
  Eight open;    // 1 until it is known to be beyond the line, or no more can be said
  Eight within;  // 1 so long as it cannot have been beyond
  Eight beyond;  // 1 once it must have been
};

/// Depletion after plant and wall alone have drawn for so long that they would take `drawn_l` from
/// a moist mix.
WILTLINE_KERNEL double drawn_down(double depletion, double drawn_l, double raw, double taw) {
  const double moist = kernel::least(drawn_l, kernel::most(raw - depletion, 0.0));
  const double at = depletion + moist;
  const double left = kernel::most(taw - at, 0.0);
  constexpr double tiny = 1e-300;  // an unrooted part of no size
  const double decay = (drawn_l - moist) / kernel::most(taw - raw, tiny);
  return at + left * (1.0 - kernel::exponential(-decay));
}

/// What the top loses.
WILTLINE_KERNEL double top_lost(double top, double rate, double rew, double tew, double dx) {
  const double wet_for =
      kernel::least(kernel::most((rew - top) * kernel::per_litre(rate), 0.0), dx);
  const double in_line = rate * wet_for;
  const double left = kernel::most(tew - (top + in_line), 0.0);
  return in_line + left * (1.0 - kernel::exponential(-(rate / (tew - rew)) * (dx - wet_for)));
}

struct Terms {
  kernel::WateringLimits watering_limits;
  double rew;
  double tew;
  double exchanged;
  double odds_decay;
  double margin;  // far above rounding
};

/// Holds the bounds against the line of a day.
WILTLINE_LOOP void look(LaneBounds& b, const Terms& pot, const DaysAlone& days, std::size_t day) {
  const Eight line_l = on(days.line_l, day);
  const Eight air_dry_l = on(days.unrooted_air_dry_l, day);
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double open = b.open[i];
    const double is_beyond = kernel::flag(b.low[i] > line_l[i] + pot.margin);
    b.beyond[i] = kernel::most(b.beyond[i], open * is_beyond);
    b.within[i] = kernel::least(b.within[i], kernel::flag(b.high[i] < line_l[i] - pot.margin));
    // Once the unrooted mix may be air-dry the top dries in other ways.
    const double knows = kernel::flag(b.unrooted_high[i] + pot.margin <= air_dry_l[i]) +
                         kernel::flag(b.unrooted_high[i] == 0.0);
    b.within[i] = kernel::least(b.within[i], knows);
    b.open[i] = open * (1.0 - is_beyond) * kernel::flag(knows > 0.5);
  }
}

/// A stretch of a day; `leaves`, `returns`: 1 or 0.
template <Rooting rooting, bool mulched>
WILTLINE_LOOP void dry(LaneBounds& b, const Terms& pot, const DaysAlone& days, std::size_t day,
                       double leaves, double returns) {
  const Eight draw_l = on(days.draw_l, day);
  const Eight unrooted_draw_l = on(days.unrooted_draw_l, day);
  const Eight top_l = on(days.top_l, day);
  const Eight raw_l = on(days.raw_l, day);
  const Eight taw_l = on(days.taw_l, day);
  const Eight unrooted_raw_l = on(days.unrooted_raw_l, day);
  const Eight unrooted_taw_l = on(days.unrooted_taw_l, day);
  const Eight top_share = on(days.rooted_top_share, day);
  const Eight leave_at = on(days.leave_at, day);
  const Eight return_at = on(days.return_at, day);
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double dx =
        kernel::most(returns * return_at[i] + (1.0 - returns) - leaves * leave_at[i], 0.0);
    const double most_top = top_lost(b.top_low[i], top_l[i], pot.rew, pot.tew, dx);
    const double least_top =
        mulched ? top_lost(b.top_high[i], top_l[i], pot.rew, pot.tew, dx) : most_top;
    b.top_low[i] += most_top;
    b.top_high[i] += least_top;
    const double share = rooting == Rooting::whole ? 1.0 : top_share[i];
    const double drawn_l = draw_l[i] * dx;
    b.high[i] = drawn_down(b.high[i], drawn_l, raw_l[i], taw_l[i]) + share * most_top;
    b.low[i] = drawn_down(b.low[i] + share * least_top, drawn_l, raw_l[i], taw_l[i]);
    if constexpr (rooting == Rooting::part) {
      const double other = unrooted_draw_l[i] * dx;
      b.unrooted_high[i] =
          drawn_down(b.unrooted_high[i], other, unrooted_raw_l[i], unrooted_taw_l[i]) +
          (1.0 - share) * most_top;
      b.unrooted_low[i] = drawn_down(b.unrooted_low[i] + (1.0 - share) * least_top, other,
                                     unrooted_raw_l[i], unrooted_taw_l[i]);
    }
  }
}

/// The night before a day: roots grow. Both depletions only rise with either.
WILTLINE_LOOP void grow(LaneBounds& b, const Terms& pot, const DaysAlone& days, std::size_t day) {
  const Eight before = on(days.rooted_share, day - 1);
  const Eight filled = on(days.filled, day);
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const auto night = [&](double rooted, double unrooted) __attribute__((always_inline)) {
      return kernel::grow(
          kernel::exchange(
              {.share = before[i], .rooted_depletion = rooted, .unrooted_depletion = unrooted},
              pot.exchanged),
          pot.odds_decay, filled[i]);
    };
    const kernel::Rooted low = night(b.low[i], b.unrooted_low[i]);
    const kernel::Rooted high = night(b.high[i], b.unrooted_high[i]);
    b.low[i] = low.rooted_depletion;
    b.unrooted_low[i] = low.unrooted_depletion;
    b.high[i] = high.rooted_depletion;
    b.unrooted_high[i] = high.unrooted_depletion;
  }
}

/// So long as no part sheds what falls on it, both depletions only rise with either, and fall with
/// the rain; else it may have taken up all or nothing. A mulch may keep all that it can hold, or be
/// wet already.
template <Rooting rooting>
WILTLINE_LOOP void rain(LaneBounds& b, const Terms& pot, const DaysAlone& days, std::size_t day) {
  const Eight rain_l = on(days.rain_l, day);
  const Eight rooted_share = on(days.rooted_share, day);
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double r = rooting == Rooting::whole ? 1.0 : rooted_share[i];
    const double most_l = rain_l[i];
    const double least_l = kernel::most(most_l - pot.watering_limits.mulch_store, 0.0);
    const double unrooted_high = rooting == Rooting::whole ? 0.0 : b.unrooted_high[i];
    const double unrooted_low = rooting == Rooting::whole ? 0.0 : b.unrooted_low[i];
    const double sheds =
        kernel::most(kernel::part_is_dry(pot.watering_limits, r, b.high[i]),
                     rooting == Rooting::whole
                         ? 0.0
                         : kernel::part_is_dry(pot.watering_limits, 1.0 - r, unrooted_high));
    const kernel::Depletions after_most =
        kernel::pour<rooting>(pot.watering_limits, r, 1.0,
                              {.rooted = b.low[i],
                               .unrooted = unrooted_low,
                               .top = b.top_low[i],
                               .mulch_water = pot.watering_limits.mulch_store},
                              most_l)
            .after;
    const kernel::Depletions after_least =
        kernel::pour<rooting>(pot.watering_limits, r, 1.0,
                              {.rooted = b.high[i],
                               .unrooted = unrooted_high,
                               .top = b.top_high[i],
                               .mulch_water = pot.watering_limits.mulch_store},
                              least_l)
            .after;
    b.low[i] = kernel::choose(sheds, b.low[i] - most_l, after_most.rooted);
    b.high[i] = kernel::choose(sheds, b.high[i], after_least.rooted);
    if constexpr (rooting == Rooting::part) {
      b.unrooted_low[i] =
          kernel::choose(sheds, kernel::most(unrooted_low - most_l, 0.0), after_most.unrooted);
      b.unrooted_high[i] = kernel::choose(sheds, unrooted_high, after_least.unrooted);
    }
    b.top_low[i] = after_most.top;
    b.top_high[i] = after_least.top;
  }
}

WILTLINE_KERNEL bool some_open(const LaneBounds& b) {
  double open = 0.0;
  for (std::size_t i = 0; i < widest_vector; ++i) open += b.open[i];
  return open > 0.0;
}

template <Rooting rooting, bool mulched>
WILTLINE_LOOP LaneBounds leave(const LaneBounds& left, const Terms& pot, const DaysAlone& days,
                               std::size_t day, std::size_t days_to_return) {
  LaneBounds b = left;
  look(b, pot, days, day);
  for (std::size_t k = 0; some_open(b); ++k, ++day) {
    dry<rooting, mulched>(b, pot, days, day, kernel::flag(k == 0),
                          kernel::flag(k == days_to_return));
    look(b, pot, days, day);
    if (k == days_to_return) break;
    if constexpr (rooting == Rooting::part) grow(b, pot, days, day + 1);
    rain<rooting>(b, pot, days, day + 1);
    look(b, pot, days, day + 1);
  }
  return b;
}

}  // namespace

void DaysAlone::resize(std::size_t days) {
  for (std::vector<double>* const quantity :
       {&draw_l, &unrooted_draw_l, &top_l, &rain_l, &raw_l, &taw_l, &unrooted_raw_l,
        &unrooted_taw_l, &unrooted_air_dry_l, &rooted_share, &rooted_top_share, &filled, &line_l,
        &leave_at, &return_at}) {
    quantity->resize(days + widest_vector - 1);
  }
}

void DaysAlone::set(std::size_t day, const DayForcing& forcing, const IntervalLimits& limits,
                    double not_crossed_l, double leaves_at, double returns_at) {
  const FullRates& rates = forcing.full_rates;
  draw_l[day] = rates.transpiration_l + limits.rooted_share * rates.wall_l;
  unrooted_draw_l[day] = (1.0 - limits.rooted_share) * rates.wall_l;
  top_l[day] = rates.top_l;
  rain_l[day] = forcing.rain_l;
  raw_l[day] = limits.raw_l;
  taw_l[day] = limits.taw_l;
  unrooted_raw_l[day] = limits.unrooted_raw_l;
  unrooted_taw_l[day] = limits.unrooted_taw_l;
  unrooted_air_dry_l[day] = limits.unrooted_air_dry_l;
  rooted_share[day] = limits.rooted_share;
  rooted_top_share[day] = limits.rooted_top_share;
  filled[day] = kernel::flag(forcing.roots_filled);
  line_l[day] = not_crossed_l;
  leave_at[day] = leaves_at;
  return_at[day] = returns_at;
}

void judge_left_alone(const PotParameters& pot, const DaysAlone& days, std::size_t first,
                      std::span<const PotState> left, std::size_t days_to_return,
                      std::span<LeftAlone> sure, InstructionSet set) {
  std::fill(sure.begin(), sure.end(), LeftAlone::open);
  if (pot.single_store) return;
  constexpr double rounding = 1e-9;
  const Terms alike{.watering_limits = watering_limits(pot),
                    .rew = pot.readily_evaporable_l,
                    .tew = pot.total_evaporable_l,
                    .exchanged = pot.exchanged_overnight,
                    .odds_decay = pot.root_odds_decay,
                    .margin = rounding * pot.total_available_l};
  for (std::size_t begin = 0; begin < left.size(); begin += widest_vector) {
    const std::size_t starts = std::min(widest_vector, left.size() - begin);
    LaneBounds bounds{};
    for (std::size_t i = 0; i < starts; ++i) {
      const PotState& state = left[begin + i];
      bounds.low[i] = bounds.high[i] = state.rooted_depletion_l;
      bounds.unrooted_low[i] = bounds.unrooted_high[i] = state.unrooted_depletion_l;
      bounds.top_low[i] = bounds.top_high[i] = state.top_depletion_l;
      bounds.open[i] = bounds.within[i] = 1.0;
    }
    const std::size_t day = first + begin;
    const bool whole = days.rooted_share[day] == 1.0;
    const bool mulched = pot.mulch_store_l > 0.0;
    run_with(
        set, [&]() __attribute__((always_inline)) {
          if (whole && mulched) {
            bounds = leave<Rooting::whole, true>(bounds, alike, days, day, days_to_return);
          } else if (whole) {
            bounds = leave<Rooting::whole, false>(bounds, alike, days, day, days_to_return);
          } else if (mulched) {
            bounds = leave<Rooting::part, true>(bounds, alike, days, day, days_to_return);
          } else {
            bounds = leave<Rooting::part, false>(bounds, alike, days, day, days_to_return);
          }
        });
    for (std::size_t i = 0; i < starts; ++i) {
      if (bounds.beyond[i] > 0.5) {
        sure[begin + i] = LeftAlone::beyond_line;
      } else if (bounds.within[i] > 0.5) {
        sure[begin + i] = LeftAlone::within_line;
      }
    }
  }
}

}  // namespace wiltline
