#include "wiltline/account/planting_run.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

const Date planted = make_date(2022, 5, 15);

/// Days on which a run says feed is due, counted from planting, and by the schedule worked out
/// beside it from what drained the day before.
struct Feeds {
  std::vector<int> of_run;
  std::vector<int> by_hand;
};

Feeds feeds(const Planting& planting, const ModelParameters& model) {
  const WeatherRecord record = sample("tolvenau.csv");
  const std::vector<SpotDay> spot =
      spot_days(record, reference_days(record, {}), planting.spot, model);
  PlantingRun run(planting, planted, model, GrowthClock::stage_days);
  Development development(planting.crop, GrowthClock::stage_days, model.leaf_curve(),
                          crop_setting(planting, model).first_leaf_share);
  Feeds result;
  Feeding feeding;
  double drained_l = 0.0;
  std::vector<Visit> visits;
  for (int age = 0; age < 100; ++age) {
    const SpotDay& today = spot[record.index_of(run.date())];
    const Fed fed =
        feed(feeding, model, run.pot().mix_l, age, development.leaf_area_share(), drained_l);
    feeding = fed.after;
    if (fed.due > 0.5) result.by_hand.push_back(age);
    const DayForcing forcing = run.begin_day(today);
    if (run.feed_due()) result.of_run.push_back(age);
    const DayResult day =
        run_day(run.pot(), run.pot_state(), forcing, run.routine(today.curve, visits));
    drained_l = day.drained_l;
    run.end_day(day, today);
    development.next_day(today.mean_temperature_c);
  }
  return result;
}

}  // namespace

TEST_CASE("planting run: feed is due by the schedule, sooner where much water drains") {
  const Planting planting =
      one_row("tomato", "nursery 11 l,potting mix,1,2022-05-15,patio,daily 07:00 give 5 l");
  ModelParameters model = catalogue().parameters;
  const Feeds leached = feeds(planting, model);
  CHECK(leached.of_run == leached.by_hand);
  model.feed_leached_mixes = 1e9;
  const Feeds not_leached = feeds(planting, model);
  CHECK(not_leached.of_run == not_leached.by_hand);
  CHECK(leached.of_run.size() > not_leached.of_run.size());
}

TEST_CASE(
    "planting run: begins refilled and rooted as planted, and stands a day further each day") {
  const Planting planting = one_row(
      "tomato", "nursery 11 l,potting mix,1,2022-05-15,patio,daily 07:00", ",mulch", ",yes");
  const ModelParameters& model = catalogue().parameters;
  PlantingRun run(planting, planted, model, GrowthClock::stage_days);
  CHECK(run.date() == planted);
  CHECK(run.pot_state().rooted_depletion_l == 0.0);
  CHECK(run.pot_state().mulch_water_l == 0.0);
  CHECK(run.pot_state().rooted_share == build_pot(planting, model).initial_rooted_share);
  const WeatherRecord record = sample("tolvenau.csv");
  const std::vector<SpotDay> spot =
      spot_days(record, reference_days(record, {}), planting.spot, model);
  const SpotDay& today = spot[record.index_of(planted)];
  const DayForcing forcing = run.begin_day(today);
  CHECK_FALSE(forcing.roots_grow);
  DayResult day = run_day(run.pot(), run.pot_state(), forcing, {});
  day.drained_l = 0.25;
  run.end_day(day, today);
  CHECK(run.date() == planted + std::chrono::days(1));
  CHECK(run.state().drained_yesterday_l == 0.25);
  CHECK(run.state().pot == day.state);
  CHECK(run.state().development.grown == 1.0);
}

TEST_CASE("planting run: finished when its last day is over, of its stages or as told") {
  Planting planting = one_row("radish", "nursery 4.5 l,potting mix,1,2022-05-15,patio,daily 07:00");
  const ModelParameters& model = catalogue().parameters;
  const SpotDay today;
  const auto days_until_finished = [&] {
    PlantingRun run(planting, planted, model, GrowthClock::stage_days);
    int days = 0;
    for (; !run.finished() && days < 500; ++days) {
      (void)run.begin_day(today);
      run.end_day({}, today);
    }
    return days;
  };
  CHECK(days_until_finished() == std::lround(planting.crop.season_days()));
  planting.ends = make_date(2023, 1, 1);
  CHECK(days_until_finished() == (make_date(2023, 1, 1) - planted).count() + 1);
}

}  // namespace wiltline::test
