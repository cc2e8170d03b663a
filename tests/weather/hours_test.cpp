// Days of hours: what is summed, what is averaged, what is missing.
#include "wiltline/weather/hours.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

HourlyReadings a_day(int hours) {
  HourlyReadings readings;
  for (int hour = 0; hour < hours; ++hour) {
    WeatherHour one;
    one.begin = {make_date(2024, 6, 1), static_cast<double>(hour)};
    one.temperature_c = 10.0 + (hour == 15 ? 11.0 : hour % 5);
    one.vapour_pressure_kpa = hour < 12 ? 1.0 : 1.4;
    one.wind_m_s = hour < 12 ? 1.0 : 3.0;
    one.solar_mj_m2 = hour >= 6 && hour < 18 ? 2.0 : 0.0;
    one.rain_mm = 0.5;
    readings.hours.push_back(one);
  }
  return readings;
}

}  // namespace

TEST_CASE("a whole day of hours") {
  HourGaps gaps;
  const auto days = days_of(a_day(24), gaps);
  REQUIRE(days.size() == 1);
  REQUIRE(days[0].known);
  CHECK(days[0].day.tmin_c == 10.0);
  CHECK(days[0].day.tmax_c == 21.0);
  CHECK(near(days[0].day.vapour_pressure_kpa.value(), 1.2, 1e-12));
  CHECK(near(days[0].day.wind_m_s.value(), 2.0, 1e-12));
  CHECK(near(days[0].day.solar_mj_m2.value(), 24.0, 1e-12));
  CHECK(near(days[0].day.rain_mm.value(), 12.0, 1e-12));
  CHECK_FALSE(days[0].day.sunshine_h);
  CHECK(gaps.days_short == 0);
}

TEST_CASE("under twenty hours a day is missing, from twenty on it is not") {
  HourGaps gaps;
  CHECK_FALSE(days_of(a_day(19), gaps)[0].known);
  CHECK(gaps.days_missing.size() == 1);
  const auto days = days_of(a_day(20), gaps);
  CHECK(days[0].known);
  CHECK(gaps.days_short == 1);
  CHECK(gaps.rain_hours_unknown == 4);
}

TEST_CASE(
    "a reading that is missing in hours: radiation from around, rain none, and both counted") {
  HourlyReadings readings = a_day(24);
  readings.hours[12].solar_mj_m2.reset();
  readings.hours[13].rain_mm.reset();
  for (int hour = 0; hour < 5; ++hour)
    readings.hours[static_cast<std::size_t>(hour)].wind_m_s.reset();
  HourGaps gaps;
  const auto days = days_of(readings, gaps);
  CHECK(near(days[0].day.solar_mj_m2.value(), 24.0, 1e-12));
  CHECK(gaps.radiation_hours_filled == 1);
  CHECK(near(days[0].day.rain_mm.value(), 11.5, 1e-12));
  CHECK(gaps.rain_hours_unknown == 1);
  CHECK_FALSE(days[0].day.wind_m_s);  // nineteen hours say nothing of a mean
}

TEST_CASE("an hour without a row is a gap too, of radiation and of sunshine") {
  HourlyReadings readings = a_day(24);
  for (WeatherHour& hour : readings.hours) hour.sunshine_h = *hour.solar_mj_m2 / 2.0;
  readings.hours.erase(readings.hours.begin() + 12);
  HourGaps gaps;
  const auto days = days_of(readings, gaps);
  CHECK(near(days[0].day.solar_mj_m2.value(), 24.0, 1e-12));
  CHECK(near(days[0].day.sunshine_h.value(), 12.0, 1e-12));
  CHECK(near(days[0].day.rain_mm.value(), 11.5, 1e-12));
  CHECK(gaps.radiation_hours_filled == 1);
  CHECK(gaps.sunshine_hours_filled == 1);
  CHECK(gaps.rain_hours_unknown == 1);
  CHECK(gaps.days_short == 1);
}

TEST_CASE("an hour of the night, with a row or without, is no gap of radiation") {
  HourlyReadings readings = a_day(24);
  readings.hours.erase(readings.hours.begin() + 22);
  readings.hours[3].solar_mj_m2.reset();
  readings.hours.erase(readings.hours.begin());
  HourGaps gaps;
  CHECK(near(days_of(readings, gaps)[0].day.solar_mj_m2.value(), 24.0, 1e-12));
  CHECK(gaps.radiation_hours_filled == 0);
}

TEST_CASE("the day on which the clock goes forward has twenty-three hours, none of them unknown") {
  const auto gaps_on = [](Date date, std::optional<double> offset_h = {}, double turned_h = 0.0) {
    HourlyReadings readings = a_day(24);
    for (WeatherHour& hour : readings.hours) {
      hour.begin.date = date;
      if (offset_h) hour.utc_offset_h = *offset_h + (hour.begin.hour > 2.0 ? turned_h : 0.0);
    }
    readings.hours.erase(readings.hours.begin() + 2);
    HourGaps gaps;
    CHECK(days_of(readings, gaps)[0].known);
    return gaps;
  };
  const HourGaps sunday = gaps_on(make_date(2014, 3, 30));
  CHECK(sunday.rain_hours_unknown == 0);
  CHECK(sunday.days_short == 0);
  const HourGaps monday = gaps_on(make_date(2014, 3, 31));
  CHECK(monday.rain_hours_unknown == 1);
  CHECK(monday.days_short == 1);
  // A clock whose offset is known says itself whether it turned.
  CHECK(gaps_on(make_date(2014, 3, 30), 1.0).rain_hours_unknown == 1);
  CHECK(gaps_on(make_date(2014, 3, 31), 1.0, 1.0).rain_hours_unknown == 0);
}

TEST_CASE("vapour pressure of an hour by the best that is known") {
  // FAO-56 (1998), Example 19: 38 °C and 52 % make 3.445 kPa.
  CHECK(near(hour_vapour_pressure_kpa(38.0, {}, 52.0, {}).value(), 3.445, 5e-4));
  CHECK(hour_vapour_pressure_kpa(38.0, {}, 52.0, 2.0) == 2.0);
  CHECK(near(hour_vapour_pressure_kpa(38.0, 20.0, 52.0, 2.0).value(), 2.338, 5e-4));  // Table 2.3
  CHECK_FALSE(hour_vapour_pressure_kpa({}, {}, 52.0, {}));
}

}  // namespace wiltline::test
