#include "wiltline/budget/batch/edge_loops.hpp"

#include <array>
#include <bit>
#include <cstdint>

#include "wiltline/budget/edges.hpp"

namespace wiltline {
namespace {

using Data = PotChunk::Data;
using kernel::For;
using kernel::Rooting;

/// One value for each pot of a vector, not set to 0 first.
struct alignas(64) Eight {
  std::array<double, widest_vector> at;

  double& operator[](std::size_t i) { return at[i]; }
  double operator[](std::size_t i) const { return at[i]; }
};

/// Adds to `any` what is not 0.
WILTLINE_LOOP void note(std::uint64_t& any, double flag) {
  any |= std::bit_cast<std::uint64_t>(flag);
}

struct StoreLanes {
  Eight draw;
  Eight raw;
  Eight taw;
  Eight air_dry;
  Eight slope;
  Eight draws_to;

  WILTLINE_LOOP void set(std::size_t i, const kernel::Store& to) {
    draw[i] = to.draw;
    raw[i] = to.raw;
    taw[i] = to.taw;
    air_dry[i] = to.air_dry;
    slope[i] = to.slope;
    draws_to[i] = to.draws_to;
  }
  WILTLINE_KERNEL kernel::Store of(std::size_t i) const {
    return {.draw = draw[i],
            .raw = raw[i],
            .taw = taw[i],
            .air_dry = air_dry[i],
            .slope = slope[i],
            .draws_to = draws_to[i]};
  }
};

/// A search for the instant at which a store is at its edge.
struct SearchLanes {
  Eight at;  // not too late
  Eight searching;
  Eight edge;
  Eight depletion;
  Eight own_rate;
  Eight driven;
  Eight decay;

  WILTLINE_LOOP void begin(std::size_t i, const kernel::Motion& motion, double from, double longest,
                           double open) {
    const double t = kernel::earliest<For::many>(motion, from);
    at[i] = t;
    searching[i] = open * kernel::flag(motion.driven > 0.0) * kernel::flag(t < longest);
    edge[i] = motion.edge;
    depletion[i] = from;
    own_rate[i] = motion.own_rate;
    driven[i] = motion.driven;
    decay[i] = motion.decay;
  }
};

/// A vector of pots on their way through an interval.
struct Pots {
  StoreLanes rooted_store;
  StoreLanes unrooted_store;
  Eight rew;
  Eight tew;
  Eight full_top_decay;
  Eight full_top_rate;
  Eight rooted_top_share;
  Eight full_transpiration;
  Eight plant_share;

  Eight open;  // 1 until the interval is over
  Eight gone;
  Eight rooted;
  Eight unrooted;
  Eight top;
  Eight transpired;
  Eight top_lost;
  Eight wall_lost;

  // The piece.
  Eight longest;
  Eight top_decay;
  SearchLanes rooted_search;
  SearchLanes unrooted_search;
  Eight doubtful;  // 1 if it is for `flow` alone

