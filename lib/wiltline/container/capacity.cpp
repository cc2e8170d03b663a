#include "wiltline/container/capacity.hpp"

#include <algorithm>

#include "wiltline/base/units.hpp"

namespace wiltline {

double equilibrium_suction_kpa(double z_cm, double drain_level_cm) {
  return units::kpa_per_cm_water * std::max(0.0, z_cm - drain_level_cm);
}

ContainerCapacity container_capacity(const ReleaseCurve& curve, const PotShape& mix_shape,
                                     double drain_level_cm) {
  constexpr int layers = 400;
  constexpr double least_air = 0.10;  // the usual limit for roots
  const double layer_cm = mix_shape.height_cm() / layers;
  double water = 0.0;
  double volume = 0.0;
  double wet_layer_cm = 0.0;
  for (int i = 0; i < layers; ++i) {
    const double z_cm = (i + 0.5) * layer_cm;
    const double content = curve.water_content(equilibrium_suction_kpa(z_cm, drain_level_cm));
    const double area = mix_shape.area_cm2(z_cm);
    water += area * content;
    volume += area;
    if (curve.total_porosity() - content < least_air) wet_layer_cm = (i + 1) * layer_cm;
  }
  const double capacity = water / volume;
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
