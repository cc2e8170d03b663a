#include "wiltline/questions/season_periods.hpp"

#include <doctest/doctest.h>

#include <map>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random_garden.hpp"

namespace wiltline::test {

TEST_CASE("season periods: months and ISO 8601 weeks over the turn of the year") {
  const auto week = [](int year, unsigned month, unsigned day) {
    return period_name(PeriodLength::week, make_date(year, month, day));
  };
  // ISO 8601: week 1 holds the year's first Thursday. Days from a calendar.
  CHECK(week(2020, 12, 31) == "2020-W53");
  CHECK(week(2021, 1, 3) == "2020-W53");
  CHECK(week(2021, 1, 4) == "2021-W01");
  CHECK(week(2024, 12, 30) == "2025-W01");
  CHECK(week(2022, 7, 11) == "2022-W28");
  CHECK(period_start(PeriodLength::week, make_date(2022, 7, 17)) == make_date(2022, 7, 11));
  CHECK(period_name(PeriodLength::month, make_date(2022, 7, 17)) == "2022-07");
  CHECK(period_start(PeriodLength::month, make_date(2022, 7, 17)) == make_date(2022, 7, 1));
}

TEST_CASE("season periods: add up to the season by routine and as needed, over random gardens") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  Random random(17);
  for (const PeriodLength length : {PeriodLength::month, PeriodLength::week}) {
    const std::vector<Planting> garden = random_garden(random, catalogue(), 60, "2022-");
    std::map<const Planting*, SeasonPeriod> sums;
    SeasonPeriod whole;
    double watered_l = 0.0;
    int wilting_days = 0;
    for (const SeasonPeriod& period : season_periods(garden, place, length)) {
      SeasonPeriod& sum = period.planting ? sums[period.planting] : whole;
      CHECK((sum.first == Date{} || sum.first < period.first));
      sum.first = period.first;
      sum.asked_waterings += period.asked_waterings;
      sum.given_waterings += period.given_waterings;
      sum.watered_l += period.watered_l;
      sum.used_l += period.used_l;
      sum.stressed_days += period.stressed_days;
      sum.wilting_days += period.wilting_days;
      sum.dry_days += period.dry_days;
    }
    for (const Planting& planting : garden) {
      const Date planted = std::get<Date>(planting.planted);
      const SeasonSummary given = run_season(planting, planted, place).summary;
      Planting asking = planting;
      asking.routine = *parse_routine(planting.routine.soaks ? "as-needed soak" : "as-needed");
      CAPTURE(planting.name);
      const SeasonPeriod& sum = sums.at(&planting);
      CHECK(sum.given_waterings == given.waterings);
      CHECK(sum.asked_waterings == run_season(asking, planted, place).summary.waterings);
      CHECK(near(sum.watered_l, given.watered_l, 1e-9 * (1.0 + given.watered_l)));
      CHECK(near(sum.used_l, given.used_l, 1e-9 * (1.0 + given.used_l)));
      CHECK(sum.stressed_days == given.stressed_days);
      CHECK(sum.wilting_days == given.wilting_days);
      CHECK(sum.dry_days == given.dry_days);
      watered_l += planting.count * given.watered_l;
      wilting_days += planting.count * given.wilting_days;
    }
    CHECK(near(whole.watered_l, watered_l, 1e-9 * watered_l));
    CHECK(whole.wilting_days == wilting_days);
    CHECK(wilting_days > 0);
  }
}

}  // namespace wiltline::test
