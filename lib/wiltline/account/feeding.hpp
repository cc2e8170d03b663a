// When a planting is to be fed.
#pragma once

#include "wiltline/budget/kernel.hpp"
#include "wiltline/garden/model_parameters.hpp"

namespace wiltline {

/// What is remembered between days.
struct Feeding {
  double last_days = -1e9;  // age at the last feed; long ago: never
  double drained_since_l = 0.0;

  bool operator==(const Feeding&) const = default;
};
struct Fed {
  Feeding after;
  double due = 0.0;  // 1 or 0
};

/// Whether a feed is due on this day. `leaf_share`: of full leaf area. `drained_l`: of the day
/// before.
WILTLINE_KERNEL Fed feed(const Feeding& before, const FeedSchedule& schedule, double mix_l,
                         double age_days, double leaf_share, double drained_l) {
  const double drained_since_l = before.drained_since_l + drained_l;
  const double since = age_days - before.last_days;
  const double interval = leaf_share < schedule.feed_small_leaf_share
                              ? schedule.feed_small_interval_days
                              : schedule.feed_interval_days;
  const double leached = kernel::flag(drained_since_l >= schedule.feed_leached_mixes * mix_l) *
                         kernel::flag(since >= schedule.feed_shortest_interval_days);
  const double due = kernel::flag(age_days >= schedule.feed_start_days) *
                     kernel::most(kernel::flag(since >= interval), leached);
  return {.after = {.last_days = kernel::choose(due, age_days, before.last_days),
                    .drained_since_l = (1.0 - due) * drained_since_l},
          .due = due};
}

}  // namespace wiltline
