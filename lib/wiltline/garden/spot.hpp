// Where a pot stands.
#pragma once

#include <algorithm>
#include <string>

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// A spot against the open site of the weather record. Hours are solar hours.
struct Spot {
  std::string name;
  double sun_from_h = 0.0;  // direct sun from … to …; 0 and 24 all day, equal: none
  double sun_to_h = 24.0;
  Ranged sky_view = Ranged::exactly(1.0);  // share of the sky seen
  double shade_cloth = 0.0;  // share of short-wave radiation a net, glass or leaves take away
  // Of the direct sun: thrown back on the pot by paving or a wall, and radiated on it as heat.
  Ranged reflected = Ranged::exactly(0.0);
  Ranged warm_surfaces = Ranged::exactly(0.0);
  Ranged wind_share = Ranged::exactly(1.0);
  Ranged rain_share = Ranged::exactly(1.0);
  Ranged advection = Ranged::exactly(1.0);         // warm dry air drawn in, on the air term only
  Ranged closure = Ranged::exactly(0.0);           // share of the ground that the group covers
  Ranged frost_kept_off_c = Ranged::exactly(0.0);  // a frost outside is so much less cold here

  bool load_limited = false;  // a balcony or roof: what its floor may carry is limited

  /// The same spot with a shade that keeps the direct sun off from a solar hour on.
  [[nodiscard]] Spot shaded_from(double hour) const {
    Spot shaded = *this;
    shaded.sun_to_h = std::clamp(hour, sun_from_h, sun_to_h);
    return shaded;
  }

  /// Most of the ground is covered: pots stand in each other's shade.
  [[nodiscard]] bool is_group() const { return closure.value >= 0.5; }

  bool operator==(const Spot&) const = default;
};

}  // namespace wiltline
