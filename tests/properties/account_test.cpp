// What must hold for any garden in any weather. The seed of a case that fails is printed: each case
// starts from its own. Balance and composition of single steps and days stand in tests/budget.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "cli/twin_weather.hpp"
#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random_garden.hpp"
#include "support/random_weather.hpp"
#include "wiltline/account/course.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/log_and_state.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

Site random_site(Random& random) {
  return site_at(random.uniform(-60.0, 60.0), random.uniform(0.0, 2500.0));
}

/// A run's day by its routine, drying in pieces: with a stop at a random moment before and after
/// each visit.
DayResult day_with_stops(Random& random, const PotParameters& pot, const PotState& state,
                         const DayForcing& forcing, const DayPlan& plan) {
  DayInProgress day(pot, state, forcing);
  day.take_rain(plan);
  double from = 0.0;
  for (const Visit& visit : plan.visits) {
    day.dry_until(random.uniform(from, visit.at));
    day.visit(plan, visit);
    from = visit.at;
  }
  day.dry_until(random.uniform(from, 1.0));
  return day.finish();
}

bool at_fixed_visits(const Routine& routine) {
  const DayPlan plan = routine_plan(routine);
  return !plan.as_needed && plan.rule == VisitRule::always;
}

}  // namespace

TEST_CASE("any garden: no part of a pot ever holds less than nothing or more than it can") {
  long days = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const WeatherRecord record =
        random_weather(random, random_site(random), make_date(2022, 3, 1), 300);
    const Place weather(record, model());
    for (const Planting& planting : random_garden(random, catalogue(), 20, "2022-")) {
      CAPTURE(planting.name);
      PlantingRun run(planting, std::get<Date>(planting.planted), model(), GrowthClock::stage_days);
      const PotParameters& pot = run.pot();
      const double driest_l = pot.refilled_l - pot.air_dry_l;
      const double rounding_l = 1e-12 * (pot.refilled_l + pot.surplus_store_l);
      while (run.date() <= record.last() && !run.finished()) {
        const SpotDay& spot = weather.at(planting.spot)[record.index_of(run.date())];
        const DayForcing forcing = run.begin_day(spot);
        std::vector<Visit> visits;
        const DayResult day =
            run_day(pot, run.pot_state(), forcing, run.routine(spot.curve, visits));
        const PotState& end = day.state;
        CAPTURE(to_string(run.date()));
        REQUIRE(end.rooted_depletion_l >= -pot.surplus_store_l - rounding_l);
        REQUIRE(day.highest_depletion_l <= driest_l * end.rooted_share + rounding_l);
        REQUIRE(end.unrooted_depletion_l >= -rounding_l);
        REQUIRE(end.unrooted_depletion_l <= driest_l * (1.0 - end.rooted_share) + rounding_l);
        REQUIRE(end.top_depletion_l >= 0.0);
        REQUIRE(end.top_depletion_l <= pot.total_evaporable_l + rounding_l);
        REQUIRE(end.mulch_water_l >= -rounding_l);
        REQUIRE(end.mulch_water_l <= pot.mulch_store_l + rounding_l);
        REQUIRE(store_l(pot, end) >= pot.air_dry_l - rounding_l);
        // What stands in saucer or reservoir is beside the mix, which is never above saturation.
        REQUIRE(store_l(pot, end) - end.mulch_water_l <=
                pot.refilled_l + pot.surplus_store_l + rounding_l);
        REQUIRE(pot.refilled_l <= pot.saturated_l);
        run.end_day(day, spot);
        ++days;
      }
    }
  }
  CHECK(days > 100000);
}