  template <Rooting rooting>
  WILTLINE_KERNEL kernel::TwoStores pot(std::size_t i) const {
    return {.rooted = rooted_store.of(i),
            .unrooted = rooting == Rooting::whole ? kernel::Store{} : unrooted_store.of(i),
            .rew = rew[i],
            .tew = tew[i],
            .top_decay = full_top_decay[i],
            .top_rate = full_top_rate[i],
            .rooted_top_share = rooting == Rooting::whole ? 1.0 : rooted_top_share[i],
            .transpiration = full_transpiration[i],
            .plant_share = plant_share[i]};
  }
  template <Rooting rooting>
  WILTLINE_KERNEL kernel::Depletions now(std::size_t i) const {
    return {.rooted = rooted[i],
            .unrooted = rooting == Rooting::whole ? 0.0 : unrooted[i],
            .top = top[i],
            .mulch_water = 0.0};
  }
};

template <Rooting rooting>
WILTLINE_KERNEL kernel::DayLimits limits_of(const Data& d, std::size_t lane, double p) {
  return kernel::day_limits(d.total_available[lane], p, rooted_share<rooting>(d, lane),
                            {.threshold = d.threshold_fraction[lane],
                             .wilting = d.wilting_fraction[lane],
                             .dry = d.dry_fraction[lane]});
}

template <Rooting rooting>
WILTLINE_LOOP void begin(Pots& pots, const Data& d, std::size_t first, double p, double dx) {
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const std::size_t lane = first + i;
    const double share = rooted_share<rooting>(d, lane);
    const kernel::DayLimits limits = limits_of<rooting>(d, lane, p);
    const kernel::TwoStores pot = kernel::two_stores(
        {.transpiration = d.transpiration[lane],
         .wall = d.wall[lane],
         .top = d.top_rate[lane],
         .mulch = 0.0},
        {.raw = limits.raw,
         .taw = limits.taw,
         .air_dry = d.air_dry[lane] * share,
         .unrooted_raw = limits.unrooted_raw,
         .unrooted_taw = d.total_available[lane] * (1.0 - share),
         .unrooted_air_dry = d.air_dry[lane] * (1.0 - share),
         .rew = d.plain_rew[lane],
         .tew = d.tew[lane],
         .rooted_share = share,
         .rooted_top_share = rooting == Rooting::whole ? 1.0 : d.rooted_top_share[lane]});
    pots.rooted_store.set(i, pot.rooted);
    if constexpr (rooting == Rooting::part) {
      pots.unrooted_store.set(i, pot.unrooted);
      pots.rooted_top_share[i] = pot.rooted_top_share;
      pots.unrooted[i] = d.now.unrooted[lane];
    }
    pots.rew[i] = pot.rew;
    pots.tew[i] = pot.tew;
    pots.full_top_decay[i] = pot.top_decay;
    pots.full_top_rate[i] = pot.top_rate;
    pots.full_transpiration[i] = pot.transpiration;
    pots.plant_share[i] = pot.plant_share;
    pots.doubtful[i] = d.single_store[lane];
    // For those that are not for the loops the interval is over.
    const double open = (1.0 - d.plain[lane]) * (1.0 - d.single_store[lane]);
    pots.open[i] = open;
    pots.gone[i] = dx * (1.0 - open);
    pots.rooted[i] = d.now.rooted[lane];
    pots.top[i] = d.now.top[lane];
    pots.transpired[i] = 0.0;
    pots.top_lost[i] = 0.0;
    pots.wall_lost[i] = 0.0;
  }
}

struct Found {
  std::uint64_t drying = 0;
  std::uint64_t rooted_search = 0;
  std::uint64_t unrooted_search = 0;
};
/// How long a piece can be, and when the stores can be at their edges.
template <Rooting rooting>
WILTLINE_LOOP Found begin_piece(Pots& pots, double dx) {
  std::uint64_t drying = 0;
  std::uint64_t rooted_search = 0;
  std::uint64_t unrooted_search = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const kernel::Depletions now = pots.now<rooting>(i);
    const kernel::Piece<rooting> piece =
        kernel::piece<rooting>(pots.pot<rooting>(i), now, dx - pots.gone[i]);
    const double open = pots.open[i];
    pots.longest[i] = piece.longest;
    pots.top_decay[i] = piece.top_decay;
    pots.rooted_search.begin(i, piece.rooted, now.rooted, piece.longest, open);
    note(drying, open * piece.top_decay);
    note(rooted_search, pots.rooted_search.searching[i]);
    if constexpr (rooting == Rooting::part) {
      pots.unrooted_search.begin(i, piece.unrooted, now.unrooted, piece.longest, open);
      note(unrooted_search, pots.unrooted_search.searching[i]);
    }
  }
  return {.drying = drying, .rooted_search = rooted_search, .unrooted_search = unrooted_search};
}

/// One round of the search in each pot that is not done.
WILTLINE_LOOP bool search_on(SearchLanes& search, const Pots& pots) {
  std::uint64_t searching = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double longest = pots.longest[i];
    const kernel::Approach next =
        kernel::approach<For::many>({.constant = 0.0,
                                     .decay = search.decay[i],
                                     .driven = search.driven[i],
                                     .edge = search.edge[i],
                                     .own_rate = search.own_rate[i]},
                                    search.depletion[i], pots.top_decay[i], search.at[i]);
    const double on = search.searching[i];
    search.at[i] = kernel::choose(on, next.t, search.at[i]);
    const double again = on * kernel::flag(next.off > kernel::close_enough * longest) *
                         kernel::flag(next.t < longest);
    search.searching[i] = again;
    note(searching, again);
  }
  return searching != 0;
}
WILTLINE_LOOP void search_all(SearchLanes& search, Pots& pots) {
  for (int round = 0; round < kernel::most_rounds; ++round) {
    if (!search_on(search, pots)) return;
  }
  for (std::size_t i = 0; i < widest_vector; ++i) pots.doubtful[i] += search.searching[i];
}

