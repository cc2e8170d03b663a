#include "wiltline/garden/pot_names.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

Pot taken(std::string_view text) {
  const Result<Pot> pot = known_pot(text, catalogue());
  INFO(std::string(text) << ": " << (pot ? "" : pot.fault().text()));
  REQUIRE(static_cast<bool>(pot));
  return *pot;
}

}  // namespace

TEST_CASE("pot names: a row by its name keeps it") {
  CHECK(taken("fabric 36 l").name == "fabric 36 l");
  CHECK(taken("Nursery  11 L").name == "nursery 11 l");
}

TEST_CASE("pot names: a kind and a size as the shop says it takes the nearest row") {
  CHECK(taken("fabric 10 gal").name == "fabric 36 l (fabric 10 gal)");
  CHECK(taken("fabric 5gal").name == "fabric 16 l (fabric 5gal)");
  CHECK(taken("clay 30 cm").name == "clay 10.5 l (clay 30 cm)");
  CHECK(taken("terracotta 12 inches").name == "clay 10.5 l (terracotta 12 inches)");
  CHECK(taken("20 l").name == "nursery 18 l (20 l)");
  CHECK(taken("window box 60 cm").name == "window box 7.5 l (window box 60 cm)");
  CHECK(taken("self-watering 23 l").name == "self watering tub 20 l (self-watering 23 l)");
  // A row's shape is its own.
  CHECK(taken("fabric 10 gal").mix_l() == taken("fabric 36 l").mix_l());
}

TEST_CASE("pot names: gallons and litres of one size are one pot") {
  for (const double gallons : {1.0, 2.0, 5.0, 7.0, 10.0, 20.0}) {
    const Pot us = taken("fabric " + std::to_string(gallons) + " gal");
    const Pot metric = taken("fabric " + std::to_string(3.785411784 * gallons) + " l");
    CHECK(near(us.mix_l(), metric.mix_l(), 1e-9));
  }
}

TEST_CASE("pot names: between two rows the nearer one's shape is scaled") {
  // 20.1 and 33.1 l to the rim: neither is within a seventh of 24.5 l.
  const Pot pot = taken("glazed 24.5 l");
  const Pot row = taken("glazed 18 l");
  CHECK(pot.name == "glazed 24.5 l (shaped as glazed 18 l)");
  CHECK(near(pot.shape.volume_l(), 24.5, 1e-9));
  CHECK(near(pot.shape.top_length_cm() / pot.shape.height_cm(),
             row.shape.top_length_cm() / row.shape.height_cm(), 1e-12));
}

TEST_CASE("pot names: trade gallons are not gallons") {
  // Classes of ANSI Z60.1-2004, cubic inches converted to litres: the row of a class holds mix
  // within it.
  const struct {
    const char* name;
    double least_l;
    double most_l;
  } classes[] = {{"1 trade gal", 2.49, 4.11},    {"2 trade gal", 5.24, 7.77},
                 {"5 trade gal", 12.86, 20.35},  {"10 trade gal", 34.09, 43.36},
                 {"15 trade gal", 45.36, 60.57}, {"20 trade gal", 74.07, 84.43}};
  for (const auto& trade : classes) {
    const Pot pot = taken(trade.name);
    INFO(trade.name << ": " << pot.name);
    CHECK(pot.kind == "nursery");
    CHECK(pot.mix_l() >= trade.least_l);
    CHECK(pot.mix_l() <= trade.most_l);
  }
  CHECK(taken("#5").name == "nursery 14 l (#5)");
  CHECK(taken("5 trade gal").mix_l() < taken("5 gal").mix_l());
  CHECK(taken("nursery 5 trade gallons").name == "nursery 14 l (nursery 5 trade gallons)");
}

TEST_CASE("pot names: a barrel is a cask cut in half") {
  CHECK(taken("half barrel").name == "half barrel 100 l (half barrel)");
}

TEST_CASE("pot names: a garden's row may say a size") {
  CHECK(one_row("tomato", "fabric 10 gal,potting mix,1,05-15,patio,daily 07:00").pot.name ==
        "fabric 36 l (fabric 10 gal)");
  const auto read = [] {
    (void)one_row("tomato", "fabric 300 l,potting mix,1,05-15,patio,daily 07:00");
  };
  CHECK(refusal(read) ==
        "garden.csv:2:11: found \"fabric 300 l\", a size in which no such pot comes; expected 3.74 "
        "to 119 l to the rim");
}

TEST_CASE("pot names: what no kind comes in is refused in one line") {
  CHECK(known_pot("fabric 300 l", catalogue()).fault().text() ==
        "found \"fabric 300 l\", a size in which no such pot comes; expected 3.74 to 119 l to the "
        "rim");
  CHECK(known_pot("clay 2 in", catalogue()).fault().text() ==
        "found \"clay 2 in\", a size in which no such pot comes; expected 3.58 to 15 in across the "
        "rim");
  CHECK(
      known_pot("brass 10 l", catalogue()).fault().text(" (ask)") ==
      "found unknown pot \"brass 10 l\"; expected a known pot (ask) or a kind and a size, such as "
      "fabric 10 gal or clay 30 cm");
  CHECK(known_pot("4 trade gal", catalogue()).fault().found == "unknown pot \"4 trade gal\"");
  CHECK(!parse_pot_size("0 l"));
  CHECK(!parse_pot_size("-3 l"));
  CHECK(!parse_pot_size("10"));
  CHECK(!parse_pot_size("1e400 l"));
}

}  // namespace wiltline::test
