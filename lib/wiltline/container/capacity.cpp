#include "wiltline/container/capacity.hpp"

#include <algorithm>

#include "wiltline/base/units.hpp"

namespace wiltline {

double equilibrium_suction_kpa(double z_cm, double drain_level_cm) {
  return units::kpa_per_cm_water * std::max(0.0, z_cm - drain_level_cm);
}

ContainerCapacity container_capacity(const ReleaseCurve& curve, const PotShape& mix_shape,
                                     double drain_level_cm) {
  constexpr double cm3_per_l = 1e3;
  const double height_cm = mix_shape.height_cm();
  const double level_cm = std::clamp(drain_level_cm, 0.0, height_cm);
  // Below the drain level every pore is full; above it area times content.
  double water_l = 0.0;
  if (level_cm > 0.0) {
    water_l = curve.total_porosity() * mix_shape.filled_to(level_cm).volume_l();
  }
  if (level_cm < height_cm) {
    const double suction = equilibrium_suction_kpa(height_cm, level_cm);
    const ReleaseCurve::Below below = curve.below(suction);
    // The area is a quadratic in the share of the way up.
    const double low_cm2 = mix_shape.area_cm2(level_cm);
    const double middle_cm2 = mix_shape.area_cm2((level_cm + height_cm) / 2.0);
    const double high_cm2 = mix_shape.area_cm2(height_cm);
    const double area_times_content =
        (low_cm2 * below.content +
         ((4.0 * middle_cm2 - 3.0 * low_cm2 - high_cm2) * below.times_suction +
          2.0 * (low_cm2 - 2.0 * middle_cm2 + high_cm2) * below.times_square / suction) /
             suction) /
        suction;
    water_l += (height_cm - level_cm) / cm3_per_l * area_times_content;
  }
  const double capacity = std::min(water_l / mix_shape.volume_l(), curve.total_porosity());
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
