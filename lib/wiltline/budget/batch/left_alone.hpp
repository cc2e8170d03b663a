// Pots left to themselves from one day or another: which are sure to stay within a line until
// somebody is back, and which are sure not to. Bounds on the depletions, not the depletions: of a
// day's losses, plant and wall come first for the most that can be missing and last for the least.
// Cheap, for many starts together; what they leave open is for `flow` to find.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "wiltline/base/instruction_set.hpp"
#include "wiltline/budget/day.hpp"

namespace wiltline {

/// A pot's days, one array a quantity.
struct DaysAlone {
  /// For so many days, to be set, and room for a vector of starts that end on the last.
  void resize(std::size_t days);
  /// Full rates and limits of a day, and the depletion not to be crossed; the start and the end of
  /// an absence within it, x.
  void set(std::size_t day, const DayForcing& forcing, const IntervalLimits& limits,
           double not_crossed_l, double leaves_at, double returns_at);

  std::vector<double> draw_l;  // of plant and wall from the rooted mix, at full rate
  std::vector<double> unrooted_draw_l;
  std::vector<double> top_l;
  std::vector<double> rain_l;
  std::vector<double> raw_l;
  std::vector<double> taw_l;
  std::vector<double> unrooted_raw_l;
  std::vector<double> unrooted_taw_l;
  std::vector<double> unrooted_air_dry_l;
  std::vector<double> rooted_share;
  std::vector<double> rooted_top_share;
  std::vector<double> filled;  // 1 if the roots fill the mix from this day on
  std::vector<double> line_l;
  std::vector<double> leave_at;
  std::vector<double> return_at;
};

/// What is sure of a pot's depletion of the rooted mix until the return.
enum class LeftAlone : std::uint8_t { open, within_line, beyond_line };

/// Of a pot that is left on one day after another, from `first` on: in `left[i]` on day first + i,
/// for `days_to_return` days. Roots grow each night. All open for a pot that is a single store.
/// `days` hold the day of the last return; `sure` is as long as `left`.
void judge_left_alone(const PotParameters& pot, const DaysAlone& days, std::size_t first,
                      std::span<const PotState> left, std::size_t days_to_return,
                      std::span<LeftAlone> sure, InstructionSet set = widest_instruction_set());

}  // namespace wiltline
