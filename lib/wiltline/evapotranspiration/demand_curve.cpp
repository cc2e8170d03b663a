#include "wiltline/evapotranspiration/demand_curve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

constexpr double pi = std::numbers::pi;
using units::hours_per_day;
constexpr double shortest_window_h = 1e-6;  // below: a day without sunrise

}  // namespace

DemandCurve::DemandCurve(double daylight_h, double solar_minus_clock_h, double night_share,
                         double delay_h) {
  if (daylight_h < shortest_window_h) {
    begin_h_ = end_h_ = 0.0;
    sunlit_share_ = 0.0;
    night_rate_ = 1.0 / hours_per_day;
    return;
  }
  const double half_h = daylight_h / 2.0;
  const double dark_h = hours_per_day - daylight_h;
  const double noon_h =
      std::clamp(12.0 - solar_minus_clock_h + delay_h, half_h, hours_per_day - half_h);
  begin_h_ = noon_h - half_h;
  end_h_ = noon_h + half_h;
  const bool has_night = dark_h > shortest_window_h;
  night_rate_ = has_night ? night_share / dark_h : 0.0;
  sunlit_share_ = has_night ? 1.0 - night_share : 1.0;
}

double DemandCurve::share_by(double hours) const {
  if (hours >= hours_per_day) return 1.0;
  if (hours <= begin_h_) return std::max(hours, 0.0) * night_rate_;
  if (hours >= end_h_) return 1.0 - (hours_per_day - hours) * night_rate_;
  const double phase = (hours - begin_h_) / (end_h_ - begin_h_);
  return begin_h_ * night_rate_ + sunlit_share_ * (1.0 - std::cos(pi * phase)) / 2.0;
}

double DemandCurve::hours_at(double share) const {
  const double before = begin_h_ * night_rate_;
  if (share < before) return share / night_rate_;
  if (share >= 1.0) return hours_per_day;
  if (share > before + sunlit_share_) return hours_per_day - (1.0 - share) / night_rate_;
  if (sunlit_share_ <= 0.0) return share / night_rate_;
  const double within = std::clamp((share - before) / sunlit_share_, 0.0, 1.0);
  return begin_h_ + (end_h_ - begin_h_) * std::acos(1.0 - 2.0 * within) / pi;
}

}  // namespace wiltline
