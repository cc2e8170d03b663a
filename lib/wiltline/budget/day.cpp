#include "wiltline/budget/day.hpp"

#include <algorithm>

namespace wiltline {

DayInProgress::DayInProgress(const PotParameters& pot, const PotState& state,
                             const DayForcing& forcing)
    : pot_(pot), forcing_(forcing), state_(state) {
  if (forcing.roots_grow) state_ = grow_roots(pot, state, forcing.roots_filled);
  limits_ = interval_limits(pot, forcing.depletion_fraction, state_.rooted_share);
  lines_ = line_depletions(pot, limits_);
  result_.taw_l = limits_.taw_l;
  result_.threshold_l = line(Line::threshold);
}

void DayInProgress::take_rain(const DayPlan& plan) {
  if (forcing_.rain_l > 0.0) {
    note_highest();
    const WateringResult rained = water(pot_, state_, forcing_.rain_l);
    state_ = rained.state;
    result_.shed_water |= rained.sheds;
    result_.rain_l = forcing_.rain_l;
    result_.drained_l += rained.drained_l;
    result_.refills.push_back(
        {.at = 0.0, .depletion_after_l = state_.rooted_depletion_l, .sheds = rained.sheds});
  }
  result_.top_felt_dry = top_feels_dry(pot_, state_);
  result_.past_threshold = state_.rooted_depletion_l >= line(Line::threshold);
  // A new p or new roots can put a pot past its threshold at 00:00: as-needed water is there at
  // once.
  if (plan.as_needed && result_.past_threshold) pour(plan.give_l, plan.pouring);
  note_highest();
  note_lines_passed();
}

double DayInProgress::rooted_use_l() const {
  return forcing_.full_rates.rooted_use_l(limits_.rooted_share, limits_.rooted_top_share);
}

void DayInProgress::note_highest() {
  result_.highest_depletion_l = std::max(result_.highest_depletion_l, state_.rooted_depletion_l);
}

void DayInProgress::note_lines_passed() {
  const double d = state_.rooted_depletion_l;
  if (d >= line(Line::threshold)) result_.threshold_at = x_;
  if (d > line(Line::stressed)) result_.stressed_at = x_;
  if (d > line(Line::wilting)) result_.wilting_at = x_;
  if (d > line(Line::dry)) result_.dry_at = x_;
}

void DayInProgress::watch_from_here() {
  result_.threshold_at.reset();
  result_.stressed_at.reset();
  result_.wilting_at.reset();
  result_.dry_at.reset();
  note_lines_passed();
}

void DayInProgress::dry_until(double x) {
  if (x <= x_) return;
  const IntervalResult interval = flow(forcing_.full_rates, limits_, lines_, state_, x - x_);
  state_ = interval.state;
  result_.transpired_l += interval.transpired_l;
  result_.evaporated_l +=
      interval.top_evaporated_l + interval.wall_evaporated_l + interval.mulch_evaporated_l;
  note_highest();
  const auto note = [&](std::optional<double>& first, Line which) {
    const double at = interval.crossed_at[static_cast<std::size_t>(which)];
    if (!first && counts_as_passed(at, x_, x)) first = x_ + at;
  };
  note(result_.threshold_at, Line::threshold);
  note(result_.stressed_at, Line::stressed);
  note(result_.wilting_at, Line::wilting);
  note(result_.dry_at, Line::dry);
  x_ = x;
}

bool DayInProgress::wants_water(const DayPlan& plan, const Visit& visit) const {
  switch (plan.rule) {
    case VisitRule::always:
      return true;
    case VisitRule::check_top:
      return top_feels_dry(pot_, state_);
    case VisitRule::check:
      break;
  }
  return kernel::wants_water(state_.rooted_depletion_l, line(Line::threshold),
                             state_.yesterday_use_l, rooted_use_l(), visit.until_next) > 0.5;
}

void DayInProgress::visit(const DayPlan& plan, const Visit& visit) {
  dry_until(visit.at);
  if (wants_water(plan, visit)) pour(plan.give_l, plan.pouring);
}

void DayInProgress::pour(std::optional<double> given_l, Pouring pouring) {
  const double litres = given_l.value_or(litres_until_drained(pot_, state_, pouring));
  if (litres <= 0.0) return;
  const WateringResult watered = water(pot_, state_, litres, pouring);
  state_ = watered.state;
  result_.shed_water |= watered.sheds;
  result_.watered_l += litres;
  result_.drained_l += watered.drained_l;
  ++result_.waterings;
  result_.refills.push_back({.at = x_,
                             .depletion_after_l = state_.rooted_depletion_l,
                             .poured_l = litres,
                             .sheds = watered.sheds});
}

void DayInProgress::water_as_needed(const DayPlan& plan, double until) {
  while (result_.waterings < pot_.waterings_cap_per_day) {
    if (state_.rooted_depletion_l < line(Line::threshold)) {
      const IntervalResult rest = flow(forcing_.full_rates, limits_, lines_, state_, until - x_);
      const double crossing = rest.crossed_at[static_cast<std::size_t>(Line::threshold)];
      if (crossing < 0.0) break;
      dry_until(x_ + crossing);
    }
    const int before = result_.waterings;
    pour(plan.give_l, plan.pouring);
    if (result_.waterings == before) break;  // it takes no more
  }
  dry_until(until);
}

void DayInProgress::correct(const PotState& measured) {
  const double share = state_.rooted_share;
  state_ = measured;
  state_.rooted_share = share;
  note_highest();
}

DayResult DayInProgress::finish() {
  dry_until(1.0);
  state_.yesterday_use_l = rooted_use_l();
  result_.state = state_;
  return std::move(result_);
}

IntervalLimits interval_limits(const PotParameters& pot, double depletion_fraction,
                               double rooted_share) {
  return interval_limits(
      pot, depletion_fraction, rooted_share,
      rooted_share == 1.0 ? 1.0 : kernel::rooted_top_share(rooted_share, pot.ball_top_factor));
}

IntervalLimits interval_limits(const PotParameters& pot, double depletion_fraction,
                               double rooted_share, double rooted_top_share) {
  const kernel::DayLimits limits = kernel::day_limits(pot.total_available_l, depletion_fraction,
                                                      rooted_share, line_fractions(pot));
  const double air_dry = pot.refilled_l - pot.air_dry_l;
  return {.raw_l = limits.raw,
          .taw_l = limits.taw,
          .air_dry_l = air_dry * rooted_share,
          .unrooted_raw_l = limits.unrooted_raw,
          .unrooted_taw_l = pot.total_available_l * (1.0 - rooted_share),
          .unrooted_air_dry_l = air_dry * (1.0 - rooted_share),
          .rew_l = pot.readily_evaporable_l,
          .tew_l = pot.total_evaporable_l,
          .rooted_share = rooted_share,
          .rooted_top_share = rooted_top_share,
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
  return kernel::top_feels_dry(depletions(state), pot.top_draw_share, pot.top_dry_limit_l) > 0.5;
}

DayResult run_day(const PotParameters& pot, const PotState& state, const DayForcing& forcing,
                  const DayPlan& plan) {
  DayInProgress day(pot, state, forcing);
  day.take_rain(plan);
  if (plan.as_needed) {
    day.water_as_needed(plan, 1.0);
  } else {
    for (const Visit& visit : plan.visits) day.visit(plan, visit);
  }
  return day.finish();
}

}  // namespace wiltline