/// Moves each pot on to the end of its piece; one whose interval is over has a piece of no length,
/// which changes nothing. True if some are still on their way.
template <Rooting rooting, bool drying>
WILTLINE_LOOP bool end_piece(Pots& pots, double dx) {
  std::uint64_t still_open = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const kernel::TwoStores pot = pots.pot<rooting>(i);
    const kernel::Depletions now = pots.now<rooting>(i);
    const double gone = pots.gone[i];
    const double rest = dx - gone;
    const double unrooted_at =
        rooting == Rooting::whole ? kernel::out_of_reach : pots.unrooted_search.at[i];
    const kernel::PieceEnd end = kernel::end_of<For::many, rooting, drying>(
        pot, kernel::piece<rooting>(pot, now, rest), now, pots.rooted_search.at[i], unrooted_at);
    pots.rooted[i] = kernel::choose(pots.open[i], end.after.rooted, now.rooted);
    if constexpr (rooting == Rooting::part)
      pots.unrooted[i] = kernel::choose(pots.open[i], end.after.unrooted, now.unrooted);
    pots.top[i] = kernel::choose(pots.open[i], end.after.top, now.top);
    pots.transpired[i] += kernel::choose(pots.open[i], end.lost.transpired, 0.0);
    pots.top_lost[i] += kernel::choose(pots.open[i], end.lost.top, 0.0);
    pots.wall_lost[i] += kernel::choose(pots.open[i], end.lost.wall, 0.0);
    pots.gone[i] = kernel::choose(kernel::flag(end.t < rest), gone + end.t, dx);
    const double on = pots.open[i] * kernel::flag(pots.gone[i] < dx);
    pots.open[i] = on;
    note(still_open, on);
  }
  return still_open != 0;
}

/// Enters what the interval did to those that went through it. Whether D passed a line only at the
/// very end, which does not count, is for `flow` to find: such a pot is left as it was. Not in
/// lanes: pot by pot there is little to do, and nothing for those that are plain.
template <Rooting rooting>
[[gnu::noinline]] void end(const Pots& pots, Data& d, std::size_t first, double p, double dx) {
  constexpr double instant = 1e-9;  // of a day's demand
  constexpr double rounding = 1e-12;
  for (std::size_t i = 0; i < widest_vector; ++i) {
    const std::size_t lane = first + i;
    if (d.plain[lane] > 0.5 || pots.doubtful[i] > 0.5) continue;
    const double from = d.now.rooted[lane];
    const double to = pots.rooted[i];
    const kernel::DayLimits limits = limits_of<rooting>(d, lane, p);
    const double near = instant * d.rooted_use[lane];
    bool doubtful = false;
    const auto passes = [&](double line) {
      const double margin = near + rounding * line;
      doubtful = doubtful || (to > line - margin && to < line + margin);
      return from <= line && line < to;
    };
    const bool stressed = passes(limits.raw);
    const bool wilting = passes(limits.lines.wilting);
    const bool dry = passes(limits.lines.dry);
    if (doubtful) continue;
    if (stressed) d.day.stressed[lane] = 1.0;
    if (wilting) d.day.wilting[lane] = 1.0;
    if (dry) d.day.dry[lane] = 1.0;
    const double mulch = kernel::least(d.now.mulch_water[lane], d.mulch_rate[lane] * dx);
    d.now.rooted[lane] = to;
    if constexpr (rooting == Rooting::part) d.now.unrooted[lane] = pots.unrooted[i];
    d.now.top[lane] = pots.top[i];
    d.now.mulch_water[lane] -= mulch;
    d.day.transpired[lane] += pots.transpired[i];
    d.day.evaporated[lane] += pots.top_lost[i] + pots.wall_lost[i] + mulch;
    d.day.highest_depletion[lane] = kernel::most(d.day.highest_depletion[lane], to);
    d.exact[lane] = 1.0;
    d.plain[lane] = 1.0;
  }
}