TEST_CASE("any garden: stopped, written and read on any day, it goes on as the whole to the bit") {
  int stops = 0;
  for (std::uint64_t seed = 101; seed <= 130; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const WeatherRecord record =
        random_weather(random, random_site(random), make_date(2022, 3, 1), 300);
    const Place weather(record, model());
    const GrowthClock growth =
        random.chance(0.5) ? GrowthClock::stage_days : GrowthClock::degree_days;
    const std::vector<Planting> garden = random_garden(random, catalogue(), 10, "2022-");
    for (const Planting& planting : garden) {
      CAPTURE(planting.name);
      const Date planted = std::get<Date>(planting.planted);
      PlantingRun whole(planting, planted, model(), growth);
      PlantingRun stopped = whole;
      while (whole.date() <= record.last() && !whole.finished()) {
        if (random.chance(0.1)) {
          const SavedPlanting saved{.name = planting.name,
                                    .planted = planted,
                                    .growth = growth,
                                    .run = stopped.state(),
                                    .log = {}};
          const std::vector<SavedPlanting> read =
              read_state({"state.csv", state_csv({&saved, 1})}, model(),
                         {garden, growth, record.first(), record.last()});
          REQUIRE(read.size() == 1);
          stopped = PlantingRun(planting, planted, model(), growth);
          stopped.resume(read.front().run);
          ++stops;
        }
        const SpotDay& spot = weather.at(planting.spot)[record.index_of(whole.date())];
        for (PlantingRun* const run : {&whole, &stopped}) {
          const DayForcing forcing = run->begin_day(spot);
          std::vector<Visit> visits;
          const DayPlan plan = run->routine(spot.curve, visits);
          run->end_day(run_day(run->pot(), run->pot_state(), forcing, plan), spot);
        }
        REQUIRE(stopped.state() == whole.state());
      }
    }
  }
  CHECK(stops > 2000);
}

TEST_CASE("any garden: days in pieces, stopped at any hour, are whole days") {
  int compared = 0;
  for (std::uint64_t seed = 201; seed <= 240; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const WeatherRecord record =
        random_weather(random, random_site(random), make_date(2022, 3, 1), 200);
    const Place weather(record, model());
    for (const Planting& planting : random_garden(random, catalogue(), 10, "2022-")) {
      // A check decides by a comparison, which the last bit may tip.
      if (!at_fixed_visits(planting.routine)) continue;
      CAPTURE(planting.name);
      PlantingRun whole(planting, std::get<Date>(planting.planted), model(),
                        GrowthClock::stage_days);
      PlantingRun pieces = whole;
      const double tolerance_l = 1e-12 * whole.pot().refilled_l;
      while (whole.date() <= record.last() && !whole.finished()) {
        const SpotDay& spot = weather.at(planting.spot)[record.index_of(whole.date())];
        const DayForcing forcing = whole.begin_day(spot);
        (void)pieces.begin_day(spot);
        std::vector<Visit> visits;
        const DayPlan plan = whole.routine(spot.curve, visits);
        const DayResult day = run_day(whole.pot(), whole.pot_state(), forcing, plan);
        const DayResult stopped =
            day_with_stops(random, pieces.pot(), pieces.pot_state(), forcing, plan);
        CAPTURE(to_string(whole.date()));
        REQUIRE(near(stopped.state.rooted_depletion_l, day.state.rooted_depletion_l, tolerance_l));
        REQUIRE(
            near(stopped.state.unrooted_depletion_l, day.state.unrooted_depletion_l, tolerance_l));
        REQUIRE(near(stopped.state.top_depletion_l, day.state.top_depletion_l, tolerance_l));
        REQUIRE(near(stopped.drained_l, day.drained_l, tolerance_l));
        whole.end_day(day, spot);
        pieces.end_day(stopped, spot);
        ++compared;
      }
    }
  }
  CHECK(compared > 10000);
}

TEST_CASE("any garden: the order of its rows and the number of threads change nothing") {
  for (std::uint64_t seed = 301; seed <= 308; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const WeatherRecord record =
        random_weather(random, random_site(random), make_date(2022, 3, 1), 300);
    const Place weather(record, model());
    const std::vector<Planting> garden = random_garden(random, catalogue(), 150, "2022-");
    std::vector<SeasonStart> starts;
    for (const Planting& one : garden) starts.push_back({&one, std::get<Date>(one.planted)});
    const auto in_order = run_seasons(starts, weather, {.threads = 1});
    for (std::size_t i = starts.size() - 1; i > 0; --i) {
      std::swap(starts[i], starts[random.below(i + 1)]);
    }
    const auto shuffled = run_seasons(starts, weather, {.threads = 3});
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const auto row = static_cast<std::size_t>(starts[i].planting - garden.data());
      CAPTURE(row);
      REQUIRE(shuffled[i].planting == starts[i].planting);
      REQUIRE(shuffled[i].summary == in_order[row].summary);
    }
  }
}

