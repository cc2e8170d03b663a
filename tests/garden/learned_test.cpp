// What was learned of a pot: columns of a garden, and that every way to run a pot acts on them.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/budget/pot_parameters.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {
namespace {

Planting pot(const std::string& header = "", const std::string& cells = "",
             const std::string& plants = "1") {
  return one_row("tomato", "clay 16 l,potting mix," + plants + ",05-15,patio,daily 07:00", header,
                 cells);
}

const Place& tolvenau() {
  static const Place place(sample("tolvenau.csv"), catalogue().parameters);
  return place;
}

/// All litres of a season, taken in lanes and alone with a ledger: both must agree.
double watered_l(const Planting& planting) {
  const std::vector<Planting> garden{planting};
  SeasonOptions alone;
  alone.ledger = true;
  const double together = season(garden, tolvenau(), {}).front().summary.watered_l;
  CHECK(season(garden, tolvenau(), alone).front().summary.watered_l == together);
  return together;
}

double used_l(const Planting& planting) {
  const std::vector<Planting> garden{planting};
  return season(garden, tolvenau(), {}).front().summary.used_l;
}

std::string refused(const std::string& column, const std::string& value) {
  return refusal([&] { (void)pot("," + column, "," + value); });
}

}  // namespace

TEST_CASE("learned: columns of a garden, in both systems of units") {
  const Learned learned =
      pot(",use_factor,use_factor_sd,usable_l,usable_sd_l,wall_factor", ",1.3,0.1,4,0.2,0.8")
          .learned;
  CHECK(learned.use_factor == 1.3);
  CHECK(learned.use_factor_sd == 0.1);
  CHECK(learned.usable_l == 4.0);
  CHECK(learned.usable_sd_l == 0.2);
  CHECK(learned.wall_factor == 0.8);
  CHECK(near(*pot(",usable_gal", ",1").learned.usable_l, 3.785411784, 1e-12));
  CHECK(pot(",use_factor,usable_l", ",,").learned == Learned{});
}

TEST_CASE("learned: a factor of 1 and nothing learned change no bit") {
  for (const std::string plants : {"1", "2"}) {
    const double usual = watered_l(pot("", "", plants));
    CHECK(watered_l(pot(",use_factor,wall_factor", ",1,1", plants)) == usual);
  }
}

TEST_CASE("learned: plants use more, a wall loses less") {
  for (const std::string plants : {"1", "2"}) {
    const double more = watered_l(pot(",use_factor", ",1.3", plants));
    CHECK(more > watered_l(pot("", "", plants)));
  }
  // Watered as often as it asks, what a plant uses goes up in proportion.
  const auto always = [](const std::string& factor) {
    return used_l(one_row("tomato", "nursery 37 l,potting mix,1,05-15,patio,as-needed",
                          ",use_factor", "," + factor));
  };
  const double step = always("1.3") - always("1");
  CHECK(step > 0.15 * always("1"));
  CHECK(near((always("1.6") - always("1.3")) / step, 1.0, 0.03));
  CHECK(watered_l(pot(",wall_factor", ",0.5")) < watered_l(pot()));
}

TEST_CASE("learned: usable water is what the pot has between refilled and the lower limit") {
  const Planting usual = pot();
  const PotParameters by_tables = build_pot(usual, catalogue().parameters);
  const PotParameters learned = build_pot(pot(",usable_l", ",2.5"), catalogue().parameters);
  CHECK(near(learned.total_available_l, 2.5, 1e-12));
  CHECK(learned.lower_limit_l == by_tables.lower_limit_l);
  CHECK(near(learned.saturated_l - learned.refilled_l, by_tables.saturated_l - by_tables.refilled_l,
             1e-12));
}