/// A vector of pots through its interval, from edge to edge.
template <Rooting rooting>
WILTLINE_LOOP void run(Data& d, std::size_t first, double p, double dx) {
  Pots pots;
  begin<rooting>(pots, d, first, p, dx);
  bool on_their_way = true;
  for (int piece = 0; piece < kernel::most_pieces && on_their_way; ++piece) {
    const Found found = begin_piece<rooting>(pots, dx);
    if (found.rooted_search != 0) search_all(pots.rooted_search, pots);
    if (found.unrooted_search != 0) search_all(pots.unrooted_search, pots);
    on_their_way = found.drying != 0 ? end_piece<rooting, true>(pots, dx)
                                     : end_piece<rooting, false>(pots, dx);
  }
  end<rooting>(pots, d, first, p, dx);
}

/// True if none of a vector's pots is for the loops.
[[gnu::noinline]] bool none(const Data& d, std::size_t first) {
  for (std::size_t lane = first; lane < first + widest_vector; ++lane) {
    if (d.plain[lane] < 0.5 && d.single_store[lane] < 0.5) return false;
  }
  return true;
}

/// One pot through its interval.
void dry_one(Data& d, const SharedDay& shared, std::size_t i, double from, double to) {
  const PotParameters& pot = shared.settings[i]->pot;
  const double share = shared.all_rooted ? 1.0 : d.now.rooted_share[i];
  const IntervalLimits limits = interval_limits(pot, shared.crop->depletion_fraction, share);
  const PotState before{.rooted_depletion_l = d.now.rooted[i],
                        .top_depletion_l = d.now.top[i],
                        .unrooted_depletion_l = shared.all_rooted ? 0.0 : d.now.unrooted[i],
                        .rooted_share = share,
                        .mulch_water_l = d.now.mulch_water[i]};
  const IntervalResult interval = flow({.transpiration_l = d.transpiration[i],
                                        .wall_l = d.wall[i],
                                        .top_l = d.top_rate[i],
                                        .mulch_l = d.mulch_rate[i]},
                                       limits, line_depletions(pot, limits), before, to - from);
  d.now.rooted[i] = interval.state.rooted_depletion_l;
  if (!shared.all_rooted) d.now.unrooted[i] = interval.state.unrooted_depletion_l;
  d.now.top[i] = interval.state.top_depletion_l;
  d.now.mulch_water[i] = interval.state.mulch_water_l;
  d.day.transpired[i] += interval.transpired_l;
  d.day.evaporated[i] +=
      interval.top_evaporated_l + interval.wall_evaporated_l + interval.mulch_evaporated_l;
  d.day.highest_depletion[i] = kernel::most(d.day.highest_depletion[i], d.now.rooted[i]);
  const auto note_line = [&](Lanes& passed, Line line) {
    const double at = interval.crossed_at[static_cast<std::size_t>(line)];
    if (counts_as_passed(at, from, to)) passed[i] = 1.0;
  };
  note_line(d.day.stressed, Line::stressed);
  note_line(d.day.wilting, Line::wilting);
  note_line(d.day.dry, Line::dry);
  d.exact[i] = 1.0;
}

}  // namespace

void dry_through_edges(PotChunk::Data& data, const SharedDay& shared, double from, double to) {
  const double dx = to - from;
  const double p = shared.crop->depletion_fraction;
  run_with(
      shared.set, [&]() __attribute__((always_inline)) {
        for (std::size_t first = 0; first < shared.lanes(); first += widest_vector) {
          if (none(data, first)) continue;
          if (shared.all_rooted) {
            run<Rooting::whole>(data, first, p, dx);
          } else {
            run<Rooting::part>(data, first, p, dx);
          }
        }
      });
  for (std::size_t i = 0; i < shared.settings.size(); ++i) {
    if (data.plain[i] < 0.5) dry_one(data, shared, i, from, to);
  }
  for (std::size_t i = 0; i < shared.lanes(); ++i) data.plain[i] = 1.0;
}

}  // namespace wiltline