TEST_CASE("any garden: in US columns it uses the same water") {
  // Both are the same numbers to rounding; a season's sums of some hundred litres pass through some
  // hundred days, so that a bit in the input stays far below a microlitre.
  const TwinWeather twin = twin_summer(44.0, make_date(2022, 4, 1), 200);
  const WeatherRecord metric_record = read_weather({"metric.csv", twin.metric}, {});
  const WeatherRecord us_record = read_weather({"us.csv", twin.us}, {});
  const Place metric_weather(metric_record, model());
  const Place us_weather(us_record, model());
  const std::string common = "name,crop,pot,mix,plants,planted,spot,routine,";
  std::string metric =
      common + "volume_l,height_cm,headspace_cm,saucer_l,canopy_diameter_m,root_ball_l\n";
  std::string us =
      common + "volume_gal,height_in,headspace_in,saucer_gal,canopy_diameter_ft,root_ball_gal\n";
  Random random(401);
  constexpr const char* routines[] = {"daily 07:00", "every 3 days 18:30", "as-needed",
                                      "check daily 07:00"};
  for (int i = 0; i < 60; ++i) {
    const std::string row = fmt::format("{},tomato,nursery 37 l,{},{},2022-05-15,patio,{},", i,
                                        random.chance(0.5) ? "potting mix" : "coir mix",
                                        1 + random.below(3), routines[random.below(4)]);
    // A volume scales the named pot; dimensions are the other way of stating it.
    const bool by_volume = random.chance(0.5);
    const double volume_l = random.uniform(15.0, 60.0);
    const double height_cm = random.uniform(20.0, 50.0);
    const double headspace_cm = random.uniform(1.0, 5.0);
    const double saucer_l = random.uniform(0.1, 2.0);
    const double canopy_m = random.uniform(0.4, 1.2);
    const double ball_l = random.uniform(0.1, 3.0);
    const auto size = [&](double litres, double centimetres) {
      return by_volume ? fmt::format("{},,", volume_l / litres)
                       : fmt::format(",{},{}", height_cm / centimetres, headspace_cm / centimetres);
    };
    metric += fmt::format("{}{},{},{},{}\n", row, size(1.0, 1.0), saucer_l, canopy_m, ball_l);
    us += fmt::format("{}{},{},{},{}\n", row, size(3.785411784, 2.54), saucer_l / 3.785411784,
                      canopy_m / 0.3048, ball_l / 3.785411784);
  }
  const std::vector<Planting> metric_garden = read_garden({"metric.csv", metric}, catalogue());
  const std::vector<Planting> us_garden = read_garden({"us.csv", us}, catalogue());
  REQUIRE(us_garden.size() == 60);
  for (std::size_t i = 0; i < us_garden.size(); ++i) {
    CAPTURE(i);
    const Date planted = make_date(2022, 5, 15);
    const SeasonSummary a = run_season(metric_garden[i], planted, metric_weather, {}).summary;
    const SeasonSummary b = run_season(us_garden[i], planted, us_weather, {}).summary;
    CHECK(a.watered_l > 0.0);
    CHECK(near(b.mix_l, a.mix_l, 1e-12 * a.mix_l));
    CHECK(near(b.watered_l, a.watered_l, 1e-6));
    CHECK(near(b.used_l, a.used_l, 1e-6));
    CHECK(near(b.drained_l, a.drained_l, 1e-6));
    CHECK(b.waterings == a.waterings);
    CHECK(b.stressed_days == a.stressed_days);
  }
}

}  // namespace wiltline::test
