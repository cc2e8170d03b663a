#include "wiltline/garden/root_balls.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/garden/reading.hpp"

namespace wiltline::test {

TEST_CASE("root balls of all plants of a pot, and how many it has room for") {
  Planting basil = one_row("basil", "clay 3 l,potting mix,3,05-15,patio,daily 07:00");
  CHECK(near(root_balls_l(basil), 3 * 0.4, 1e-12));
  CHECK_FALSE(crowding(basil));
  basil.plants = 7;
  CHECK_FALSE(crowding(basil));
  basil.plants = 8;
  const auto fault = crowding(basil);
  REQUIRE(fault);
  CHECK(
      fault->text() ==
      "found 8 plants, whose root balls take 3.2 l, in 3 l of mix; expected at most 7 of them, or "
      "smaller root balls");
  // A seedling in its cell, though its crop's usual ball is larger.
  const Planting tray = one_row("tomato", "cell 0.05 l,seed mix,1,05-15,patio,daily 07:00");
  CHECK(root_balls_l(tray) > tray.pot.mix_l());
  CHECK_FALSE(crowding(tray));
}

TEST_CASE("a garden with more plants than a pot has room for is refused in one line") {
  const auto refused = [](const std::string& row) {
    const std::string header = "name,crop,pot,mix,plants,planted,spot,routine,root_ball_l\n";
    return refusal([&] { (void)read_garden({"g.csv", header + row + "\n"}, catalogue()); });
  };
  const std::string rest = ",05-15,patio,daily 07:00,";
  CHECK(
      refused("a,tomato,clay 3 l,potting mix,40" + rest) ==
      "g.csv:2:31: found 40 plants, whose root balls take 16 l, in 3 l of mix; expected at most 7 "
      "of them, or smaller root balls");
  CHECK(refused("a,tomato,clay 3 l,potting mix,40" + rest + "0.05") == "nothing refused");
  CHECK(refused("a,leaf lettuce 40 + basil 9,clay 3 l,potting mix," + rest) ==
        "g.csv:2:50: found 49 plants, whose root balls take 5.6 l, in 3 l of mix; expected at most "
        "26 of them, or smaller root balls");
}

}  // namespace wiltline::test
