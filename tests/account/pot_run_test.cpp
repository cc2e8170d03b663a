#include "wiltline/account/pot_run.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/account/course.hpp"

namespace wiltline::test {

TEST_CASE("pot run: the days of run_day, one after the other, and the gaps between refills") {
  const ModelParameters& model = catalogue().parameters;
  const Planting planting = one_row(
      "basil", "clay 3 l,potting mix,1,2022-05-25,patio,every 3 days 07:00", ",mulch", ",yes");
  const WeatherRecord record = sample("tolvenau.csv");
  const std::vector<SpotDay> spot =
      spot_days(record, reference_days(record, {}), planting.spot, model);
  const Course course =
      plan_course(planting, make_date(2022, 5, 25), record, spot, model, GrowthClock::stage_days);
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  PotRun run(setting, model);
  CHECK(run.full_size() == (setting.size_factor == 1.0));
  PotState state{.rooted_share = setting.pot.initial_rooted_share};
  double last_refill_days = 0.0;
  double longest_days = 0.0;
  int refills = 0;
  for (std::size_t i = 0; i < course.days.size(); ++i) {
    const CourseDay& today = course.days[i];
    const DayForcing forcing = planting_day(setting, today.crop, today.age_days, model).day;
    const DayResult by_hand = run_day(setting.pot, state, forcing, course.plan(i));
    state = by_hand.state;
    run.run_day(today.crop, today.age_days, course.plan(i), today.spot->curve);
    CHECK(run.result().state == by_hand.state);
    CHECK(run.result().watered_l == by_hand.watered_l);
    CHECK(run.result().drained_l == by_hand.drained_l);
    for (const Refill& refill : by_hand.refills) {
      if (refill.depletion_after_l >= 0.1 * by_hand.taw_l) continue;
      const double at_days = today.age_days + today.spot->curve.hours_at(refill.at) / 24.0;
      longest_days = std::max(longest_days, at_days - last_refill_days);
      last_refill_days = at_days;
      ++refills;
    }
  }
  CHECK(refills > 20);
  const auto days = static_cast<double>(course.days.size());
  CHECK(near(run.longest_gap_days(days), std::max(longest_days, days - last_refill_days), 1e-9));

  // Begun from a state, it goes on from there.
  PotRun resumed(setting, model, state);
  const CourseDay& last = course.days.back();
  resumed.run_day(last.crop, last.age_days, {}, last.spot->curve);
  const DayForcing forcing = planting_day(setting, last.crop, last.age_days, model).day;
  CHECK(resumed.result().state == run_day(setting.pot, state, forcing, {}).state);
}

}  // namespace wiltline::test
