#include "wiltline/crop/canopy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wiltline {
namespace {

double disc_m2(double diameter_m) {
  return std::numbers::pi / 4.0 * diameter_m * diameter_m;
}

}  // namespace

double pot_limit(double litres_per_plant, double preferred_l, double exponent) {
  return std::min(1.0, std::pow(litres_per_plant / preferred_l, exponent));
}

double planting_ring_m(int plants, double pot_diameter_m) {
  return pot_diameter_m * (1.0 - 1.0 / std::sqrt(static_cast<double>(plants)));
}

Canopy canopy(const Crop& crop, const Stand& stand, double leaf_area_share, double size_factor) {
  const double plants = stand.plants;
  const double length_factor = std::cbrt(leaf_area_share) * std::sqrt(size_factor);
  const double diameter_m = crop.canopy_diameter_m.value * length_factor;
  const double summed_m2 = plants * disc_m2(diameter_m);
  const double union_m2 = disc_m2(planting_ring_m(stand.plants, stand.pot_diameter_m) + diameter_m);
  Canopy result;
  result.plan_area_m2 = std::min(summed_m2, union_m2);
  result.width_m = std::sqrt(result.plan_area_m2 / disc_m2(1.0));
  result.height_m = crop.crown_height_m.value * length_factor;
  const double crowding = summed_m2 / result.plan_area_m2;  // 1 where nothing overlaps
  result.leaf_area_m2 =
      plants * crop.leaf_area_m2.value * leaf_area_share * size_factor / std::sqrt(crowding);
  return result;
}

}  // namespace wiltline
