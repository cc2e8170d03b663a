// When a planting is to be fed.
#pragma once

#include "wiltline/budget/kernel.hpp"
#include "wiltline/garden/model_parameters.hpp"

namespace wiltline {

/// When to give soluble feed: first some weeks after planting, then every 7 to 14 days by the
/// bulletins; less often while the plant is small; sooner once a pot volume of water has drained
/// and taken its nitrogen along. The label of what is fed comes first.
struct FeedSchedule {
  double start_days;
  double interval_days;
  double small_interval_days;
  double leached_mixes;
  double small_leaf_share;  // of full leaf area, below which a plant is small
  double shortest_interval_days;
};
[[nodiscard]] inline FeedSchedule feed_schedule(const ModelParameters& model) {
  return {.start_days = model.feed_start_days,
          .interval_days = model.feed_interval_days,
          .small_interval_days = model.feed_small_interval_days,
          .leached_mixes = model.feed_leached_mixes,
          .small_leaf_share = model.feed_small_leaf_share,
          .shortest_interval_days = model.feed_shortest_interval_days};
}

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
  const double interval = leaf_share < schedule.small_leaf_share ? schedule.small_interval_days
                                                                 : schedule.interval_days;
  const double leached = kernel::flag(drained_since_l >= schedule.leached_mixes * mix_l) *
                         kernel::flag(since >= schedule.shortest_interval_days);
  const double due = kernel::flag(age_days >= schedule.start_days) *
                     kernel::most(kernel::flag(since >= interval), leached);
  return {.after = {.last_days = kernel::choose(due, age_days, before.last_days),
                    .drained_since_l = (1.0 - due) * drained_since_l},
          .due = due};
}

}  // namespace wiltline
