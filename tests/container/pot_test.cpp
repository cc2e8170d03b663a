// A pot as it stands: filled below a headspace, and the same pot in another size.
#include <doctest/doctest.h>

#include "support/near.hpp"
#include "wiltline/container/pot.hpp"

namespace wiltline::test {
namespace {

Pot tub() {
  Pot pot{.name = "tub",
          .kind = "tub",
          .shape = PotShape::round(40.0, 30.0, 35.0),
          .headspace_cm = 5.0,
          .wall = {},
          .drains = true,
          .drain_level_cm = 3.0,
          .reservoir_l = 4.0};
  pot.wall.name = "clay";
  return pot;
}

}  // namespace

TEST_CASE("pot: the mix reaches up to the headspace") {
  const Pot pot = tub();
  CHECK(pot.mix_depth_cm() == 30.0);
  CHECK(pot.mix_shape().height_cm() == 30.0);
  CHECK(near(pot.mix_shape().top_length_cm(), 30.0 + 10.0 * 30.0 / 35.0, 1e-12));
  CHECK(near(pot.mix_l(), pot.shape.filled_to(30.0).volume_l(), 1e-12));
  CHECK(pot.mix_l() < pot.shape.volume_l());
}

TEST_CASE("pot: scaled to a volume of mix, everything keeps its proportion") {
  const Pot pot = tub();
  for (const double litres : {0.02, 5.0, 26.0, 400.0}) {
    CAPTURE(litres);
    const Pot scaled = pot.scaled_to(litres);
    CHECK(near(scaled.mix_l() / litres, 1.0, 1e-12));
    CHECK(near(scaled.shape.height_cm() / scaled.shape.top_length_cm(), 35.0 / 40.0, 1e-12));
    CHECK(near(scaled.shape.bottom_length_cm() / scaled.shape.top_length_cm(), 0.75, 1e-12));
    CHECK(near(scaled.headspace_cm / scaled.shape.height_cm(), 5.0 / 35.0, 1e-12));
    CHECK(near(scaled.drain_level_cm / scaled.shape.height_cm(), 3.0 / 35.0, 1e-12));
    CHECK(near(scaled.reservoir_l / litres, 4.0 / pot.mix_l(), 1e-12));
    CHECK(scaled.name == "tub");
    CHECK(scaled.wall.name == "clay");
    CHECK(scaled.drains);
  }
}

}  // namespace wiltline::test
