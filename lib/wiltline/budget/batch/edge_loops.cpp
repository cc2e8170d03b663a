#include "wiltline/budget/batch/edge_loops.hpp"

#include "wiltline/budget/edges.hpp"

namespace wiltline {
namespace {

using Data = PotChunk::Data;
using kernel::For;
using kernel::Rooting;

/// What is not 0 if in some pot that is under way …
struct Some {
  std::uint64_t falls_off = 0;  // the top falls off
  std::uint64_t may_reach = 0;  // a store with a decay of its own may reach its edge in the piece
  std::uint64_t far = 0;        // such a store decays beyond where series do
  std::uint64_t rooted_search = 0;
  std::uint64_t unrooted_search = 0;
};

/// When a store is at its edge, and the search for it.
struct SearchLanes {
  Eight at;  // not too late
  Eight searching;
  Eight depletion;
  EightRecords<kernel::Motion> motion;

  /// As if no store with a decay of its own reached its edge in the piece: what they still miss
  /// would have to be lost at the rate of its start.
  WILTLINE_LOOP void begin(std::size_t i, const kernel::Motion& moves, double from, double longest,
                           double open, Some& some, std::uint64_t& search) {
    constexpr double room = 1.0 + 1e-9;  // for rounding
    const double missing = moves.edge - from;
    const double rate = moves.own_rate + moves.driven;
    const double k = moves.decay;
    const double t = kernel::time_to_lose<For::many_steady>(missing, rate, k);
    note(some.may_reach, open * k * kernel::flag(missing < (rate + k * missing) * longest * room));
    note(some.far, open * (1.0 - kernel::near_zero(k * longest)));
    at[i] = t;
    searching[i] = open * kernel::flag(moves.driven > 0.0) * kernel::flag(t < longest);
    depletion[i] = from;
    motion.set(i, moves);
    note(search, searching[i]);
  }
};

/// A vector of pots on their way through an interval.
struct Pots {
  EightRecords<kernel::TwoStores> pot;  // or of its one store, the rooted one

  Eight dx;
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
  Eight t;  // how long it is
  SearchLanes rooted_search;
  SearchLanes unrooted_search;
  Eight doubtful;  // more than 0 if it is for `flow` alone
  Eight through;   // 1 if it went through its interval here

