// A record made in memory: what it refuses, and dates outside it.
#include "wiltline/weather/weather_record.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <limits>
#include <string>

#include "support/refusal.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

Site site_at(double latitude_deg) {
  Site site;
  site.latitude_deg = latitude_deg;
  site.elevation_m = 210.0;
  return site;
}

const Site north = site_at(44.2);

WeatherDay mild() {
  WeatherDay day;
  day.tmin_c = 8.0;
  day.tmax_c = 21.0;
  day.solar_mj_m2 = 20.0;
  day.rain_mm = 0.0;
  return day;
}

/// Three days from 1 June 2024 on, the second as given.
WeatherRecord three_days(const WeatherDay& second, const Site& site = north) {
  return {"made up", site, make_date(2024, 6, 1), {mild(), second, mild()}, true};
}

template <typename Change>
std::string refused(const Change& change) {
  WeatherDay day = mild();
  change(day);
  return refusal([&] { (void)three_days(day); });
}

}  // namespace

TEST_CASE("weather record: what a file is refused for, a record in memory is refused for") {
  CHECK(refused([](WeatherDay&) {}) == "nothing refused");
  CHECK(refused([](WeatherDay& day) { day.tmin_c = 25.0; }) ==
        "made up: found tmax 21 on 2024-06-02; expected a temperature in °C at or above tmin");
  CHECK(refused([](WeatherDay& day) { day.tmax_c = std::numeric_limits<double>::quiet_NaN(); }) ==
        "made up: found tmax nan on 2024-06-02; expected a temperature in °C at or above tmin");
  CHECK(refused([](WeatherDay& day) { day.rain_mm = -1.0; }) ==
        "made up: found rain -1 on 2024-06-02; expected 0 to 2000 mm");
  CHECK(refused([](WeatherDay& day) { day.wind_m_s = -0.5; }) ==
        "made up: found wind -0.5 on 2024-06-02; expected 0 to 250 m/s");
  CHECK(refused([](WeatherDay& day) { day.rh_mean_pct = 101.0; }) ==
        "made up: found mean humidity 101 on 2024-06-02; expected 0 to 100 %");
  CHECK(refused([](WeatherDay& day) { day.solar_mj_m2 = 41.5; }) ==
        "made up: found radiation 41.5 on 2024-06-02; expected at most the extraterrestrial 41.3 "
        "MJ/m2 of that day and latitude");
  CHECK(refused([](WeatherDay& day) { day.sunshine_h = 15.8; }) ==
        "made up: found sunshine 15.8 on 2024-06-02; expected at most the 15.1 daylight hours of "
        "that day and latitude");
  CHECK(refusal([] { (void)three_days(mild(), site_at(95.0)); }) ==
        "made up: found latitude_deg 95; expected -90 to 90");
  CHECK(refusal([] { (void)WeatherRecord("made up", north, make_date(2024, 6, 1), {}, true); }) ==
        "made up: found no days; expected one at least");
}

TEST_CASE("weather record: a date outside it is refused, not counted on") {
  const WeatherRecord record = three_days(mild());
  CHECK(record.index_of(make_date(2024, 6, 3)) == 2);
  for (const Date date : {make_date(2024, 5, 31), make_date(2024, 6, 4)}) {
    const std::string expected = "request: made up: found " + to_string(date) +
                                 "; expected a day of the record, 2024-06-01 to 2024-06-03";
    CHECK(refusal([&] { (void)record.index_of(date); }) == expected);
    CHECK(refusal([&] { (void)record.between(date, date); }) == expected);
  }
  CHECK(refusal([&] { (void)record.between(make_date(2024, 6, 3), make_date(2024, 6, 1)); }) ==
        "request: made up: found 2024-06-03 to 2024-06-01; expected days in order");
  CHECK(record.between(make_date(2024, 6, 2), make_date(2024, 6, 3)).size() == 2);
}

TEST_CASE("weather record: another joins on only without a gap") {
  const WeatherRecord record = three_days(mild());
  const auto from = [](Date first) {
    return WeatherRecord("next", north, first, {mild(), mild()}, true);
  };
  CHECK(record.followed_by(from(make_date(2024, 6, 3))).size() == 4);
  CHECK(record.followed_by(from(make_date(2024, 6, 4))).size() == 5);
  CHECK(refusal([&] { (void)record.followed_by(from(make_date(2024, 6, 5))); }) ==
        "request: next: found 2024-06-05 as its first day; expected at the latest the day after "
        "2024-06-03, on which made up ends");
}

TEST_CASE("weather record: a day that was filled in is held to the sky's limits, too") {
  WeatherDay bright = mild();
  bright.filled = true;
  bright.solar_mj_m2 = 60.0;
  CHECK(refusal([&] { (void)three_days(bright); }).find("radiation 60") != std::string::npos);
  bright.solar_mj_m2.reset();
  bright.sunshine_h = 23.9;
  CHECK(refusal([&] { (void)three_days(bright); }).find("sunshine 23.9") != std::string::npos);
  WeatherDay stormy = mild();
  stormy.rain_mm = 5000.0;
  CHECK(refusal([&] { (void)three_days(stormy); }).find("rain 5000") != std::string::npos);
}

TEST_CASE("weather record: radiation of a gap that is filled stays below the sky of its day") {
  // Poleward of 60 degrees in February days lengthen so fast that a straight line between two clear
  // days lies above the days between.
  std::string text = "# latitude_deg = 66\n# elevation_m = 10\ndate,tmin_c,tmax_c,solar_mj_m2\n";
  const Date first = make_date(2023, 1, 10);
  SkyLimits skies(66.0);
  for (const int day : {0, 8}) {
    const Date date = first + std::chrono::days(day);
    text += to_string(date) + ",-5,0," + shortest(skies.on(date).radiation_mj_m2) + "\n";
  }
  WeatherReading how;
  how.longest_gap_filled_days = 7;
  const WeatherRecord record = read_weather({"gap.csv", text}, how);
  REQUIRE(record.size() == 9);
  for (std::size_t i = 0; i < record.size(); ++i) {
    CHECK(skies.on(record.date(i)).allows_radiation(*record.day(i).solar_mj_m2));
  }
}

}  // namespace wiltline::test
