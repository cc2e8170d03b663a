// How long a pot lasts that is watered until it drains and then left alone without rain.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/base/units.hpp"
#include "wiltline/budget/forcing.hpp"

namespace wiltline {

/// A day of one pot on which no rain falls.
struct RainlessDay {
  DayForcing forcing;
  DemandCurve curve{12.0, 0.0, 0.0, 0.0};
};

/// Days of a planting as if no rain fell: nothing caught, nothing held on leaves. `crop[i]` is its
/// crop and `spot[i]` its spot on day i; on the first it is `age_days` old. Throws RequestError for
/// fewer days at the spot than of the crop.
[[nodiscard]] std::vector<RainlessDay> rainless_days(const PlantingSetting& setting,
                                                     std::span<const CropDay> crop,
                                                     std::span<const SpotDay> spot, double age_days,
                                                     const ModelParameters& model);

/// The state of a pot `age_days` after planting that has just been watered until it drained.
[[nodiscard]] PotState just_watered(const PotParameters& pot, double age_days);

/// When a line is passed.
struct Passing {
  std::size_t day = 0;  // days after the first
  double clock_h = 0.0;

  /// Days from a clock hour of the first day.
  [[nodiscard]] double days_from(double clock_h_of_first) const {
    return static_cast<double>(day) + (clock_h - clock_h_of_first) / units::hours_per_day;
  }
};

/// Waters the pot until it drains at a clock hour of the first of `days`, `age_days` after
/// planting, and lets it dry through them. Empty if it does not pass the line in them. Throws
/// RequestError for no days.
[[nodiscard]] std::optional<Passing> dry_down(const PotParameters& pot,
                                              std::span<const RainlessDay> days, double age_days,
                                              double clock_h, Line line);

}  // namespace wiltline