  template <Rooting rooting>
  WILTLINE_KERNEL kernel::Depletions now(std::size_t i) const {
    return {.rooted = rooted[i],
            .unrooted = rooting == Rooting::whole ? 0.0 : unrooted[i],
            .top = top[i],
            .mulch_water = 0.0};
  }
  /// What a piece took, and how long; 1 if the pot's interval goes on.
  WILTLINE_KERNEL double enter(std::size_t i, const kernel::PieceEnd& end) {
    const double before = gone[i];
    transpired[i] += kernel::choose(open[i], end.lost.transpired, 0.0);
    top_lost[i] += kernel::choose(open[i], end.lost.top, 0.0);
    wall_lost[i] += kernel::choose(open[i], end.lost.wall, 0.0);
    t[i] = end.t;
    gone[i] = kernel::choose(kernel::flag(end.t < dx[i] - before), before + end.t, dx[i]);
    return open[i] * kernel::flag(gone[i] < dx[i]);
  }
};

/// More than 0 if a store of a pot now has a decay of its own: kernel::motion.
WILTLINE_KERNEL double decays(const kernel::Store& store, double depletion) {
  return kernel::flag(depletion >= store.raw) * kernel::flag(depletion < store.taw) * store.slope;
}
template <Rooting rooting>
WILTLINE_KERNEL double decays(const Pots& pots, std::size_t i) {
  const kernel::TwoStores pot = pots.pot.of(i);
  double sum = decays(pot.rooted, pots.rooted[i]);
  if constexpr (rooting == Rooting::part) sum += decays(pot.unrooted, pots.unrooted[i]);
  return sum;
}

/// As interval_limits has them, for loops over many. `rew`: of a single store or of a top layer.
template <Rooting rooting>
WILTLINE_KERNEL IntervalLimits interval_limits_of(const Data& d, std::size_t lane, double p,
                                                  double rew) {
  const double share = rooted_share<rooting>(d, lane);
  const kernel::DayLimits limits = limits_of<rooting>(d, lane, p);
  return {.raw_l = limits.raw,
          .taw_l = limits.taw,
          .air_dry_l = d.air_dry[lane] * share,
          .unrooted_raw_l = limits.unrooted_raw,
          .unrooted_taw_l = d.total_available[lane] * (1.0 - share),
          .unrooted_air_dry_l = d.air_dry[lane] * (1.0 - share),
          .rew_l = rew,
          .tew_l = d.tew[lane],
          .rooted_share = share,
          .rooted_top_share = rooting == Rooting::whole ? 1.0 : d.rooted_top_share[lane]};
}

/// What is left to do.
struct Rest {
  bool some_open;
  bool some_decay;
};

template <Rooting rooting>
WILTLINE_LOOP Rest begin(Pots& pots, const Data& d, std::size_t first, double p) {
  std::uint64_t some_open = 0;
  std::uint64_t some_decay = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const std::size_t lane = first + i;
    pots.pot.set(i, kernel::two_stores(d.rates.of(lane),
                                       interval_limits_of<rooting>(d, lane, p, d.plain_rew[lane])));
    if constexpr (rooting == Rooting::part) pots.unrooted[i] = d.now.unrooted[lane];
    pots.doubtful[i] = 0.0;
    // For those that are not for the loops the interval is over.
    const double open = (1.0 - d.plain[lane]) * (1.0 - d.single_store[lane]);
    const double dx = d.to[lane] - d.from[lane];
    pots.dx[i] = dx;
    pots.open[i] = open;
    pots.gone[i] = dx * (1.0 - open);
    pots.rooted[i] = d.now.rooted[lane];
    pots.top[i] = d.now.top[lane];
    pots.transpired[i] = 0.0;
    pots.top_lost[i] = 0.0;
    pots.wall_lost[i] = 0.0;
    note(some_open, open);
    note(some_decay, open * decays<rooting>(pots, i));
  }
  return {.some_open = some_open != 0, .some_decay = some_decay != 0};
}

/// How long a piece can be, and when the stores can be at their edges.
template <Rooting rooting>
WILTLINE_LOOP Some begin_piece(Pots& pots) {
  Some some;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const kernel::Depletions now = pots.now<rooting>(i);
    const kernel::Piece<rooting> piece =
        kernel::piece<rooting>(pots.pot.of(i), now, pots.dx[i] - pots.gone[i]);
    const double open = pots.open[i];
    pots.longest[i] = piece.longest;
    pots.top_decay[i] = piece.top_decay;
    note(some.falls_off, open * piece.top_decay);
    pots.rooted_search.begin(i, piece.rooted, now.rooted, piece.longest, open, some,
                             some.rooted_search);
    if constexpr (rooting == Rooting::part) {
      pots.unrooted_search.begin(i, piece.unrooted, now.unrooted, piece.longest, open, some,
                                 some.unrooted_search);
    }
  }
  return some;
}

/// The same where stores with a decay of their own may reach their edges. True if some pot is to
/// search.
WILTLINE_LOOP std::uint64_t begin_decaying(SearchLanes& search, const Pots& pots) {
  std::uint64_t searching = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double longest = pots.longest[i];
    const kernel::Motion motion = search.motion.of(i);
    const double t = kernel::earliest<For::many>(motion, search.depletion[i]);
    search.at[i] = t;
    search.searching[i] =
        pots.open[i] * kernel::flag(motion.driven > 0.0) * kernel::flag(t < longest);
    note(searching, search.searching[i]);
  }
  return searching;
}

/// One round of the search in each pot that is not done.
template <For stores>
WILTLINE_LOOP bool search_on(SearchLanes& search, const Pots& pots) {
  std::uint64_t searching = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double longest = pots.longest[i];
    const kernel::Approach next = kernel::approach<stores>(search.motion.of(i), search.depletion[i],
                                                           pots.top_decay[i], search.at[i]);
    const double on = search.searching[i];
    search.at[i] = kernel::choose(on, next.t, search.at[i]);
    const double again = on * kernel::flag(next.off > kernel::close_enough * longest) *
                         kernel::flag(next.t < longest);
    search.searching[i] = again;
    note(searching, again);
  }
  return searching != 0;
}
template <For stores>
WILTLINE_LOOP void search_all(SearchLanes& search, Pots& pots) {
  for (int round = 0; round < kernel::most_rounds; ++round) {
    if (!search_on<stores>(search, pots)) return;
  }
  for (std::size_t i = 0; i < widest_vector; ++i) pots.doubtful[i] += search.searching[i];
}

