// What is known of a crop: size at its best, how it grows there, how much it draws.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// What is eaten of a crop.
enum class Harvest { whole, fruit, leaf, root };
/// How long a crop lives: to maturity at the end of its stages, or picked until frost, drawing as
/// in mid-season to the end (lasts) or falling off after its mid-season (declines).
enum class LifeSpan { matures, lasts, declines };
enum class Frost { tender, light, hard };

/// The words of the tables, in the order of the enumerators.
inline constexpr std::array<std::string_view, 4> harvest_words{"whole", "fruit", "leaf", "root"};
inline constexpr std::array<std::string_view, 3> life_words{"matures", "lasts", "declines"};

/// One crop of the catalogue. Sizes are of one plant at full size in a roomy pot.
struct Crop {
  std::string name;
  bool warm_season = false;
  double min_l = 0.0;
  Ranged preferred_l;  // litres of mix a plant likes to have
  double plants_per_pot = 1.0;
  Ranged canopy_diameter_m;
  Ranged crown_height_m;  // of the leafy crown, not of the stem
  Ranged leaf_area_m2;
  double kcb_mid = 0.0;  // basal crop coefficient, FAO-56 Table 17, sub-humid climate
  double kcb_end = 0.0;
  double initial_days = 0.0;
  Ranged days_to_full;     // planting to full canopy
  double mid_days = 0.0;   // full canopy to first decline
  double late_days = 0.0;  // decline to the end, or to what a crop that declines stays at
  LifeSpan life = LifeSpan::matures;
  double base_temperature_c = 0.0;
  double upper_temperature_c = 0.0;
  double degree_days_to_full = 0.0;
  Ranged depletion_fraction;           // p of FAO-56 Table 22, at 5 mm/d
  std::optional<Ranged> wilting_line;  // own lines, as shares of TAW; empty: the model's
  std::optional<Ranged> dry_line;
  double root_ball_l = 0.0;
  double capture_factor = 1.0;  // rain caught with the plant / without it
  Harvest harvest = Harvest::whole;
  std::optional<double> best_low_c;  // range of mean temperature for best growth
  std::optional<double> best_high_c;
  std::optional<double> heat_limit_c;
  std::optional<double> fruit_set_day_limit_c;
  std::optional<double> fruit_set_night_low_c;
  std::optional<double> fruit_set_night_high_c;
  Frost frost = Frost::tender;
  bool blossom_end_rot = false;  // fruit rots at its end after dry spells

  /// Days from planting to the end of the last stage, by stage days: maturity, where it matures.
  [[nodiscard]] double season_days() const { return days_to_full.value + mid_days + late_days; }
  bool operator==(const Crop&) const = default;
};

}  // namespace wiltline
