#include "wiltline/questions/candidates.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

const Pot& pot(const char* name) {
  return *catalogue().pots.find(name);
}

TEST_CASE(
    "candidates: lists cross, the last turning fastest, and empty ones leave a row as it is") {
  const auto base = plantings(
      "one,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "two,pepper,clay 16 l,coir mix,2,05-20,balcony,as-needed\n");
  CHECK(crossed(base, {}).size() == 2);
  CHECK(crossed(base, {})[1].pot.wall.name == "clay");
  Choices choices;
  choices.pots = {*catalogue().pots.find("nursery 21 l"), *catalogue().pots.find("fabric 36 l")};
  choices.walls = {*catalogue().walls.find("clay"), *catalogue().walls.find("fabric"),
                   *catalogue().walls.find("plastic")};
  choices.plants = {1, 2};
  const auto all = crossed(base, choices);
  REQUIRE(all.size() == 2 * 2 * 3 * 2);
  CHECK(all[0].name == "one");
  CHECK(all[0].pot.name == "nursery 21 l");
  CHECK(all[0].pot.wall.name == "clay");
  CHECK(all[0].plants == 1);
  CHECK(all[1].plants == 2);
  CHECK(all[2].pot.wall.name == "fabric");
  CHECK(all[6].pot.name == "fabric 36 l");
  CHECK(all[12].name == "two");
  CHECK(all[23].mix.name == "coir mix");
  CHECK(all[23].spot.name == "balcony");
  CHECK(all[23].pot.wall.name == "plastic");
}

TEST_CASE("candidates: a row's shade stands over every spot it is tried in") {
  auto base = plantings("one,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  base.front().sun_until_h = 12.0;
  Choices choices;
  choices.spots = {*catalogue().spots.find("balcony"), *catalogue().spots.find("afternoon sun")};
  const auto tried = crossed(base, choices);
  REQUIRE(tried.size() == 2);
  CHECK(tried[0].spot.name == "balcony");
  CHECK(tried[0].spot.sun_from_h == choices.spots[0].sun_from_h);
  CHECK(tried[0].spot.sun_to_h == 12.0);
  CHECK(tried[1].spot.sun_from_h == tried[1].spot.sun_to_h);  // none is left
}

TEST_CASE("candidates: the least mix grows with the plants, never below the crop's smallest pot") {
  const Crop& lettuce = *catalogue().crops.find("leaf lettuce");  // 3.8 l for 5 plants
  CHECK(least_mix_l(lettuce, 1) == 3.8);
  CHECK(least_mix_l(lettuce, 5) == 3.8);
  CHECK(least_mix_l(lettuce, 10) == 7.6);
}

TEST_CASE("candidates: a crop's usual pots hold what it prefers; all, where none does") {
  const Crop& lettuce = *catalogue().crops.find("leaf lettuce");  // 3.8 to 7.6 l
  const std::vector<Pot> pots{pot("clay 3 l"), pot("clay 4 l"), pot("clay 6 l"), pot("clay 16 l")};
  const std::vector<Pot> usual = usual_pots(lettuce, pots);
  REQUIRE(usual.size() == 2);
  CHECK(usual[0].name == "clay 4 l");
  CHECK(usual[1].name == "clay 6 l");
  CHECK(usual_pots(lettuce, std::span(pots).first(1)).size() == 1);
}

TEST_CASE("candidates: other pots in their order, nothing else of the planting changed") {
  const auto base = plantings("one,tomato,nursery 11 l,coir mix,2,05-15,balcony,daily 07:00\n");
  const std::vector<Pot> pots{pot("fabric 36 l"), pot("nursery 11 l"), pot("clay 3 l")};
  const auto tried = in_pots(base.front(), pots, model());
  REQUIRE(tried.size() == 3);
  for (std::size_t i = 0; i < tried.size(); ++i) {
    CHECK(tried[i].pot.name == pots[i].name);
    CHECK(tried[i].name == "one");
    CHECK(tried[i].mix.name == "coir mix");
    CHECK(tried[i].plants == 2);
    CHECK(tried[i].spot.name == "balcony");
  }
}

TEST_CASE("candidates: a pot in which the mix holds no water for plants is left out") {
  auto base = plantings("one,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  const std::vector<Pot> pots{pot("nursery 37 l")};
  CHECK(holds_water(base.front(), model()));
  CHECK(in_pots(base.front(), pots, model()).size() == 1);
  // A component of our own that keeps nothing between draining and its limit.
  auto tables = builtin_tables();
  tables.at("mix-components.csv").bytes +=
      "gravel,0.4,0.02,40,2.9,0.3,,,,,1.5,no,coarse,1,1,1,2,2,2,0.4,0.02,40,2.9,0.4,0.02,40,2.9,"
      "ours,"
      "judged\n";
  base.front().mix = *read_catalogue(tables).mix("gravel 100");
  base.front().pot = pots.front();
  CHECK_FALSE(holds_water(base.front(), model()));
  CHECK(in_pots(base.front(), pots, model()).empty());
  // What stands there already is not left out.
  CHECK(own_and_other_pots(base.front(), pots, model()).size() == 1);
}

TEST_CASE("candidates: a pot that the root balls do not fit is left out") {
  const auto base = plantings("one,spinach,nursery 11 l,potting mix,5,05-15,patio,daily 07:00\n");
  const std::vector<Pot> pots{pot("cell 0.02 l"), pot("nursery 4.5 l")};
  const auto tried = own_and_other_pots(base.front(), pots, model());
  REQUIRE(tried.size() == 2);
  CHECK(tried.front().pot.name == "nursery 11 l");
  CHECK(tried.back().pot.name == "nursery 4.5 l");
}

TEST_CASE("candidates: the own pot comes first and once, unless it differs in litres or wall") {
  auto base = plantings("one,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  const std::vector<Pot> pots{pot("fabric 36 l"), pot("nursery 11 l"), pot("clay 3 l")};
  const auto names = [&](const Planting& planting) {
    std::vector<std::string> found;
    for (const Planting& one : own_and_other_pots(planting, pots, model())) {
      found.push_back(one.pot.name);
    }
    return found;
  };
  CHECK(names(base.front()) == std::vector<std::string>{"nursery 11 l", "fabric 36 l", "clay 3 l"});
  Planting walled = base.front();
  walled.pot.wall = *catalogue().walls.find("clay");
  CHECK(names(walled) ==
        std::vector<std::string>{"nursery 11 l", "fabric 36 l", "nursery 11 l", "clay 3 l"});
  Planting lower = base.front();
  lower.pot.headspace_cm += 2.0;
  CHECK(names(lower) ==
        std::vector<std::string>{"nursery 11 l", "fabric 36 l", "nursery 11 l", "clay 3 l"});
}

TEST_CASE("candidates: a saucer goes along with water as deep, and none under what hangs") {
  Planting planting =
      plantings("one,tomato dwarf,glazed 18 l,potting mix,1,05-20,balcony,daily 19:00\n").front();
  planting.saucer_l = 1.5;
  const std::vector<Pot> pots{pot("cell 0.1 l"), pot("glazed 18 l"), pot("nursery 50 l"),
                              pot("hanging basket 10 l")};
  const double depth_m = 0.0015 / planting.pot.mix_shape().top_area_m2();
  const auto tried = in_pots(planting, pots, model());
  REQUIRE(tried.size() == pots.size());
  for (const Planting& one : tried) {
    CAPTURE(one.pot.name);
    const bool hanging = one.pot.name == "hanging basket 10 l";
    CHECK(hangs(one.pot) == hanging);
    CHECK(near(one.saucer_l, hanging ? 0.0 : 1e3 * depth_m * one.pot.mix_shape().top_area_m2(),
               1e-12));
  }
  CHECK(tried[1].saucer_l == 1.5);
  Choices choices;
  choices.pots = pots;
  const auto each = crossed(std::span(&planting, 1), choices);
  for (std::size_t i = 0; i < tried.size(); ++i) CHECK(each[i].saucer_l == tried[i].saucer_l);
  CHECK(crossed(std::span(&planting, 1), {}).front().saucer_l == 1.5);
}

TEST_CASE(
    "candidates: no pot gets a saucer that holds more than its mix, its own pot keeps its own") {
  Planting planting =
      plantings("one,lettuce,hanging basket 10 l,potting mix,1,05-20,balcony,daily 19:00\n")
          .front();
  planting.saucer_l = 9.0;
  const std::vector<Pot> pots{pot("hanging basket 10 l"), pot("window box 5.5 l"),
                              pot("cell 0.1 l"), pot("hanging basket 5 l"), pot("nursery 37 l")};
  const auto tried = in_pots(planting, pots, model());
  REQUIRE(tried.size() == pots.size());
  CHECK(tried[0].saucer_l == 9.0);
  CHECK(tried[1].saucer_l == tried[1].pot.mix_l());
  CHECK(tried[3].saucer_l == 0.0);
  for (const Planting& one : tried) {
    CHECK(one.saucer_l <= one.pot.mix_l());
    CHECK_NOTHROW(check_planting(one));
  }
}

}  // namespace
}  // namespace wiltline::test
