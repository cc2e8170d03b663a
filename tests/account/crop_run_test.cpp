#include "wiltline/account/crop_run.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"
#include "wiltline/account/course.hpp"

namespace wiltline::test {

TEST_CASE("crop run: cut back on its day, grown, stopped and gone on with") {
  const WeatherRecord record = sample("tolvenau.csv");
  const ModelParameters& model = catalogue().parameters;
  const Planting planting = one_row(
      "tomato", "nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00", ",pruned", ",08-01");
  const Date planted = make_date(2022, 5, 15);
  const std::vector<SpotDay> spot =
      spot_days(record, reference_days(record, {}), planting.spot, model);
  CropRun run(planting, planted, model, GrowthClock::stage_days);
  Development by_hand(planting.crop, GrowthClock::stage_days, model.leaf_curve(),
                      crop_setting(planting, model).first_leaf_share);
  CropRun gone_on = run;
  while (run.date() <= make_date(2022, 8, 10)) {
    const SpotDay& day = spot[record.index_of(run.date())];
    if (run.date() == make_date(2022, 8, 1)) {
      const double before = by_hand.leaf_area_share();
      by_hand.prune(model.pruned_leaf_share);
      CHECK(by_hand.leaf_area_share() < before);
    }
    const CropDay crop = run.begin_day(day, model);
    CHECK(crop.leaf_share ==
          crop_day(crop_setting(planting, model), day, by_hand, model).leaf_share);
    CHECK(run.development().state() == by_hand.state());
    CHECK(run.age_days() == static_cast<double>((run.date() - planted).count()));
    if (run.date() == make_date(2022, 7, 1)) {
      gone_on.resume(run.date(), run.states());
    }
    if (run.date() >= make_date(2022, 7, 1)) {
      CHECK(gone_on.begin_day(day, model).leaf_share == crop.leaf_share);
      gone_on.end_day(day);
    }
    run.end_day(day);
    by_hand.next_day(day.mean_temperature_c);
  }
  CHECK(gone_on.date() == run.date());
  CHECK(gone_on.development().state() == run.development().state());
}

TEST_CASE("crop run: finished with its last stage, unless it has an end of its own") {
  const ModelParameters& model = catalogue().parameters;
  const std::string row = "nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00";
  const Planting open = one_row("bush bean", row);
  const Planting ends = one_row("bush bean", row, ",ends", ",2022-12-01");
  CropRun first(open, make_date(2022, 5, 15), model, GrowthClock::stage_days);
  CropRun second(ends, make_date(2022, 5, 15), model, GrowthClock::stage_days);
  SpotDay day;
  day.mean_temperature_c = 20.0;
  int days = 0;
  for (; !first.finished() && days < 400; ++days) {
    first.end_day(day);
    second.end_day(day);
  }
  CHECK(days < 400);
  CHECK(first.ended_by() == EndedBy::mature);
  second.end_day(day);  // past the last stage by its growth too
  CHECK(second.development().finished());
  CHECK_FALSE(second.finished());
}

}  // namespace wiltline::test
