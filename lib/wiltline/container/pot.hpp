// A container as it stands: shape, filling, wall, drainage.
#pragma once

#include <string>

#include "wiltline/container/shape.hpp"
#include "wiltline/container/wall.hpp"

namespace wiltline {

/// A pot and how far it is filled. Depth of mix = height - headspace > 0.
struct Pot {
  std::string name;
  std::string kind;
  PotShape shape;
  double headspace_cm = 0.0;
  Wall wall;
  bool drains = true;
  double drain_level_cm = 0.0;  // height of side holes above the floor; 0: holes in the floor
  double reservoir_l = 0.0;     // water stored below or beside the mix and wicked up
  Ranged sold_mix_l{};          // mix such a pot may really hold; all 0: as its dimensions say

  [[nodiscard]] double mix_depth_cm() const { return shape.height_cm() - headspace_cm; }
  [[nodiscard]] PotShape mix_shape() const { return shape.filled_to(mix_depth_cm()); }
  [[nodiscard]] double mix_l() const { return mix_shape().volume_l(); }

  /// The same pot, every length scaled so that it holds `litres` (above 0) of mix.
  [[nodiscard]] Pot scaled_to(double litres) const;
};

}  // namespace wiltline
