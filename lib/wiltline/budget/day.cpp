#include "wiltline/budget/day.hpp"

#include <algorithm>

namespace wiltline {
namespace {

constexpr double rounding = 1e-12;  // of a day's demand

/// A day in progress.
class Day {
 public:
  Day(const PotParameters& pot, const PotState& state, const DayForcing& forcing,
      const DayPlan& plan)
      : pot_(pot), forcing_(forcing), plan_(plan), state_(state) {
    if (forcing.roots_grow) state_ = grow_roots(pot, state, forcing.roots_filled);
    limits_ = interval_limits(pot, forcing.depletion_fraction, state_.rooted_share);
    lines_ = line_depletions(pot, limits_);
    result_.taw_l = limits_.taw_l;
    result_.threshold_l = line(Line::threshold);
  }

  DayResult run() {
    if (forcing_.rain_l > 0.0) take_rain();
    result_.top_felt_dry = top_feels_dry(pot_, state_);
    result_.past_threshold = state_.rooted_depletion_l >= line(Line::threshold);
    // A new p or new roots can put a pot past its threshold at 00:00: as-needed water is there at
    // once.
    if (plan_.as_needed && result_.past_threshold) pour();
    note_highest();
    note_lines_passed_at_start();
    if (plan_.as_needed) {
      run_as_needed();
    } else {
      for (const Visit& visit : plan_.visits) {
        dry_until(visit.at);
        if (wants_water(visit)) pour();
      }
    }
    dry_until(1.0);
    state_.yesterday_demand_l = forcing_.demand.potential_use_l();
    result_.state = state_;
    return std::move(result_);
  }

 private:
  [[nodiscard]] double line(Line which) const { return lines_[static_cast<std::size_t>(which)]; }

  void take_rain() {
    note_highest();
    const WateringResult rained = water(pot_, state_, forcing_.rain_l);
    state_ = rained.state;
    result_.shed_water |= rained.sheds;
    result_.rain_l = forcing_.rain_l;
    result_.drained_l += rained.drained_l;
    result_.refills.push_back({0.0, state_.rooted_depletion_l});
  }

  void note_highest() {
    result_.highest_depletion_l = std::max(result_.highest_depletion_l, state_.rooted_depletion_l);
  }

  void note_lines_passed_at_start() {
    const double d = state_.rooted_depletion_l;
    if (d > line(Line::stressed)) result_.stressed_at = 0.0;
    if (d > line(Line::wilting)) result_.wilting_at = 0.0;
    if (d > line(Line::dry)) result_.dry_at = 0.0;
  }

  /// Dries on to x. A line reached only with the last breath of the interval, as the threshold is
  /// just before as-needed water comes, is not passed.
  void dry_until(double x) {
    if (x <= x_) return;
    const IntervalResult interval = flow(forcing_.demand, limits_, lines_, state_, x - x_);
    state_ = interval.state;
    result_.transpired_l += interval.transpired_l;
    result_.evaporated_l +=
        interval.top_evaporated_l + interval.wall_evaporated_l + interval.mulch_evaporated_l;
    note_highest();
    const auto note = [&](std::optional<double>& first, Line which) {
      const double at = interval.crossed_at[static_cast<std::size_t>(which)];
      if (!first && at >= 0.0 && x_ + at < x - rounding) first = x_ + at;
    };
    note(result_.stressed_at, Line::stressed);
    note(result_.wilting_at, Line::wilting);
    note(result_.dry_at, Line::dry);
    x_ = x;
  }

  [[nodiscard]] bool wants_water(const Visit& visit) const {
    switch (plan_.rule) {
      case VisitRule::always:
        return true;
      case VisitRule::check_top:
        return top_feels_dry(pot_, state_);
      case VisitRule::check:
        break;
    }
    return kernel::wants_water(state_.rooted_depletion_l, line(Line::threshold),
                               state_.yesterday_demand_l, forcing_.demand.potential_use_l(),
                               visit.until_next) > 0.5;
  }

  void pour() {
    const double litres = plan_.give_l.value_or(litres_until_drained(pot_, state_, plan_.pouring));
    if (litres <= 0.0) return;
    const WateringResult watered = water(pot_, state_, litres, plan_.pouring);
    state_ = watered.state;
    result_.shed_water |= watered.sheds;
    result_.watered_l += litres;
    result_.drained_l += watered.drained_l;
    ++result_.waterings;
    result_.refills.push_back({x_, state_.rooted_depletion_l});
  }

  void run_as_needed() {
    while (result_.waterings < pot_.waterings_cap_per_day) {
      if (state_.rooted_depletion_l < line(Line::threshold)) {
        const IntervalResult rest = flow(forcing_.demand, limits_, lines_, state_, 1.0 - x_);
        const double crossing = rest.crossed_at[static_cast<std::size_t>(Line::threshold)];
        if (crossing < 0.0) return;
        dry_until(x_ + crossing);
      }
      pour();
    }
  }

  const PotParameters& pot_;
  const DayForcing& forcing_;
  const DayPlan& plan_;
  PotState state_;
  IntervalLimits limits_;
  LineDepletions lines_{};
  DayResult result_;
  double x_ = 0.0;
};

}  // namespace

IntervalLimits interval_limits(const PotParameters& pot, double depletion_fraction,
                               double rooted_share) {
  const kernel::DayLimits limits = kernel::day_limits(pot.total_available_l, depletion_fraction,
                                                      rooted_share, line_fractions(pot));
  const double air_dry = pot.refilled_l - pot.air_dry_l;
  return {.raw_l = limits.raw,
          .taw_l = limits.taw,
          .air_dry_l = air_dry * rooted_share,
          .unrooted_raw_l = limits.unrooted_raw,
          .unrooted_air_dry_l = air_dry * (1.0 - rooted_share),
          .rew_l = pot.readily_evaporable_l,
          .tew_l = pot.total_evaporable_l,
          .rooted_share = rooted_share,
          .single_store = pot.single_store};
}

LineDepletions line_depletions(const PotParameters& pot, const IntervalLimits& limits) {
  const kernel::Lines at = kernel::lines(limits.raw_l, limits.taw_l, line_fractions(pot));
  LineDepletions lines{};
  lines[static_cast<std::size_t>(Line::threshold)] = at.threshold;
  lines[static_cast<std::size_t>(Line::stressed)] = limits.raw_l;
  lines[static_cast<std::size_t>(Line::wilting)] = at.wilting;
  lines[static_cast<std::size_t>(Line::dry)] = at.dry;
  return lines;
}

bool top_feels_dry(const PotParameters& pot, const PotState& state) {
  return kernel::top_feels_dry(depletions(state), pot.top_layer_share, top_dry_limit_l(pot)) > 0.5;
}

DayResult run_day(const PotParameters& pot, const PotState& state, const DayForcing& forcing,
                  const DayPlan& plan) {
  return Day(pot, state, forcing, plan).run();
}

}  // namespace wiltline