/// Moves each pot on to the end of its piece; one whose interval is over has a piece of no length,
/// which changes nothing.
template <For stores, Rooting rooting, bool drying>
WILTLINE_LOOP Rest end_piece(Pots& pots) {
  std::uint64_t some_open = 0;
  std::uint64_t some_decay = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const kernel::TwoStores pot = pots.pot.of(i);
    const kernel::Depletions now = pots.now<rooting>(i);
    const double rest = pots.dx[i] - pots.gone[i];
    const double unrooted_at =
        rooting == Rooting::whole ? kernel::out_of_reach : pots.unrooted_search.at[i];
    const kernel::PieceEnd end = kernel::end_of<stores, rooting, drying>(
        pot, kernel::piece<rooting>(pot, now, rest), now, pots.rooted_search.at[i], unrooted_at);
    pots.rooted[i] = kernel::choose(pots.open[i], end.after.rooted, now.rooted);
    if constexpr (rooting == Rooting::part)
      pots.unrooted[i] = kernel::choose(pots.open[i], end.after.unrooted, now.unrooted);
    pots.top[i] = kernel::choose(pots.open[i], end.after.top, now.top);
    const double on = pots.enter(i, end);
    pots.open[i] = on;
    note(some_open, on);
    note(some_decay, on * decays<rooting>(pots, i));
  }
  return {.some_open = some_open != 0, .some_decay = some_decay != 0};
}

template <For stores, Rooting rooting>
WILTLINE_LOOP Rest search_and_end(Pots& pots, const Some& some) {
  if (some.rooted_search != 0) search_all<stores>(pots.rooted_search, pots);
  if (some.unrooted_search != 0) search_all<stores>(pots.unrooted_search, pots);
  return some.falls_off != 0 ? end_piece<stores, rooting, true>(pots)
                             : end_piece<stores, rooting, false>(pots);
}

/// `some_decay`: some store that is under way has a decay of its own.
template <Rooting rooting>
WILTLINE_LOOP Rest run_piece(Pots& pots, bool some_decay) {
  Some some = begin_piece<rooting>(pots);
  if (!some_decay) return search_and_end<For::many_steady, rooting>(pots, some);
  if (some.may_reach != 0) {
    some.rooted_search = begin_decaying(pots.rooted_search, pots);
    if constexpr (rooting == Rooting::part) {
      some.unrooted_search = begin_decaying(pots.unrooted_search, pots);
    }
  }
  if ((some.far | some.falls_off) == 0) return end_piece<For::many_near, rooting, false>(pots);
  return search_and_end<For::many, rooting>(pots, some);
}

/// Finds those that went through their interval. Whether D passed a line only at the very end,
/// which does not count, is for `flow` to find, unless it was the aim: such a pot is set back to
/// where it was.
template <Rooting rooting, bool aims>
WILTLINE_LOOP bool set_back(Pots& pots, const Data& d, std::size_t first, double p) {
  constexpr double instant = 1e-9;  // of a day's demand
  constexpr double rounding = 1e-12;
  std::uint64_t some_doubtful = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const std::size_t lane = first + i;
    const kernel::DayLimits limits = limits_of<rooting>(d, lane, p);
    const double to = pots.rooted[i];
    const double near = instant * d.rooted_use[lane];
    const double aim = aims ? d.aim[lane] : 0.0;
    const auto ends_at = [=](double line) __attribute__((always_inline)) {
      const double margin = near + rounding * line;
      const double ends = kernel::flag(to > line - margin) * kernel::flag(to < line + margin);
      return aims ? ends * kernel::flag(line != aim) : ends;
    };
    const double doubtful = pots.doubtful[i] + ends_at(limits.raw) + ends_at(limits.lines.wilting) +
                            ends_at(limits.lines.dry);
    const double here = 1.0 - d.plain[lane];
    pots.through[i] = here * kernel::flag(doubtful < 0.5);
    note(some_doubtful, here * doubtful);
  }
  if (some_doubtful == 0) return false;
  for (std::size_t i = 0; i < widest_vector; ++i) {
    if (pots.through[i] > 0.5) continue;
    const std::size_t lane = first + i;
    pots.rooted[i] = d.now.rooted[lane];
    if constexpr (rooting == Rooting::part) pots.unrooted[i] = d.now.unrooted[lane];
    pots.top[i] = d.now.top[lane];
    pots.transpired[i] = pots.top_lost[i] = pots.wall_lost[i] = 0.0;
  }
  return true;
}

