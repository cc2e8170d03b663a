// How a day's demand for water is spread over its hours.
#pragma once

namespace wiltline {

/// The share x of a day's demand that has passed by a clock hour, and back. A small night share
/// runs evenly through the dark hours; the rest follows the clear-sky sine from sunrise to sunset,
/// shifted late because air dries and warms after noon. Strictly increasing, x(0) = 0, x(24) = 1. A
/// day without sunset spreads the sine over 24 hours, one without sunrise spreads evenly.
class DemandCurve {
 public:
  /// `daylight_h` in [0, 24]; `solar_minus_clock_h`: 0 where clock time is taken as solar time;
  /// `night_share` in [0, 1); `delay_h` >= 0. Shifts are held so that the sunlit window stays in
  /// the day.
  DemandCurve(double daylight_h, double solar_minus_clock_h, double night_share, double delay_h);

  /// `hours` in [0, 24].
  [[nodiscard]] double share_by(double hours) const;
  /// `share` in [0, 1].
  [[nodiscard]] double hours_at(double share) const;

 private:
  double begin_h_;  // of the sunlit window
  double end_h_;
  double night_rate_;    // share per dark hour
  double sunlit_share_;  // share of the window
};

}  // namespace wiltline
