// Where a pot stands.
#pragma once

#include <optional>
#include <string>

#include "wiltline/base/ranged.hpp"

namespace wiltline {

/// In what ranges the numbers of a spot plausibly lie.
struct SpotRanges {
  Ranged sky_view;
  Ranged reflected;
  Ranged warm_surfaces;
  Ranged wind_share;
  Ranged rain_share;
  Ranged advection;
  Ranged closure;

  bool operator==(const SpotRanges&) const = default;
};

/// A spot against the open site of the weather record. Hours are solar hours.
struct Spot {
  std::string name;
  double sun_from_h = 0.0;  // direct sun from … to …; 0 and 24 all day, equal: none
  double sun_to_h = 24.0;
  double sky_view = 1.0;       // share of the sky seen
  double shade_cloth = 0.0;    // share of short-wave radiation a net, glass or leaves take away
  double reflected = 0.0;      // of the direct sun, thrown back on the pot by paving or a wall
  double warm_surfaces = 0.0;  // of the direct sun, radiated on it as heat by the same
  double wind_share = 1.0;
  double rain_share = 1.0;
  double advection = 1.5;  // warm dry air drawn in, on the air term only
  double closure = 0.0;    // share of the ground that pots and crowns of the group cover
  std::optional<SpotRanges> ranges;

  /// Most of the ground is covered: pots stand in each other's shade.
  [[nodiscard]] bool is_group() const { return closure >= 0.5; }

  bool operator==(const Spot&) const = default;
};

}  // namespace wiltline