/// Enters what the interval did.
template <Rooting rooting, bool aims>
WILTLINE_LOOP void end(const Pots& pots, Data& d, std::size_t first, double p) {
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const std::size_t lane = first + i;
    const double from = d.now.rooted[lane];
    const double to = pots.rooted[i];
    const kernel::DayLimits limits = limits_of<rooting>(d, lane, p);
    const double aim = aims ? d.aim[lane] : 0.0;
    const auto passes = [=](double line) __attribute__((always_inline)) {
      const double passed = kernel::flag(from <= line) * kernel::flag(line < to);
      return aims ? passed * kernel::flag(line != aim) : passed;
    };
    d.day.stressed[lane] = kernel::most(d.day.stressed[lane], passes(limits.raw));
    d.day.wilting[lane] = kernel::most(d.day.wilting[lane], passes(limits.lines.wilting));
    d.day.dry[lane] = kernel::most(d.day.dry[lane], passes(limits.lines.dry));
    const double through = pots.through[i];
    const double mulch =
        through * kernel::least(d.now.mulch_water[lane], d.rates.of(lane).mulch * pots.dx[i]);
    d.now.rooted[lane] = to;
    if constexpr (rooting == Rooting::part) d.now.unrooted[lane] = pots.unrooted[i];
    d.now.top[lane] = pots.top[i];
    d.now.mulch_water[lane] -= mulch;
    d.day.transpired[lane] += pots.transpired[i];
    d.day.evaporated[lane] += pots.top_lost[i] + pots.wall_lost[i] + mulch;
    d.day.highest_depletion[lane] = kernel::most(d.day.highest_depletion[lane], to);
    d.exact[lane] = kernel::most(d.exact[lane], through);
    d.plain[lane] += through;
  }
}

/// Single stores before their interval; the others are through theirs. True if one is to go on.
template <Rooting rooting>
WILTLINE_LOOP bool begin_single_stores(Pots& pots, const Data& d, std::size_t first, double p) {
  std::uint64_t some_open = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const std::size_t lane = first + i;
    const kernel::TwoStores pot = kernel::two_stores(
        d.rates.of(lane), interval_limits_of<rooting>(d, lane, p, d.single_store_rew[lane]));
    pots.pot.set(i, pot);
    const double open = (1.0 - d.plain[lane]) * d.single_store[lane] *
                        kernel::flag(pots.rooted[i] < pot.rooted.air_dry);
    pots.open[i] = open;
    pots.gone[i] = pots.dx[i] * (1.0 - open);
    note(some_open, open);
  }
  return some_open != 0;
}

/// Ends a piece of single stores. True if one is to go on.
template <For stores>
WILTLINE_LOOP bool end_single_piece(Pots& pots) {
  std::uint64_t some_open = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const kernel::TwoStores pot = pots.pot.of(i);
    const double before = pots.rooted[i];
    const double rest = pots.dx[i] - pots.gone[i];
    const double open = pots.open[i];
    const kernel::SinglePiece piece = kernel::single_piece(pot, before);
    const kernel::PieceEnd end =
        kernel::end_of<stores>(pot, piece, before, rest, pots.rooted_search.at[i]);
    pots.rooted[i] = open * end.after.rooted + (1.0 - open) * before;
    const double on = pots.enter(i, end) * kernel::flag(pots.rooted[i] < pot.rooted.air_dry);
    pots.open[i] = on;
    note(some_open, on);
  }
  return some_open != 0;
}

