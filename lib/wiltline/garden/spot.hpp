// Where a pot stands.
#pragma once

#include <optional>
#include <string>

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// In what ranges the shares and the advection of a spot plausibly lie.
struct SpotRanges {
  Ranged sky_view;
  Ranged wind_share;
  Ranged rain_share;
  Ranged advection;

  bool operator==(const SpotRanges&) const = default;
};

/// A spot against the open site of the weather record. Hours are solar hours.
struct Spot {
  std::string name;
  double sun_from_h = 0.0;  // direct sun from … to …; 0 and 24 all day, equal: none
  double sun_to_h = 24.0;
  double sky_view = 1.0;     // share of the sky seen
  double shade_cloth = 0.0;  // share of short-wave radiation a net takes away
  double wind_share = 1.0;
  double rain_share = 1.0;
  double advection = 1.5;    // warm dry air drawn in, on the air term only
  bool tight_group = false;  // pots rim to rim: walls lose half
  std::optional<SpotRanges> ranges;

  bool operator==(const Spot&) const = default;
};

}  // namespace wiltline
