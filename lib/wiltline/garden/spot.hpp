// Where a pot stands.
#pragma once

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
  Ranged reflected;          // of the direct sun, thrown back on the pot by paving or a wall
  Ranged warm_surfaces;      // of the direct sun, radiated on it as heat by the same
  Ranged wind_share = Ranged::exactly(1.0);
  Ranged rain_share = Ranged::exactly(1.0);
  Ranged advection = Ranged::exactly(1.5);  // warm dry air drawn in, on the air term only
  Ranged closure;  // share of the ground that pots and crowns of the group cover

  /// Half of the ground is covered, or more: pots stand in each other's shade.
  [[nodiscard]] bool is_group() const { return closure.value >= 0.5; }
  bool operator==(const Spot&) const = default;
};

}  // namespace wiltline
