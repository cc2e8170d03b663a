#include "wiltline/container/shape.hpp"

#include <cmath>
#include <numbers>

namespace wiltline {
namespace {

constexpr double cm2_per_m2 = 1e4;
constexpr double cm3_per_l = 1e3;
constexpr double round_area_factor = std::numbers::pi / 4.0;

}  // namespace

PotShape::PotShape(bool is_round, double top_length_cm, double top_width_cm,
                   double bottom_length_cm, double bottom_width_cm, double height_cm)
    : round_(is_round),
      top_length_cm_(top_length_cm),
      top_width_cm_(top_width_cm),
      bottom_length_cm_(bottom_length_cm),
      bottom_width_cm_(bottom_width_cm),
      height_cm_(height_cm) {}

PotShape PotShape::round(double top_diameter_cm, double bottom_diameter_cm, double height_cm) {
  return {true,     top_diameter_cm, top_diameter_cm, bottom_diameter_cm, bottom_diameter_cm,
          height_cm};
}

PotShape PotShape::rectangular(double top_length_cm, double top_width_cm, double bottom_length_cm,
                               double bottom_width_cm, double height_cm) {
  return {false, top_length_cm, top_width_cm, bottom_length_cm, bottom_width_cm, height_cm};
}

double PotShape::length_at(double z_cm) const {
  return bottom_length_cm_ + (top_length_cm_ - bottom_length_cm_) * z_cm / height_cm_;
}

double PotShape::width_at(double z_cm) const {
  return bottom_width_cm_ + (top_width_cm_ - bottom_width_cm_) * z_cm / height_cm_;
}

double PotShape::area_cm2(double z_cm) const {
  return (round_ ? round_area_factor : 1.0) * length_at(z_cm) * width_at(z_cm);
}

double PotShape::top_area_m2() const {
  return area_cm2(height_cm_) / cm2_per_m2;
}

double PotShape::volume_l() const {
  // The area is a quadratic in z, for which Simpson's rule is exact.
  const double sum = area_cm2(0.0) + 4.0 * area_cm2(height_cm_ / 2.0) + area_cm2(height_cm_);
  return sum / 6.0 * height_cm_ / cm3_per_l;
}

double PotShape::wall_area_m2() const {
  const double mean_length_cm = (top_length_cm_ + bottom_length_cm_) / 2.0;
  const double mean_width_cm = (top_width_cm_ + bottom_width_cm_) / 2.0;
  const double slant_across_width_cm =
      std::hypot(height_cm_, (top_width_cm_ - bottom_width_cm_) / 2.0);
  if (round_) return std::numbers::pi * mean_width_cm * slant_across_width_cm / cm2_per_m2;
  const double slant_across_length_cm =
      std::hypot(height_cm_, (top_length_cm_ - bottom_length_cm_) / 2.0);
  return 2.0 * (mean_length_cm * slant_across_width_cm + mean_width_cm * slant_across_length_cm) /
         cm2_per_m2;
}

double PotShape::top_equivalent_diameter_m() const {
  return std::sqrt(top_area_m2() / round_area_factor);
}

PotShape PotShape::filled_to(double height_cm) const {
  return {round_,   length_at(height_cm), width_at(height_cm), bottom_length_cm_, bottom_width_cm_,
          height_cm};
}

PotShape PotShape::scaled(double factor) const {
  return {round_,
          top_length_cm_ * factor,
          top_width_cm_ * factor,
          bottom_length_cm_ * factor,
          bottom_width_cm_ * factor,
          height_cm_ * factor};
}

}  // namespace wiltline
