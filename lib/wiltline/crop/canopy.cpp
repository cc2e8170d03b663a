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

/// Ground that plants of this diameter cover in a pot, no more than their summed areas.
double cover_m2(int plants, double diameter_m, double summed_m2, const Stand& stand) {
  if (plants == 1 && stand.box_length_m <= 0.0) return summed_m2;  // its own disc
  const double union_m2 =
      stand.box_length_m > 0.0
          ? box_cover_m2(plants, diameter_m, stand.box_length_m, stand.box_width_m)
          : disc_m2(planting_ring_m(plants, stand.pot_diameter_m) + diameter_m);
  return std::min(summed_m2, union_m2);
}

double length_factor(double leaf_area_share, double size_factor) {
  return (leaf_area_share == 1.0 ? 1.0 : std::cbrt(leaf_area_share)) * std::sqrt(size_factor);
}

double width_of_disc_m(double area_m2) {
  return std::sqrt(area_m2 / disc_m2(1.0));
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
  const double lengths = length_factor(leaf_area_share, size_factor);
  const double diameter_m = crop.canopy_diameter_m.value * lengths;
  const double summed_m2 = plants * disc_m2(diameter_m);
  Canopy result;
  result.plan_area_m2 = cover_m2(stand.plants, diameter_m, summed_m2, stand);
  result.width_m = width_of_disc_m(result.plan_area_m2);
  result.height_m = crop.crown_height_m.value * lengths;
  const double crowding = summed_m2 / result.plan_area_m2;  // 1 where nothing overlaps
  result.leaf_area_m2 =
      plants * crop.leaf_area_m2.value * leaf_area_share * size_factor / std::sqrt(crowding);
  return result;
}

std::vector<Canopy> shared_canopy(std::span<const CrownPart> parts, const Stand& stand,
                                  double size_factor) {
  std::vector<Canopy> crowns;
  double summed_m2 = 0.0;
  int plants = 0;
  for (const CrownPart& part : parts) {
    const double lengths = length_factor(part.leaf_area_share, size_factor);
    Canopy& crown = crowns.emplace_back();
    crown.plan_area_m2 = part.plants * disc_m2(part.crop->canopy_diameter_m.value * lengths);
    crown.height_m = part.crop->crown_height_m.value * lengths;
    crown.leaf_area_m2 =
        part.plants * part.crop->leaf_area_m2.value * part.leaf_area_share * size_factor;
    summed_m2 += crown.plan_area_m2;
    if (part.leaf_area_share > 0.0) plants += part.plants;
  }
  if (!(summed_m2 > 0.0)) return crowns;
  const double plan_m2 = cover_m2(plants, width_of_disc_m(summed_m2 / plants), summed_m2, stand);
  const double covered = plan_m2 / summed_m2;  // 1 where nothing overlaps
  for (Canopy& crown : crowns) {
    crown.plan_area_m2 *= covered;
    crown.leaf_area_m2 *= std::sqrt(covered);
    crown.width_m = width_of_disc_m(plan_m2);
  }
  return crowns;
}

}  // namespace wiltline