TEST_CASE("learned: bad values are refused in place") {
  CHECK(refused("use_factor", "0") ==
        "garden.csv:2:59: found 0 in use_factor; expected 0.05 to 20");
  CHECK(refused("use_factor", "30") ==
        "garden.csv:2:59: found 30 in use_factor; expected 0.05 to 20");
  CHECK(refused("use_factor_sd", "-1") ==
        "garden.csv:2:59: found -1 in use_factor_sd; expected 0 to 20");
  CHECK(refused("use_usable_correlation", "1") ==
        "garden.csv:2:59: found 1 in use_usable_correlation; expected -0.999 to 0.999");
  CHECK(refused("calibrated_until", "2024-07-09") ==
        "garden.csv:2:59: found \"2024-07-09\"; expected a date and hour that exist, as 2024-05-31 "
        "18:30");
  CHECK(refused("usable_l", "0") ==
        "garden.csv:2:59: found 0 in usable_l; expected 0.001 to 5000 litres");
  CHECK(refused("usable_l", "15.9")
            .starts_with("garden.csv:2:59: found 15.9 usable litres; expected at most "));
  Planting one = pot();
  one.learned.usable_l = 100.0;
  CHECK(refusal([&] {
          (void)build_pot(one, catalogue().parameters);
        }).starts_with("request: it: found 100 l of usable water; expected above 0 and up to "));
}

TEST_CASE("learned: a plant put into another pot keeps its use alone") {
  const Planting one = pot(",use_factor,usable_l,wall_factor", ",1.3,3,0.8");
  Choices choices;
  choices.pots = {*catalogue().pots.find("nursery 37 l")};
  const Planting other = crossed({&one, 1}, choices).front();
  CHECK(other.learned.use_factor == 1.3);
  CHECK_FALSE(other.learned.usable_l);
  CHECK(other.learned.wall_factor == 1.0);
  CHECK(crossed({&one, 1}, {}).front().learned == one.learned);
}

TEST_CASE("learned: draws are of what is still unsure, and not of what it stands for") {
  const Planting one = pot(",use_factor,use_factor_sd,usable_l,usable_sd_l", ",1.3,0.13,3,0.15");
  double logs = 0.0;
  double squares = 0.0;
  constexpr int draws = 256;
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden drawn =
        draw_garden({&one, 1}, catalogue().parameters, catalogue(), 1, number);
    const Planting& as_drawn = drawn.plantings.front();
    CHECK(as_drawn.crop.leaf_area_m2.value == one.crop.leaf_area_m2.value);
    CHECK(as_drawn.pot.mix_l() == one.pot.mix_l());
    CHECK(as_drawn.spot.advection.value == one.spot.advection.value);
    const double log = std::log(as_drawn.learned.use_factor / 1.3);
    logs += log / draws;
    squares += log * log / draws;
  }
  CHECK(near(logs, 0.0, 0.005));
  CHECK(near(std::sqrt(squares), 0.1, 0.005));
}

TEST_CASE("learned: draws keep the correlation of use and usable water") {
  const auto products = [](const std::string& correlation) {
    const Planting one =
        pot(",use_factor,use_factor_sd,usable_l,usable_sd_l,use_usable_correlation",
            ",1.3,0.13,3,0.15," + correlation);
    double sum = 0.0;
    double usable_squares = 0.0;
    constexpr int draws = 256;
    for (std::uint64_t number = 0; number < draws; ++number) {
      const Learned drawn = draw_garden({&one, 1}, catalogue().parameters, catalogue(), 1, number)
                                .plantings.front()
                                .learned;
      const double usable = std::log(*drawn.usable_l / 3.0) / 0.05;
      sum += std::log(drawn.use_factor / 1.3) / 0.1 * usable / draws;
      usable_squares += usable * usable / draws;
    }
    CHECK(near(usable_squares, 1.0, 0.06));
    return sum;
  };
  CHECK(near(products("-0.6"), -0.6, 0.06));
  CHECK(near(products("0.3"), 0.3, 0.06));
  CHECK(near(products(""), 0.0, 0.06));
}

TEST_CASE("learned: no draw holds more usable water than its mix has room for") {
  const Planting planting = pot();
  const double room_l =
      held_water(planting.pot, planting.mix, catalogue().parameters.refill_share).room_l();
  const std::string nearly_all = std::to_string(0.999 * room_l);
  const Planting one = pot(",usable_l,usable_sd_l", "," + nearly_all + ",0.5");
  for (std::uint64_t number = 0; number < 64; ++number) {
    const DrawnGarden drawn =
        draw_garden({&one, 1}, catalogue().parameters, catalogue(), 1, number);
    CHECK_NOTHROW((void)build_pot(drawn.plantings.front(), drawn.model));
  }
}

}  // namespace wiltline::test
