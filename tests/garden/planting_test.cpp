#include "wiltline/garden/planting.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/garden/model_checks.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

struct Change {
  std::string expected;  // part of the message
  std::function<void(Planting&)> make;
};

const std::vector<Change>& wrong_changes() {
  static const std::vector<Change> changes{
      {"plants 0; expected 1 to 1000", [](Planting& p) { p.plants = 0; }},
      {"plants -3", [](Planting& p) { p.plants = -3; }},
      {"count -3", [](Planting& p) { p.count = -3; }},
      {"saucer_l nan", [](Planting& p) { p.saucer_l = nan; }},
      {"saucer_l -5", [](Planting& p) { p.saucer_l = -5.0; }},
      {"threshold_fraction 7", [](Planting& p) { p.threshold_fraction = 7.0; }},
      {"tare_kg -1", [](Planting& p) { p.tare_kg = -1.0; }},
      {"sky_view nan", [](Planting& p) { p.spot.sky_view = Ranged::exactly(nan); }},
      {"sky_view -1", [](Planting& p) { p.spot.sky_view = Ranged::exactly(-1.0); }},
      {"wind_share nan", [](Planting& p) { p.spot.wind_share = Ranged::exactly(nan); }},
      {"shade_cloth 2", [](Planting& p) { p.spot.shade_cloth = 2.0; }},
      {"sun that ends before it begins",
       [](Planting& p) { p.spot.sun_to_h = -0.0, p.spot.sun_from_h = 9.0; }},
      {"learned", [](Planting& p) { p.learned.use_factor = -2.0; }},
      {"use_usable_correlation 3", [](Planting& p) { p.learned.use_usable_correlation = 3.0; }},
      {"100 cm headspace", [](Planting& p) { p.pot.headspace_cm = 100.0; }},
      {"drained from 90 cm on", [](Planting& p) { p.pot.drain_level_cm = 90.0; }},
      {"evaporation_share -1",
       [](Planting& p) { p.pot.wall.evaporation_share = Ranged::exactly(-1.0); }},
      {"every 0 days", [](Planting& p) { p.routine.every_n_days = 0; }},
      {"a visit at nan h", [](Planting& p) { p.routine.visit_hours = {nan}; }},
      {"a visit at 25 h", [](Planting& p) { p.routine.visit_hours = {25.0}; }},
      {"a visit at 7 h",
       [](Planting& p) {
         p.routine.visit_hours = {19.0, 7.0};
       }},
      {"give 0 l", [](Planting& p) { p.routine.give_l = 0.0; }},
      {"month 13 and day 45",
       [](Planting& p) {
         p.planted = MonthDay{13, 45};
       }},
      {"month 2 and day 30",
       [](Planting& p) {
         p.ends = MonthDay{2, 30};
       }},
      {"month 0 and day 1",
       [](Planting& p) {
         p.pruned = {MonthDay{0, 1}};
       }},
      {"kcb_mid nan", [](Planting& p) { p.crop.kcb_mid = nan; }},
      {"leaf_area_m2 0", [](Planting& p) { p.crop.leaf_area_m2 = Ranged::exactly(0.0); }},
  };
  return changes;
}

}  // namespace

TEST_CASE("planting: what read_garden refuses in a row is refused of one made in memory") {
  const Planting sound = one_row("tomato", "nursery 37 l,potting mix,1,05-15,patio,daily 07:00");
  CHECK_NOTHROW(check_planting(sound));
  const Place place(sample("tolvenau.csv"), catalogue().parameters);
  for (const Change& change : wrong_changes()) {
    CAPTURE(change.expected);
    Planting planting = sound;
    change.make(planting);
    CHECK_THROWS_WITH_AS(check_planting(planting), doctest::Contains(change.expected.c_str()),
                         RequestError);
    CHECK_THROWS_AS((void)season(planting, place), RequestError);
  }
}

TEST_CASE("planting: all that the tables have in them passes") {
  const Planting base = one_row("basil", "nursery 37 l,potting mix,1,05-15,patio,daily 07:00");
  for (const auto& crop : catalogue().crops.entries()) {
    Planting planting = base;
    planting.crop = crop.value;
    CHECK_NOTHROW(check_planting(planting));
  }
  for (const auto& pot : catalogue().pots.entries()) {
    Planting planting = base;
    planting.pot = pot.value;
    CHECK_NOTHROW(check_planting(planting));
  }
  for (const auto& spot : catalogue().spots.entries()) {
    Planting planting = base;
    planting.spot = spot.value;
    CHECK_NOTHROW(check_planting(planting));
  }
  CHECK_NOTHROW(check_model(catalogue().parameters));
}

TEST_CASE("planting: a canopy beyond what a crop's table could hold is refused in its column") {
  try {
    (void)one_row("tomato dwarf", "nursery 37 l,potting mix,1,05-15,patio,daily 07:00",
                  ",canopy_diameter_m", ",10");
    FAIL("nothing refused");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 1);
    CHECK(error.problems().front().text().find("leaf_area_m2") != std::string::npos);
  }
}

TEST_CASE("planting: what was learned too loosely to be drawn from is refused in its column") {
  const auto refused = [](const std::string& header, const std::string& cells) {
    try {
      (void)one_row("basil", "nursery 37 l,potting mix,1,05-15,patio,daily 07:00", header, cells);
    } catch (const InputError& error) {
      return error.problems().front().text();
    }
    return std::string();
  };
  CHECK(refused(",use_factor,use_factor_sd", ",0.05,20").find("at most 5 times") !=
        std::string::npos);
  CHECK(refused(",usable_l,usable_sd_l", ",0.1,20").find("at most 5 times") != std::string::npos);
  CHECK(refused(",usable_gal,usable_sd_gal", ",0.1,20").find("at most 5 times") !=
        std::string::npos);
  CHECK(refused(",use_factor,use_factor_sd", ",1,0.3").empty());
}

}  // namespace wiltline::test
