// One day of one pot: rain, visits and drying, in their order.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/budget/interval.hpp"
#include "wiltline/budget/pot_parameters.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline {

/// What a day brings to a pot.
struct DayForcing {
  FullRates full_rates;
  double rain_l = 0.0;              // caught by the pot, at 00:00
  double depletion_fraction = 0.5;  // p of the day
  bool roots_grow = false;          // by a day, at 00:00
  bool roots_filled = false;        // and then the whole mix is rooted, from this day on
};

/// A visit of the routine on a day.
struct Visit {
  double at = 0.0;          // x, the share of the day's demand that has passed
  double until_next = 1.0;  // demand, in days like yesterday, that will pass before the next visit
  double at_days = 0.0;     // the same instant as `at`, since planting: days_since_planting
};

/// What the gardener does on a day.
struct DayPlan {
  bool as_needed = false;
  VisitRule rule = VisitRule::always;
  std::optional<double> give_l;  // empty: until it drains
  Pouring pouring = Pouring::once;
  std::span<const Visit> visits{};  // ascending
};

/// A pouring or rain, and how full it left the pot.
struct Refill {
  double at = 0.0;                 // x
  double depletion_after_l = 0.0;  // rooted mix
  double poured_l = 0.0;           // 0 for rain
  bool sheds = false;              // dry mix let through part of it
};

/// The day's account, litres. in - out = change in store, to rounding.
struct DayResult {
  PotState state;
  double rain_l = 0.0;
  double watered_l = 0.0;
  double drained_l = 0.0;
  double transpired_l = 0.0;
  double evaporated_l = 0.0;  // top, wall and mulch
  int waterings = 0;
  std::vector<Refill> refills;
  // x at which the day was first beyond a line; 0 if it began there.
  std::optional<double> threshold_at;
  std::optional<double> stressed_at;
  std::optional<double> wilting_at;
  std::optional<double> dry_at;
  double highest_depletion_l = 0.0;  // of the rooted mix, at any instant
  bool shed_water = false;           // dry mix let through part of what was poured
  double taw_l = 0.0;                // of the rooted mix
  double threshold_l = 0.0;          // depletion at which the pot should be watered
  bool top_felt_dry = false;         // finger test in the morning, before any visit
  bool past_threshold = false;       // the root zone at the same time
};

/// The interval's limits for a pot, a day's p and rooted share.
[[nodiscard]] IntervalLimits interval_limits(const PotParameters& pot, double depletion_fraction,
                                             double rooted_share);
/// The same with kernel::rooted_top_share of it worked out before.
[[nodiscard]] IntervalLimits interval_limits(const PotParameters& pot, double depletion_fraction,
                                             double rooted_share, double rooted_top_share);

/// Depletions of the lines on such a day.
[[nodiscard]] LineDepletions line_depletions(const PotParameters& pot,
                                             const IntervalLimits& limits);

/// True if a line that is passed `at` after x = `from` (negative: it is not) counts as passed by
/// `to`: one reached only at the very end, as the threshold is just before as-needed water comes,
/// does not.
[[nodiscard]] inline bool counts_as_passed(double at, double from, double to) {
  constexpr double rounding = 1e-12;  // of a day's demand
  return at >= 0.0 && from + at < to - rounding;
}

/// The finger test: the top layer's deficit, of its own evaporation and its share of what the roots
/// took, is past top_dry_limit_l. Diagnosed, never integrated.
[[nodiscard]] bool top_feels_dry(const PotParameters& pot, const PotState& state);

/// A day in progress, for whoever has more to do in it than a routine says. It begins at 00:00,
/// with the roots grown; then take_rain once, then what happens in the order of its x, then finish
/// once.
class DayInProgress {
 public:
  /// The arguments must outlive the day.
  DayInProgress(const PotParameters& pot, const PotState& state, const DayForcing& forcing);

  /// The day's rain; as-needed water if the pot is past its threshold without it; the lines it is
  /// beyond.
  void take_rain(const DayPlan& plan);
  /// Dries on to x; nothing if that has passed.
  void dry_until(double x);
  /// Dries on to the visit and waters if the plan's rule wants it.
  void visit(const DayPlan& plan, const Visit& visit);
  /// Dries on to x, watering whenever the threshold is reached.
  void water_as_needed(const DayPlan& plan, double until);
  /// Pours now; no amount: until it drains.
  void pour(std::optional<double> litres, Pouring pouring);
  /// Puts a measured state in place of the computed one. The rooted share stays.
  void correct(const PotState& measured);
  /// Forgets which lines were passed so far: from now on counts.
  void watch_from_here();
  [[nodiscard]] DayResult finish();

  [[nodiscard]] const PotState& state() const { return state_; }
  /// The day's account as far as it has come, without its state.
  [[nodiscard]] const DayResult& so_far() const { return result_; }
  [[nodiscard]] double threshold_l() const { return line(Line::threshold); }

 private:
  [[nodiscard]] double line(Line which) const { return lines_[static_cast<std::size_t>(which)]; }
  [[nodiscard]] double rooted_use_l() const;
  [[nodiscard]] bool wants_water(const DayPlan& plan, const Visit& visit) const;
  void note_highest();
  void note_lines_passed();

  const PotParameters& pot_;
  const DayForcing& forcing_;
  PotState state_;
  IntervalLimits limits_;
  LineDepletions lines_{};
  DayResult result_;
  double x_ = 0.0;
};

/// Runs one day. Pure: the same inputs give the same day.
[[nodiscard]] DayResult run_day(const PotParameters& pot, const PotState& state,
                                const DayForcing& forcing, const DayPlan& plan);

}  // namespace wiltline
