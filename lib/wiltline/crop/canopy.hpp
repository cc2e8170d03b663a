// The size of what grows in one pot.
#pragma once

#include "wiltline/crop/crop.hpp"

namespace wiltline {

/// All plants of a pot as one crown.
struct Canopy {
  double plan_area_m2 = 0.0;  // seen from above
  double width_m = 0.0;       // of the disc of that area
  double height_m = 0.0;      // of the crown
  double leaf_area_m2 = 0.0;  // one side, all plants
};

/// What limits and shapes it besides the crop.
struct Stand {
  int plants = 1;
  double pot_diameter_m = 0.0;  // of the circle with the pot's top area
};

/// Factor on canopy area of a plant short of mix: (litres per plant / preferred litres)^exponent,
/// at most 1.
[[nodiscard]] double pot_limit(double litres_per_plant, double preferred_l, double exponent);

/// Diameter of the ring on which n plants stand: each its share of the top, 0 for one plant.
[[nodiscard]] double planting_ring_m(int plants, double pot_diameter_m);

/// The crown when leaf area is `leaf_area_share` of full: every length goes with the cube root of
/// it (a plant grows in proportion), `size_factor` scales area and leaves alike (pot_limit, or 1
/// for "if it reached full size"). Several plants cover the disc of ring plus canopy, at most their
/// summed areas.
[[nodiscard]] Canopy canopy(const Crop& crop, const Stand& stand, double leaf_area_share,
                            double size_factor);

}  // namespace wiltline
