#include "wiltline/budget/batch/left_alone.hpp"

#include <doctest/doctest.h>

#include "support/random_pot.hpp"

namespace wiltline::test {
namespace {

/// A pot, its days, how it is left on each, and what must not be crossed.
struct Alone {
  PotParameters pot;
  std::vector<DayForcing> forcing;
  std::vector<IntervalLimits> limits;
  std::vector<double> line_l;
  std::vector<double> leave_at;
  std::vector<double> return_at;
  std::vector<PotState> left;
  DaysAlone days;
};

Alone random_alone(Random& random, std::size_t starts, std::size_t days_to_return) {
  Alone alone;
  alone.pot = random_pot(random);
  const PotParameters& pot = alone.pot;
  const std::size_t days = starts + days_to_return;
  const double demand = random.uniform(0.02, 0.5);
  const auto line = static_cast<std::size_t>(random.below(line_count));
  PotState roots{.rooted_share = pot.initial_rooted_share};
  alone.days.resize(days);
  for (std::size_t i = 0; i < days; ++i) {
    DayForcing day = random_forcing(random, pot);
    // A day's demand in proportion to what the pot holds, so that lines are near.
    day.full_rates.transpiration_l = pot.total_available_l * demand * random.uniform();
    day.roots_grow = i > 0;
    day.roots_filled = i > 40;
    if (day.roots_grow) roots = grow_roots(pot, roots, day.roots_filled);
    alone.forcing.push_back(day);
    alone.limits.push_back(interval_limits(pot, day.depletion_fraction, roots.rooted_share));
    alone.line_l.push_back(line_depletions(pot, alone.limits.back())[line]);
    alone.leave_at.push_back(random.uniform(0.0, 0.7));
    alone.return_at.push_back(random.uniform(0.7, 1.0));
    alone.days.set(i, day, alone.limits.back(), alone.line_l.back(), alone.leave_at.back(),
                   alone.return_at.back());
    if (i >= starts) continue;
    PotState left{.rooted_share = roots.rooted_share};
    if (random.chance(0.3)) {
      left.rooted_depletion_l = random.uniform(0.0, 0.8) * alone.limits.back().taw_l;
      left.unrooted_depletion_l = random.uniform(0.0, 0.8) * alone.limits.back().unrooted_taw_l;
      left.top_depletion_l = std::min(random.uniform(0.0, 1.0) * pot.total_evaporable_l,
                                      left.rooted_depletion_l + left.unrooted_depletion_l);
      if (pot.single_store) left.top_depletion_l = left.rooted_depletion_l;
    } else {
      left.mulch_water_l = pot.mulch_store_l;
      left.rooted_depletion_l = -pot.watered_store_l;
    }
    alone.left.push_back(left);
  }
  return alone;
}

/// The same by the exact course.
bool stays_within(const Alone& alone, std::size_t start, std::size_t days_to_return) {
  constexpr LineDepletions no_lines{kernel::out_of_reach, kernel::out_of_reach,
                                    kernel::out_of_reach, kernel::out_of_reach};
  PotState state = alone.left[start];
  if (state.rooted_depletion_l > alone.line_l[start]) return false;
  for (std::size_t day = start; day <= start + days_to_return; ++day) {
    if (day > start) {
      state = grow_roots(alone.pot, state, alone.forcing[day].roots_filled);
      state = water(alone.pot, state, alone.forcing[day].rain_l).state;
      if (state.rooted_depletion_l > alone.line_l[day]) return false;
    }
    const double from = day == start ? alone.leave_at[day] : 0.0;
    const double to = day == start + days_to_return ? alone.return_at[day] : 1.0;
    state =
        flow(alone.forcing[day].full_rates, alone.limits[day], no_lines, state, to - from).state;
    if (state.rooted_depletion_l > alone.line_l[day]) return false;
  }
  return true;
}

std::vector<InstructionSet> sets_of_this_processor() {
  std::vector<InstructionSet> sets{InstructionSet::baseline};
  const InstructionSet widest = widest_instruction_set();
  if (widest != InstructionSet::baseline) sets.push_back(InstructionSet::avx2);
  if (widest == InstructionSet::avx512) sets.push_back(InstructionSet::avx512);
  return sets;
}

}  // namespace

TEST_CASE("left alone: what is sure is so by the exact course, and little is left open") {
  Random random(7001);
  int windows = 0;
  int open = 0;
  int within = 0;
  int beyond = 0;
  for (int i = 0; i < 1500; ++i) {
    const auto starts = static_cast<std::size_t>(1 + random.below(60));
    const auto days_to_return = static_cast<std::size_t>(random.below(8));
    const Alone alone = random_alone(random, starts, days_to_return);
    std::vector<LeftAlone> sure(starts);
    judge_left_alone(alone.pot, alone.days, 0, alone.left, days_to_return, sure);
    for (const InstructionSet set : sets_of_this_processor()) {
      std::vector<LeftAlone> again(starts);
      judge_left_alone(alone.pot, alone.days, 0, alone.left, days_to_return, again, set);
      CHECK(again == sure);
    }
    for (std::size_t start = 0; start < starts; ++start) {
      if (alone.pot.single_store) {
        CHECK(sure[start] == LeftAlone::open);
        continue;
      }
      ++windows;
      const bool stays = stays_within(alone, start, days_to_return);
      switch (sure[start]) {
        case LeftAlone::open:
          ++open;
          break;
        case LeftAlone::within_line:
          ++within;
          CHECK(stays);
          break;
        case LeftAlone::beyond_line:
          ++beyond;
          CHECK_FALSE(stays);
          break;
      }
    }
  }
  INFO(windows << " windows, " << within << " within, " << beyond << " beyond, " << open
               << " open");
  CHECK(within > windows / 10);
  CHECK(beyond > windows / 10);
  CHECK(open < windows / 5);
}

TEST_CASE("left alone: starts that do not begin with the first day, and a state beyond the line") {
  Random random(7002);
  for (int i = 0; i < 200; ++i) {
    Alone alone = random_alone(random, 21, 2);
    if (alone.pot.single_store) continue;
    std::vector<LeftAlone> all(21);
    judge_left_alone(alone.pot, alone.days, 0, alone.left, 2, all);
    std::vector<LeftAlone> later(16);
    judge_left_alone(alone.pot, alone.days, 5, std::span(alone.left).subspan(5), 2, later);
    CHECK(later == std::vector<LeftAlone>(all.begin() + 5, all.end()));
    alone.left[3].rooted_depletion_l = 1.01 * alone.line_l[3];
    judge_left_alone(alone.pot, alone.days, 0, alone.left, 2, all);
    CHECK(all[3] == LeftAlone::beyond_line);
  }
}

}  // namespace wiltline::test
