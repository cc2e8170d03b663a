#include "wiltline/container/release_curve.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace wiltline {

double VanGenuchten::water_content(double suction_kpa) const {
  const double exponent = -(1.0 - 1.0 / n);
  return theta_r +
         (theta_s - theta_r) * std::pow(1.0 + std::pow(alpha_per_kpa * suction_kpa, n), exponent);
}

ReleaseCurve::ReleaseCurve(std::vector<Part> parts, double shrinkage)
    : parts_(std::move(parts)), packing_(1.0 / (1.0 - shrinkage)) {
  double solids = 0.0;
  for (const Part& part : parts_) solids += part.fraction * (1.0 - part.curve.theta_s);
  total_porosity_ = 1.0 - solids * packing_;
}

double ReleaseCurve::water_content(double suction_kpa) const {
  double water = 0.0;
  for (const Part& part : parts_) water += part.fraction * part.curve.water_content(suction_kpa);
  return std::min(water * packing_, total_porosity_);
}

}  // namespace wiltline