/// Moves single stores on to the end of their piece. True if one is to go on.
WILTLINE_LOOP bool run_single_piece(Pots& pots) {
  Some some;
  for (std::size_t i = 0; i < widest_vector; ++i) {  // vector loop
    const double before = pots.rooted[i];
    const kernel::Motion motion = kernel::single_piece(pots.pot.of(i), before).motion;
    const double longest = pots.dx[i] - pots.gone[i];
    pots.longest[i] = longest;
    pots.rooted_search.begin(i, motion, before, longest, pots.open[i], some, some.rooted_search);
  }
  if (some.may_reach != 0) (void)begin_decaying(pots.rooted_search, pots);
  return some.far == 0 ? end_single_piece<For::many_near>(pots) : end_single_piece<For::many>(pots);
}

/// Takes single stores through their interval.
template <Rooting rooting>
WILTLINE_LOOP void run_single_stores(Pots& pots, const Data& d, std::size_t first, double p) {
  bool some_open = begin_single_stores<rooting>(pots, d, first, p);
  for (int piece = 0; piece < kernel::most_pieces && some_open; ++piece) {
    some_open = run_single_piece(pots);
  }
  // The surface of a single store is the store.
  for (std::size_t i = 0; i < widest_vector; ++i) {
    const double single = d.single_store[first + i];
    pots.top[i] = single * kernel::most(pots.rooted[i], 0.0) + (1.0 - single) * pots.top[i];
  }
}

/// Which of a vector's pots have an edge before them.
struct Edged {
  bool some;
  bool some_single;
};
WILTLINE_LOOP Edged edged(const Data& d, std::size_t first) {
  std::uint64_t some = 0;
  std::uint64_t some_single = 0;
  for (std::size_t lane = first; lane < first + widest_vector; ++lane) {
    note(some, 1.0 - d.plain[lane]);
  }
  if (d.some_single_store) {
    for (std::size_t lane = first; lane < first + widest_vector; ++lane) {
      note(some_single, (1.0 - d.plain[lane]) * d.single_store[lane]);
    }
  }
  return {.some = some != 0, .some_single = some_single != 0};
}

/// A vector of pots through its interval, from edge to edge. True if one is for `flow` alone.
template <Rooting rooting, bool aims>
WILTLINE_LOOP bool run(Data& d, std::size_t first, double p) {
  const Edged which = edged(d, first);
  if (!which.some) return false;
  Pots pots;
  Rest rest = begin<rooting>(pots, d, first, p);
  for (int piece = 0; piece < kernel::most_pieces && rest.some_open; ++piece) {
    rest = run_piece<rooting>(pots, rest.some_decay);
  }
  if (which.some_single) run_single_stores<rooting>(pots, d, first, p);
  const bool some_back = set_back<rooting, aims>(pots, d, first, p);
  end<rooting, aims>(pots, d, first, p);
  return some_back;
}

/// True if a pot that has come to RAW goes beyond it at once and visibly, so that nobody need work
/// out its next piece to know that. False: undecided.
template <Rooting rooting>
WILTLINE_KERNEL bool goes_beyond_raw(const kernel::TwoStores& pot, const kernel::Depletions& now,
                                     double rest) {
  constexpr double enough = 1e-6;  // of a day's demand, of RAW
  const kernel::Store& store = pot.rooted;
  const kernel::Piece<rooting> piece = kernel::piece<rooting>(pot, now, rest);
  if constexpr (rooting == Rooting::part) {
    if (!(kernel::earliest<For::one>(piece.unrooted, now.unrooted) > enough)) return false;
  }
  return piece.longest > enough && store.draw > enough * store.raw && store.slope * enough < 1.0 &&
         now.rooted < store.taw && store.taw < store.air_dry;
}

