#include "wiltline/questions/care.hpp"

namespace wiltline {

bool FeedCalendar::due(double age_days, double leaf_share, double drained_l) {
  constexpr double small_plant = 0.3;             // of full leaf area (judged)
  constexpr double shortest_interval_days = 7.0;  // weekly is the most any bulletin asks for
  drained_since_l_ += drained_l;
  if (age_days < model_->feed_start_days) return false;
  bool is_due = true;
  if (last_days_) {
    const double since = age_days - *last_days_;
    const double interval =
        leaf_share < small_plant ? model_->feed_small_interval_days : model_->feed_interval_days;
    const bool leached = drained_since_l_ >= model_->feed_leached_mixes * mix_l_;
    is_due = since >= interval || (leached && since >= shortest_interval_days);
  }
  if (is_due) {
    last_days_ = age_days;
    drained_since_l_ = 0.0;
  }
  return is_due;
}

}  // namespace wiltline
