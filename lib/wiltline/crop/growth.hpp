// How far a crop has grown, and how its coefficient falls off at the end.
#pragma once

#include "wiltline/crop/crop.hpp"

namespace wiltline {

/// What drives development: days since planting, or warmth above a base temperature.
enum class GrowthClock { stage_days, degree_days };

/// Degree-days of one day: mean temperature, held at or below `upper`, less `base`, at least 0.
[[nodiscard]] double degree_days(double mean_temperature_c, double base_c, double upper_c);

/// The logistic by which leaf area grows over the way to full canopy.
struct LeafCurve {
  double steepness = 0.0;
  double middle = 0.0;  // share of the way at which it is steepest
};

/// Leaf area as a share of its full value after a share `progress` of the time (or warmth) to full
/// canopy: a logistic (form judged), exactly 1 from progress 1 on.
[[nodiscard]] double leaf_area_share(double progress, const LeafCurve& curve);

/// The progress at which leaf area has a share of its full value, the inverse of leaf_area_share;
/// held to [0, 1].
[[nodiscard]] double progress_at(double leaf_area_share, const LeafCurve& curve);

/// Basal coefficient as a share of its mid-season value: 1 until `mid_days` after full canopy, then
/// a straight line to kcb_end / kcb_mid over `late_days` (FAO-56 eq. 66), then constant; 1 to the
/// end for a crop that lasts.
[[nodiscard]] double late_season_share(const Crop& crop, double days_since_full);

/// How far a planting has come: what a saved state holds of its growth.
struct DevelopmentState {
  double grown = 0.0;     // days or degree-days since planting
  double progress = 0.0;  // share of the way to full canopy, not held at 1
  double days_since_full = -1.0;

  bool operator==(const DevelopmentState&) const = default;
};

/// Development of one planting, moved on a day at a time.
class Development {
 public:
  /// `first_leaf_share`: leaf area on the day of planting, as a share of full. The way from there
  /// to full canopy takes the crop's whole days_to_full (or degree-days).
  Development(const Crop& crop, GrowthClock clock, const LeafCurve& curve,
              double first_leaf_share = 0.0)
      : crop_(&crop),
        clock_(clock),
        curve_(curve),
        first_progress_(progress_at(first_leaf_share, curve)),
        state_{.progress = first_progress_} {}

  [[nodiscard]] const DevelopmentState& state() const { return state_; }
  /// Goes on from a state that a development of the same crop and clock had.
  void resume(const DevelopmentState& state) { state_ = state; }

  /// Share of the way to full canopy, not held at 1; 0 for a seedling.
  [[nodiscard]] double progress() const { return state_.progress; }
  /// Days since full canopy was reached; negative before.
  [[nodiscard]] double days_since_full() const { return state_.days_since_full; }
  [[nodiscard]] bool mid_season() const {
    return state_.progress >= 1.0 &&
           (crop_->life == LifeSpan::lasts || state_.days_since_full <= crop_->mid_days);
  }
  /// True once a crop that matures has outgrown its last stage.
  [[nodiscard]] bool finished() const {
    return crop_->life == LifeSpan::matures && state_.progress >= 1.0 &&
           state_.days_since_full > crop_->mid_days + crop_->late_days;
  }
  [[nodiscard]] double leaf_area_share() const {
    return wiltline::leaf_area_share(state_.progress, curve_);
  }
  [[nodiscard]] double late_season_share() const {
    return wiltline::late_season_share(*crop_, state_.days_since_full);
  }
  /// Cuts the plant back to `kept` of its present leaf area, from where it grows again at its own
  /// pace.
  void prune(double kept);
  /// Ends a day of the given mean temperature.
  void next_day(double mean_temperature_c);

 private:
  [[nodiscard]] double needed() const;  // days or degree-days from planting to full canopy

  const Crop* crop_;
  GrowthClock clock_;
  LeafCurve curve_;
  double first_progress_ = 0.0;
  DevelopmentState state_;
};

}  // namespace wiltline
