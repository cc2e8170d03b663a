// The size of what grows in one pot.
#pragma once

#include <span>
#include <vector>

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
  double box_length_m = 0.0;    // of a rectangular pot's top; 0 of a round one
  double box_width_m = 0.0;
};

/// Factor on canopy area of a plant short of mix: (litres per plant / preferred litres)^exponent,
/// at most 1.
[[nodiscard]] double pot_limit(double litres_per_plant, double preferred_l, double exponent);

/// Diameter of the ring on which n plants stand: each its share of the top, 0 for one plant.
[[nodiscard]] double planting_ring_m(int plants, double pot_diameter_m);

/// Ground covered by `plants` discs of `diameter_m` set out evenly in rows along a box: as many
/// rows as give the squarest places. Exact where every row has the same number of plants; else a
/// row has that number with its fraction, within 7 % of the best even setting-out.
[[nodiscard]] double box_cover_m2(int plants, double diameter_m, double length_m, double width_m);

/// The crown when leaf area is `leaf_area_share` of full: every length goes with the cube root of
/// it (a plant grows in proportion), `size_factor` scales area and leaves alike (pot_limit, or 1
/// for "if it reached full size"). Several plants cover the disc of ring plus canopy, in a box
/// box_cover_m2; at most their summed areas.
[[nodiscard]] Canopy canopy(const Crop& crop, const Stand& stand, double leaf_area_share,
                            double size_factor);

/// The plants of one crop in a pot that several share.
struct CrownPart {
  const Crop* crop = nullptr;
  int plants = 1;
  double leaf_area_share = 0.0;  // of full; 0: no longer there
};

/// The crowns of crops that share a pot, a part of one crown each: together they cover what as many
/// plants of their mean plan area would, each in proportion to its own, and thin out alike where
/// they crowd. Width is that of the whole, height each crop's own. `stand.plants` does not count.
[[nodiscard]] std::vector<Canopy> shared_canopy(std::span<const CrownPart> parts,
                                                const Stand& stand, double size_factor);

}  // namespace wiltline