/// When in the piece that was run, or at its end, pots passed their threshold: a few, one by one.
/// For those the search is over. `open`, `gone`: as they were. `stores`: none is a single one.
template <Rooting rooting, bool stores>
WILTLINE_LOOP Rest note_crossings(Pots& pots, Data& d, std::size_t first, const Eight& open,
                                  const Eight& gone) {
  const SearchLanes& rooted = pots.rooted_search;
  std::uint64_t some_open = 0;
  std::uint64_t some_decay = 0;
  for (std::size_t i = 0; i < widest_vector; ++i) {
    const double line = d.day.threshold[first + i];
    const double from = rooted.depletion[i];
    double crossing = -1.0;
    if (open[i] > 0.5 && from <= line && line < pots.rooted[i]) {
      kernel::Motion motion = rooted.motion.of(i);
      motion.edge = line;
      motion.own_rate = motion.constant - motion.decay * line;
      const double t = kernel::time_to_edge(motion, from, pots.top_decay[i], pots.t[i]);
      crossing = gone[i] + kernel::least(t, pots.t[i]);
    } else if (stores && pots.open[i] > 0.5 && pots.rooted[i] == line &&
               line == pots.pot.of(i).rooted.raw &&
               goes_beyond_raw<rooting>(pots.pot.of(i), pots.now<rooting>(i),
                                        pots.dx[i] - pots.gone[i])) {
      crossing = pots.gone[i];
    }
    if (crossing >= 0.0) {
      d.crosses[first + i] = 1.0;
      d.crossing[first + i] = crossing;
      pots.open[i] = 0.0;
      pots.gone[i] = pots.dx[i];
    }
    note(some_open, pots.open[i]);
    if constexpr (stores) note(some_decay, pots.open[i] * decays<rooting>(pots, i));
  }
  return {.some_open = some_open != 0, .some_decay = some_decay != 0};
}

/// When a vector of pots would pass their thresholds.
template <Rooting rooting>
WILTLINE_LOOP void seek(Data& d, std::size_t first, double p) {
  const Edged which = edged(d, first);
  if (!which.some) return;
  Pots pots;
  Rest rest = begin<rooting>(pots, d, first, p);
  for (int piece = 0; piece < kernel::most_pieces && rest.some_open; ++piece) {
    const Eight open = pots.open;
    const Eight gone = pots.gone;
    (void)run_piece<rooting>(pots, rest.some_decay);
    rest = note_crossings<rooting, true>(pots, d, first, open, gone);
  }
  for (std::size_t i = 0; i < widest_vector; ++i) {
    d.alone[first + i] = kernel::most(d.alone[first + i], kernel::flag(pots.doubtful[i] > 0.5));
  }
  if (!which.some_single) return;
  bool some_open = begin_single_stores<rooting>(pots, d, first, p);
  for (int piece = 0; piece < kernel::most_pieces && some_open; ++piece) {
    const Eight open = pots.open;
    const Eight gone = pots.gone;
    (void)run_single_piece(pots);
    some_open = note_crossings<rooting, false>(pots, d, first, open, gone).some_open;
  }
}

/// One pot through its interval.
void dry_one(Data& d, const SharedDay& shared, std::size_t i) {
  const double from = d.from[i];
  const double to = d.to[i];
  const PotParameters& pot = shared.settings[i]->pot;
  const PotState before = state_of(d.now, i);
  const IntervalLimits limits =
      interval_limits(pot, shared.crop->depletion_fraction, before.rooted_share);
  const IntervalResult interval =
      flow(full_rates_of(d, i), limits, line_depletions(pot, limits), before, to - from);
  set_state(d.now, i, interval.state);
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

/// `aims`: false only if the interval of no pot ends at its `data.aim`.
template <bool aims>
void dry_with_aims(PotChunk::Data& data, const SharedDay& shared) {
  const double p = shared.crop->depletion_fraction;
  bool some_back = false;
  run_with(
      shared.set, [&]() __attribute__((always_inline)) {
        for (std::size_t first = 0; first < shared.lanes(); first += widest_vector) {
          some_back |= shared.all_rooted ? run<Rooting::whole, aims>(data, first, p)
                                         : run<Rooting::part, aims>(data, first, p);
        }
      });
  if (!some_back) return;
  for (std::size_t i = 0; i < shared.settings.size(); ++i) {
    if (data.plain[i] < 0.5) dry_one(data, shared, i);
  }
}

}  // namespace

void dry_through_edges(PotChunk::Data& data, const SharedDay& shared) {
  if (shared.plan->as_needed) {
    dry_with_aims<true>(data, shared);
  } else {
    dry_with_aims<false>(data, shared);
  }
}

void find_crossings(PotChunk::Data& data, const SharedDay& shared) {
  const double p = shared.crop->depletion_fraction;
  run_with(
      shared.set, [&]() __attribute__((always_inline)) {
        for (std::size_t first = 0; first < shared.lanes(); first += widest_vector) {
          if (shared.all_rooted) {
            seek<Rooting::whole>(data, first, p);
          } else {
            seek<Rooting::part>(data, first, p);
          }
        }
      });
}

}  // namespace wiltline
