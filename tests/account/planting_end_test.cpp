// When a planting's days end, and why.
#include "wiltline/account/planting_end.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"

namespace wiltline::test {
namespace {

Planting picked(const std::string& planted, const std::string& ends = "") {
  return one_row("tomato", "nursery 37 l,potting mix,1," + planted + ",patio,daily 07:00", ",ends",
                 "," + ends);
}

PlantingEnd end_of(const Planting& planting, Date planted, bool south = false) {
  return {planting, planted, south, catalogue().parameters, GrowthClock::stage_days};
}

}  // namespace

TEST_CASE("planting's end: the midsummer from which on a frost is autumn's") {
  CHECK(midsummer_of(make_date(2022, 5, 15), false) == make_date(2022, 6, 21));
  CHECK(midsummer_of(make_date(2022, 6, 21), false) == make_date(2022, 6, 21));
  CHECK(midsummer_of(make_date(2022, 8, 20), false) == make_date(2022, 6, 21));
  CHECK(midsummer_of(make_date(2022, 1, 5), false) == make_date(2022, 6, 21));
  CHECK(midsummer_of(make_date(2022, 11, 15), true) == make_date(2022, 12, 21));
  CHECK(midsummer_of(make_date(2023, 2, 1), true) == make_date(2022, 12, 21));
}

TEST_CASE("planting's end: a picked crop ends with the first frost after midsummer") {
  const Planting tomato = picked("2022-04-20");
  const Development growing(tomato.crop, GrowthClock::stage_days);
  const PlantingEnd end = end_of(tomato, make_date(2022, 4, 20));
  CHECK_FALSE(end.on(make_date(2022, 4, 28), -3.0, growing));  // spring frost
  CHECK_FALSE(end.on(make_date(2022, 10, 2), 0.0, growing));   // tender: bears 0
  CHECK(end.on(make_date(2022, 10, 3), -0.1, growing) == EndedBy::frost);
  CHECK(end.latest() == make_date(2023, 4, 19));
  CHECK(end.on(make_date(2023, 4, 19), 5.0, growing) == EndedBy::year);
  // South of the equator June is autumn.
  const PlantingEnd south = end_of(tomato, make_date(2021, 11, 20), true);
  CHECK_FALSE(south.on(make_date(2021, 11, 28), -3.0, growing));
  CHECK(south.on(make_date(2022, 6, 1), -3.0, growing) == EndedBy::frost);
}

TEST_CASE("planting's end: as told, whatever the frost") {
  const Planting told = picked("2022-05-15", "2022-11-30");
  const Development growing(told.crop, GrowthClock::stage_days);
  const PlantingEnd end = end_of(told, make_date(2022, 5, 15));
  CHECK_FALSE(end.on(make_date(2022, 10, 30), -9.0, growing));
  CHECK(end.on(make_date(2022, 11, 30), 5.0, growing) == EndedBy::told);
}

TEST_CASE("planting's end: others go to maturity, through frost") {
  const Planting radish =
      one_row("radish", "window box 10 l,potting mix,8,2022-09-10,patio,daily 07:00");
  const Development growing(radish.crop, GrowthClock::stage_days);
  const PlantingEnd end = end_of(radish, make_date(2022, 9, 10));
  REQUIRE(end.latest().has_value());
  CHECK_FALSE(end.on(*end.latest() - std::chrono::days(1), -9.0, growing));
  CHECK(end.on(*end.latest(), 5.0, growing) == EndedBy::mature);
  CHECK_FALSE(latest_day(radish, make_date(2022, 9, 10), GrowthClock::degree_days).has_value());
}

TEST_CASE("planting's end: a day told, of one year or of every year") {
  const Date planted = make_date(2023, 5, 15);
  Planting planting = picked("2023-05-15");
  const auto last = [&](Date when) {
    return latest_day(planting, when, GrowthClock::stage_days).value();
  };
  planting.ends = MonthDay{9, 30};
  CHECK(last(planted) == make_date(2023, 9, 30));
  planting.ends = MonthDay{2, 29};  // past New Year, in a year that has none
  CHECK(last(make_date(2024, 10, 1)) == make_date(2025, 2, 28));
  planting.ends = MonthDay{5, 15};  // the day of planting itself: a year later
  CHECK(last(planted) == make_date(2024, 5, 15));
  planting.ends = make_date(2023, 1, 1);  // before it was planted: that day alone
  CHECK(last(planted) == planted);
}

}  // namespace wiltline::test
