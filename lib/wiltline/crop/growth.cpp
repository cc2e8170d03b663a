#include "wiltline/crop/growth.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {

double degree_days(double mean_temperature_c, double base_c, double upper_c) {
  return std::max(0.0, std::min(mean_temperature_c, upper_c) - base_c);
}

double leaf_area_share(double progress) {
  constexpr double steepness = 8.0;
  constexpr double middle = 0.575;
  const auto logistic = [](double t) { return 1.0 / (1.0 + std::exp(-steepness * (t - middle))); };
  if (progress >= 1.0) return 1.0;
  return logistic(progress) / logistic(1.0);
}

double late_season_share(const Crop& crop, double days_since_full) {
  const double into_late = days_since_full - crop.mid_days;
  if (into_late <= 0.0) return 1.0;
  const double way = crop.late_days > 0.0 ? std::min(into_late / crop.late_days, 1.0) : 1.0;
  return 1.0 + way * (crop.kcb_end / crop.kcb_mid - 1.0);
}

void Development::next_day(double mean_temperature_c) {
  if (progress_ >= 1.0) days_since_full_ += 1.0;
  if (clock_ == GrowthClock::stage_days) {
    grown_ += 1.0;
    progress_ = grown_ / crop_->days_to_full.value;
  } else {
    grown_ +=
        degree_days(mean_temperature_c, crop_->base_temperature_c, crop_->upper_temperature_c);
    progress_ = grown_ / crop_->degree_days_to_full;
  }
  if (progress_ >= 1.0 && days_since_full_ < 0.0) days_since_full_ = 0.0;
}

}  // namespace wiltline
