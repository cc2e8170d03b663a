// Days that hurt a crop by their temperature alone.
#pragma once

#include "wiltline/crop/crop.hpp"

namespace wiltline {

/// Lowest temperatures that the three classes of crops bear, degrees Celsius.
struct FrostLimits {
  double tender_c;
  double light_c;
  double hard_c;
};

/// The temperatures of a day, outside but for `frost_tmin_c`, the lowest where the pot stands.
/// `week_mean_c`: mean of the day and the six before it, or as many as there are; limits of best
/// growth are means over weeks, not extremes.
struct DayTemperatures {
  double tmin_c = 0.0;
  double tmax_c = 0.0;
  double week_mean_c = 0.0;
  double frost_tmin_c = 0.0;
};

struct DayComfort {
  bool frost = false;     // below what the crop survives
  bool too_warm = false;  // the week is above the crop's heat limit
  bool poor_fruit_set =
      false;  // flowers are unlikely to set: too warm a day or night, or too cold a night
};

/// The lowest temperature a crop survives, degrees Celsius.
[[nodiscard]] double lowest_borne_c(const Crop& crop, const FrostLimits& limits);

/// Comfort of a day; fruit set is judged only while the crop flowers (flowering).
[[nodiscard]] DayComfort day_comfort(const Crop& crop, const FrostLimits& limits,
                                     const DayTemperatures& day, bool flowering);

/// True from the first flowers on, for crops grown for fruit. `first_flowers`: share of the way to
/// full canopy.
[[nodiscard]] bool is_flowering(const Crop& crop, double progress, double first_flowers);

}  // namespace wiltline
