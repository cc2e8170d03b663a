#include "wiltline/crop/canopy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace wiltline {
namespace {

double disc_m2(double diameter_m) {
  return std::numbers::pi / 4.0 * diameter_m * diameter_m;
}

/// Area of the disc of radius r between its middle and a chord parallel to the diameter, `to` away.
double slice_m2(double r, double to) {
  return to * std::sqrt(r * r - to * to) + r * r * std::asin(to / r);
}

/// The same, with chords counted to `widest` only.
double narrow_slice_m2(double r, double to, double widest) {
  if (widest >= 2.0 * r) return slice_m2(r, to);
  const double wide_to = std::min(to, std::sqrt(r * r - widest * widest / 4.0));
  return widest * wide_to + slice_m2(r, to) - slice_m2(r, wide_to);
}

}  // namespace

double pot_limit(double litres_per_plant, double preferred_l, double exponent) {
  return std::min(1.0, std::pow(litres_per_plant / preferred_l, exponent));
}

double planting_ring_m(int plants, double pot_diameter_m) {
  return pot_diameter_m * (1.0 - 1.0 / std::sqrt(static_cast<double>(plants)));
}

double box_cover_m2(int plants, double diameter_m, double length_m, double width_m) {
  const double r = diameter_m / 2.0;
  const double n = plants;
  const double across = std::min(length_m, width_m);
  const double along = std::max(length_m, width_m);
  const double rows = std::clamp(std::round(std::sqrt(n * across / along)), 1.0, n);
  const double in_row = n / rows;
  // Where a line across the box meets the discs it meets those of each row over the same width.
  // Half-way to its neighbour in the row a disc gives way to it.
  const double to_next = std::min(r, along / in_row / 2.0);
  const double between_rows = across / rows;
  const double one_row = 2.0 * (slice_m2(r, r) + (in_row - 1.0) * slice_m2(r, to_next));
  const double further_row = 2.0 * (narrow_slice_m2(r, r, between_rows) +
                                    (in_row - 1.0) * narrow_slice_m2(r, to_next, between_rows));
  return one_row + (rows - 1.0) * further_row;
}

Canopy canopy(const Crop& crop, const Stand& stand, double leaf_area_share, double size_factor) {
  const double plants = stand.plants;
  const double length_factor = std::cbrt(leaf_area_share) * std::sqrt(size_factor);
  const double diameter_m = crop.canopy_diameter_m.value * length_factor;
  const double summed_m2 = plants * disc_m2(diameter_m);
  const double union_m2 =
      stand.box_length_m > 0.0
          ? box_cover_m2(stand.plants, diameter_m, stand.box_length_m, stand.box_width_m)
          : disc_m2(planting_ring_m(stand.plants, stand.pot_diameter_m) + diameter_m);
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
