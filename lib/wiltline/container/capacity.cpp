#include "wiltline/container/capacity.hpp"

#include <algorithm>
#include <array>

#include "wiltline/base/units.hpp"

namespace wiltline {

double equilibrium_suction_kpa(double z_cm, double drain_level_cm) {
  return units::kpa_per_cm_water * std::max(0.0, z_cm - drain_level_cm);
}

namespace {

/// Integral of f from a to b: Gauss-Legendre with 5 points on each of `panels` equal parts. Nodes
/// sqrt(5 -+ 2 sqrt(10 / 7)) / 3, weights 128 / 225 and (322 +- 13 sqrt(70)) / 900.
template <typename F>
double integral(double a, double b, int panels, const F& f) {
  constexpr std::array<double, 3> at{0.0, 0.538469310105683091, 0.906179845938663993};
  constexpr std::array<double, 3> weight{0.568888888888888889, 0.478628670499366468,
                                         0.236926885056189088};
  const double half = (b - a) / (2.0 * panels);
  double sum = 0.0;
  for (int panel = 0; panel < panels; ++panel) {
    const double middle = a + (2.0 * panel + 1.0) * half;
    sum += weight[0] * f(middle);
    for (std::size_t i = 1; i < at.size(); ++i) {
      sum += weight[i] * (f(middle - at[i] * half) + f(middle + at[i] * half));
    }
  }
  return sum * half;
}

}  // namespace

ContainerCapacity container_capacity(const ReleaseCurve& curve, const PotShape& mix_shape,
                                     double drain_level_cm) {
  constexpr double least_air = 0.10;  // the usual limit for roots
  const double height_cm = mix_shape.height_cm();
  const double level_cm = std::clamp(drain_level_cm, 0.0, height_cm);
  const auto content = [&](double z_cm) {
    return curve.water_content(equilibrium_suction_kpa(z_cm, level_cm));
  };
  const auto area = [&](double z_cm) { return mix_shape.area_cm2(z_cm); };
  const auto water_at = [&](double z_cm) { return area(z_cm) * content(z_cm); };
  // Below the drain level every pore is full. Above it the curve may bend anywhere, most likely
  // low: the upper half, the upper half of what is left, and so on.
  constexpr int halves = 6;
  constexpr int panels = 3;
  double water = curve.total_porosity() * integral(0.0, level_cm, 1, area);
  double upper_cm = height_cm - level_cm;
  for (int i = 0; i < halves; ++i) {
    water += integral(level_cm + upper_cm / 2.0, level_cm + upper_cm, panels, water_at);
    upper_cm /= 2.0;
  }
  water += integral(level_cm, level_cm + upper_cm, 1, water_at);
  const double capacity =
      std::min(water / integral(0.0, height_cm, 1, area), curve.total_porosity());

  // None at the drain level, and it only grows upwards: halve to the height where it is enough.
  const auto short_of_air = [&](double z_cm) {
    return curve.total_porosity() - content(z_cm) < least_air;
  };
  double wet_layer_cm = height_cm;
  if (!short_of_air(height_cm)) {
    constexpr int halvings = 16;  // to a thousandth of a centimetre
    double low_cm = level_cm;
    for (int i = 0; i < halvings; ++i) {
      const double middle_cm = (low_cm + wet_layer_cm) / 2.0;
      (short_of_air(middle_cm) ? low_cm : wet_layer_cm) = middle_cm;
    }
  }
  return {.capacity_m3_m3 = capacity,
          .air_m3_m3 = curve.total_porosity() - capacity,
          .wet_layer_cm = wet_layer_cm};
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
