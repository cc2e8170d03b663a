#include "wiltline/crop/growth.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {
namespace {

double logistic(double t, const LeafCurve& curve) {
  return 1.0 / (1.0 + std::exp(-curve.steepness * (t - curve.middle)));
}

}  // namespace

double degree_days(double mean_temperature_c, double base_c, double upper_c) {
  return std::max(0.0, std::min(mean_temperature_c, upper_c) - base_c);
}

double leaf_area_share(double progress, const LeafCurve& curve) {
  if (progress >= 1.0) return 1.0;
  return logistic(progress, curve) / logistic(1.0, curve);
}

double progress_at(double leaf_area_share, const LeafCurve& curve) {
  const double y = leaf_area_share * logistic(1.0, curve);
  if (leaf_area_share >= 1.0) return 1.0;
  if (y <= logistic(0.0, curve)) return 0.0;
  return curve.middle - std::log(1.0 / y - 1.0) / curve.steepness;
}

double late_season_share(const Crop& crop, double days_since_full) {
  const double into_late = days_since_full - crop.mid_days;
  if (into_late <= 0.0 || crop.life == LifeSpan::lasts) return 1.0;
  const double way = crop.late_days > 0.0 ? std::min(into_late / crop.late_days, 1.0) : 1.0;
  return 1.0 + way * (crop.kcb_end / crop.kcb_mid - 1.0);
}

void Development::prune(double kept) {
  state_.progress = progress_at(kept * leaf_area_share(), curve_);
  state_.grown = (state_.progress - first_progress_) / (1.0 - first_progress_) * needed();
  state_.days_since_full = -1.0;
}

void Development::next_day(double mean_temperature_c) {
  if (state_.progress >= 1.0) state_.days_since_full += 1.0;
  state_.grown +=
      clock_ == GrowthClock::stage_days
          ? 1.0
          : degree_days(mean_temperature_c, crop_->base_temperature_c, crop_->upper_temperature_c);
  // Whole days and degree-days add up exactly, shares of them do not.
  state_.progress = state_.grown >= needed()
                        ? state_.grown / needed()
                        : first_progress_ + (1.0 - first_progress_) * state_.grown / needed();
  if (state_.progress >= 1.0 && state_.days_since_full < 0.0) state_.days_since_full = 0.0;
}

double Development::needed() const {
  return clock_ == GrowthClock::stage_days ? crop_->days_to_full.value : crop_->degree_days_to_full;
}

}  // namespace wiltline
