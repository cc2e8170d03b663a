// What rides along on the account: feeding, and days that call for a look.
#pragma once

#include <optional>

#include "wiltline/garden/model_parameters.hpp"

namespace wiltline {

/// When to give soluble feed: first some weeks after planting, then every 7 to 14 days by the
/// bulletins; less often while the plant is small; sooner once a pot volume of water has drained
/// and taken its nitrogen along. The label of what is fed comes first.
class FeedCalendar {
 public:
  FeedCalendar(const ModelParameters& model, double mix_l) : model_(&model), mix_l_(mix_l) {}

  /// True if a feed is due on this day. `leaf_share`: of full leaf area. `drained_l`: of the day
  /// before.
  bool due(double age_days, double leaf_share, double drained_l);

 private:
  const ModelParameters* model_;
  double mix_l_;
  std::optional<double> last_days_;  // age at the last feed
  double drained_since_l_ = 0.0;
};

}  // namespace wiltline
