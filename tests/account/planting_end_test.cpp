// When a planting's days end, and why.
#include "wiltline/account/planting_end.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/fixtures.hpp"
#include "wiltline/account/course.hpp"
#include "wiltline/budget/place.hpp"

namespace wiltline::test {
namespace {

Planting picked(const std::string& planted, const std::string& ends = "") {
  return one_row("tomato", "nursery 37 l,potting mix,1," + planted + ",patio,daily 07:00", ",ends",
                 "," + ends);
}

PlantingEnd end_of(const Planting& planting, Date planted) {
  return {planting, planting.crop, planted, catalogue().parameters, GrowthClock::stage_days};
}

constexpr double north_deg = 46.0;
constexpr double south_deg = -46.0;

/// A day whose lowest temperature is this.
SpotDay night(Date date, double tmin_c, double latitude_deg = north_deg) {
  SpotDay day;
  day.frost_tmin_c = tmin_c;
  day.days_after_midsummer = days_after_midsummer(date, latitude_deg);
  return day;
}

}  // namespace

TEST_CASE("planting's end: days since midsummer, north and south") {
  CHECK(days_after_midsummer(make_date(2022, 6, 21), north_deg) == 0);
  CHECK(days_after_midsummer(make_date(2022, 6, 20), north_deg) == 364);
  CHECK(days_after_midsummer(make_date(2022, 7, 1), north_deg) == 10);
  CHECK(days_after_midsummer(make_date(2022, 12, 21), south_deg) == 0);
  CHECK(days_after_midsummer(make_date(2023, 1, 1), south_deg) == 11);
}

TEST_CASE("planting's end: which frost is autumn's") {
  const auto ends = [](Date planted, Date frost, double latitude_deg) {
    const Planting tomato = picked(to_string(planted));
    const Development growing(tomato.crop, GrowthClock::stage_days,
                              catalogue().parameters.leaf_curve());
    return end_of(tomato, planted).on(frost, night(frost, -3.0, latitude_deg), growing) ==
           EndedBy::frost;
  };
  CHECK_FALSE(ends(make_date(2022, 5, 1), make_date(2022, 6, 20), north_deg));
  CHECK(ends(make_date(2022, 5, 1), make_date(2022, 6, 21), north_deg));
  CHECK_FALSE(ends(make_date(2022, 1, 5), make_date(2022, 2, 1), north_deg));  // spring is ahead
  CHECK(ends(make_date(2022, 8, 20), make_date(2022, 8, 25), north_deg));
  CHECK(ends(make_date(2022, 8, 20), make_date(2023, 1, 10), north_deg));
  CHECK_FALSE(ends(make_date(2021, 11, 20), make_date(2021, 12, 1), south_deg));
  CHECK(ends(make_date(2021, 11, 20), make_date(2022, 6, 1), south_deg));
}

TEST_CASE("planting's end: glass keeps frost off, a room more than a greenhouse") {
  const Place place(sample("tolvenau.csv"), catalogue().parameters);
  const auto life = [&](const std::string& spot) {
    const Planting tomato =
        one_row("tomato", "nursery 37 l,potting mix,1,05-15," + spot + ",daily 07:00");
    return plan_course(tomato, make_date(2022, 5, 15), place.record(), place.at(tomato.spot),
                       catalogue().parameters, GrowthClock::stage_days);
  };
  const Course outside = life("patio");
  const Course greenhouse = life("greenhouse");
  const Course room = life("indoors by a window");
  CHECK(outside.ended_by == EndedBy::frost);
  CHECK(greenhouse.ended_by == EndedBy::frost);
  CHECK(greenhouse.last() > outside.last());
  CHECK(room.ended_by == EndedBy::year);
  CHECK(std::none_of(room.days.begin(), room.days.end(),
                     [](const CourseDay& day) { return day.comfort.frost; }));
  const double kept_off_c = catalogue().spots.find("greenhouse")->frost_kept_off_c.value;
  const std::size_t last = place.record().index_of(greenhouse.last());
  const double bears_c = catalogue().parameters.frost_tender_c;
  CHECK(place.record().day(last).tmin_c + kept_off_c < bears_c);
  CHECK(place.record().day(place.record().index_of(outside.last())).tmin_c + kept_off_c >= bears_c);
}

TEST_CASE("planting's end: a picked crop ends with the first frost after midsummer") {
  const Planting tomato = picked("2022-04-20");
  const Development growing(tomato.crop, GrowthClock::stage_days,
                            catalogue().parameters.leaf_curve());
  const PlantingEnd end = end_of(tomato, make_date(2022, 4, 20));
  CHECK_FALSE(end.on(make_date(2022, 4, 28), night(make_date(2022, 4, 28), -3.0),
                     growing));  // spring frost
  CHECK_FALSE(end.on(make_date(2022, 10, 2), night(make_date(2022, 10, 2), 0.0),
                     growing));  // tender: bears 0
  CHECK(end.on(make_date(2022, 10, 3), night(make_date(2022, 10, 3), -0.1), growing) ==
        EndedBy::frost);
  CHECK(latest_day(tomato, make_date(2022, 4, 20), GrowthClock::stage_days) ==
        make_date(2023, 4, 19));
  CHECK(end.on(make_date(2023, 4, 19), night(make_date(2023, 4, 19), 5.0), growing) ==
        EndedBy::year);
}

TEST_CASE("planting's end: as told, whatever the frost") {
  const Planting told = picked("2022-05-15", "2022-11-30");
  const Development growing(told.crop, GrowthClock::stage_days,
                            catalogue().parameters.leaf_curve());
  const PlantingEnd end = end_of(told, make_date(2022, 5, 15));
  CHECK_FALSE(end.on(make_date(2022, 10, 30), night(make_date(2022, 10, 30), -9.0), growing));
  CHECK(end.on(make_date(2022, 11, 30), night(make_date(2022, 11, 30), 5.0), growing) ==
        EndedBy::by_garden_row);
}

TEST_CASE("planting's end: others go to maturity, through frost") {
  const Planting radish =
      one_row("radish", "window box 10 l,potting mix,8,2022-09-10,patio,daily 07:00");
  const Development growing(radish.crop, GrowthClock::stage_days,
                            catalogue().parameters.leaf_curve());
  const PlantingEnd end = end_of(radish, make_date(2022, 9, 10));
  const auto latest = latest_day(radish, make_date(2022, 9, 10), GrowthClock::stage_days);
  REQUIRE(latest.has_value());
  CHECK_FALSE(
      end.on(*latest - std::chrono::days(1), night(*latest - std::chrono::days(1), -9.0), growing));
  CHECK(end.on(*latest, night(*latest, 5.0), growing) == EndedBy::mature);
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
