// What a pot of a mix holds after it has drained: the release curve integrated over the pot's
// height.
#pragma once

#include "wiltline/container/mix.hpp"
#include "wiltline/container/pot.hpp"

namespace wiltline {

/// Water and air in a freely drained pot, as laboratories report them.
struct ContainerCapacity {
  double capacity_m3_m3 = 0.0;  // container capacity: water held, share of the mix volume
  double air_m3_m3 = 0.0;       // total porosity less that
};

/// Suction at a height above the floor once drainage has stopped, kPa: zero up to the drain level,
/// 0.0980665 kPa a cm above it (equilibrium; Passioura 2006).
[[nodiscard]] double equilibrium_suction_kpa(double z_cm, double drain_level_cm);

/// `mix_shape`: the mix, not the pot (filled_to). `drain_level_cm`: 0 for holes in the floor, the
/// hole's height for side holes, the water's depth for a pot in a full saucer. Within 1e-8 m3/m3
/// for curves of potting mixes in pots up to 60 cm.
[[nodiscard]] ContainerCapacity container_capacity(const ReleaseCurve& curve,
                                                   const PotShape& mix_shape,
                                                   double drain_level_cm = 0.0);

/// Height above the floor in which less than a tenth is air, cm, to a thousandth.
[[nodiscard]] double wet_layer_cm(const ReleaseCurve& curve, double height_cm,
                                  double drain_level_cm = 0.0);

/// Litres of water in a filled pot at the contents that matter.
struct HeldWater {
  double mix_l = 0.0;
  ContainerCapacity capacity;
  double saturated_l = 0.0;    // every pore full
  double refilled_l = 0.0;     // refilled capacity: what a hose restores of container capacity
  double lower_limit_l = 0.0;  // beyond it the mix conducts too little to feed a plant
  double wilting_l = 0.0;      // at 1500 kPa
  /// Total available water: refilled capacity down to the lower limit. Not positive for a mix that
  /// holds nothing a plant can use.
  [[nodiscard]] double available_l() const { return refilled_l - lower_limit_l; }
  /// More than plants can have of it: all of the mix's volume but what lies below the lower limit.
  [[nodiscard]] double room_l() const { return mix_l - lower_limit_l; }
};
[[nodiscard]] HeldWater held_water(const Pot& pot, const Mix& mix, double refill_share);

}  // namespace wiltline
