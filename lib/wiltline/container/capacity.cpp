#include "wiltline/container/capacity.hpp"

#include <Eigen/Core>
#include <algorithm>

#include "wiltline/base/units.hpp"

namespace wiltline {

double equilibrium_suction_kpa(double z_cm, double drain_level_cm) {
  return units::kpa_per_cm_water * std::max(0.0, z_cm - drain_level_cm);
}

namespace {

constexpr double cm3_per_l = 1e3;

/// Nodes in (0, 1) and weights that add up to 1.
struct Quadrature {
  Eigen::ArrayXd at;
  Eigen::ArrayXd weight;
};

/// Gauss-Legendre with 5 points on each of some parts of (0, 1): nodes sqrt(5 -+ 2 sqrt(10 / 7)) /
/// 3, weights 128 / 225 and (322 +- 13 sqrt(70)) / 900. A release curve may bend anywhere above the
/// drain level, most likely low: three parts for the upper half, three for the upper half of what
/// is left, and so on six times, and one for the rest.
Quadrature graded_quadrature() {
  constexpr int points = 5;
  constexpr int halves = 6;
  constexpr int parts_a_half = 3;
  const Eigen::Array<double, points, 1> node{-0.906179845938663993, -0.538469310105683091, 0.0,
                                             0.538469310105683091, 0.906179845938663993};
  const Eigen::Array<double, points, 1> weight{0.236926885056189088, 0.478628670499366468,
                                               0.568888888888888889, 0.478628670499366468,
                                               0.236926885056189088};
  Quadrature all{Eigen::ArrayXd(points * (halves * parts_a_half + 1)), {}};
  all.weight.resizeLike(all.at);
  Eigen::Index begin = 0;
  const auto add_part = [&](double from, double length) {
    all.at.segment<points>(begin) = from + length / 2.0 * (1.0 + node);
    all.weight.segment<points>(begin) = length / 2.0 * weight;
    begin += points;
  };
  double half = 0.5;
  for (int i = 0; i < halves; ++i, half /= 2.0) {
    for (int part = 0; part < parts_a_half; ++part) {
      add_part(half + half * part / parts_a_half, half / parts_a_half);
    }
  }
  add_part(0.0, 2.0 * half);
  return all;
}

}  // namespace

ContainerCapacity container_capacity(const ReleaseCurve& curve, const PotShape& mix_shape,
                                     double drain_level_cm) {
  static const Quadrature quadrature = graded_quadrature();
  const double height_cm = mix_shape.height_cm();
  const double level_cm = std::clamp(drain_level_cm, 0.0, height_cm);
  // Below the drain level every pore is full; above it area times content, layer by layer.
  const double flooded_l = level_cm > 0.0 ? mix_shape.filled_to(level_cm).volume_l() : 0.0;
  const Eigen::ArrayXd heights_cm = level_cm + (height_cm - level_cm) * quadrature.at;
  const Eigen::ArrayXd area_cm2 =
      heights_cm.unaryExpr([&](double z) { return mix_shape.area_cm2(z); });
  Eigen::ArrayXd content =
      heights_cm.unaryExpr([&](double z) { return equilibrium_suction_kpa(z, level_cm); });
  curve.water_contents({content.data(), static_cast<std::size_t>(content.size())});
  const double above_l =
      (height_cm - level_cm) / cm3_per_l * (quadrature.weight * area_cm2 * content).sum();
  const double capacity =
      std::min((curve.total_porosity() * flooded_l + above_l) / mix_shape.volume_l(),
               curve.total_porosity());
  return {.capacity_m3_m3 = capacity, .air_m3_m3 = curve.total_porosity() - capacity};
}

double wet_layer_cm(const ReleaseCurve& curve, double height_cm, double drain_level_cm) {
  constexpr double least_air = 0.10;  // the usual limit for roots
  const double level_cm = std::clamp(drain_level_cm, 0.0, height_cm);
  // None at the drain level, and it only grows upwards: halve to the height where it is enough.
  const auto short_of_air = [&](double z_cm) {
    return curve.total_porosity() - curve.water_content(equilibrium_suction_kpa(z_cm, level_cm)) <
           least_air;
  };
  if (short_of_air(height_cm)) return height_cm;
  constexpr int halvings = 16;  // to a thousandth of a centimetre
  double low_cm = level_cm;
  double high_cm = height_cm;
  for (int i = 0; i < halvings; ++i) {
    const double middle_cm = (low_cm + high_cm) / 2.0;
    (short_of_air(middle_cm) ? low_cm : high_cm) = middle_cm;
  }
  return high_cm;
}

HeldWater held_water(const Pot& pot, const Mix& mix, double refill_share) {
  const PotShape shape = pot.mix_shape();
  HeldWater held;
  held.mix_l = shape.volume_l();
  held.capacity = container_capacity(mix.curve, shape, pot.drain_level_cm);
  held.saturated_l = mix.curve.total_porosity() * held.mix_l;
  held.refilled_l = held.capacity.capacity_m3_m3 * refill_share * held.mix_l;
  held.lower_limit_l = mix.lower_limit_m3_m3 * held.mix_l;
  held.wilting_l = mix.wilting_m3_m3 * held.mix_l;
  return held;
}

}  // namespace wiltline
