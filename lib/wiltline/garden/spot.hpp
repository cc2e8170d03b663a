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
  double shade_cloth = 0.0;                // share of short-wave radiation a net takes away
  Ranged wind_share = Ranged::exactly(1.0);
  Ranged rain_share = Ranged::exactly(1.0);
  Ranged advection = Ranged::exactly(1.5);  // warm dry air drawn in, on the air term only
  bool tight_group = false;                 // pots rim to rim: walls lose half

  bool operator==(const Spot&) const = default;
};

}  // namespace wiltline
