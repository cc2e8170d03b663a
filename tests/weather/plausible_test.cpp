// Readings of a day that cannot all be true, and those that can: fog, fronts, rounding, bright
// cloud. Limits are judged unless a case says otherwise.
#include "wiltline/weather/plausible.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

/// 10 to 20 °C at 45° north on 1 June: Ra 41.2 MJ/m2, 15.2 h of daylight.
std::string found_on(const std::function<void(WeatherDay&)>& change) {
  WeatherDay day;
  day.tmin_c = 10.0;
  day.tmax_c = 20.0;
  change(day);
  std::string all;
  for (const DayFault& one : contradictions(day, sky_limit(45.0, 152))) {
    all += (all.empty() ? "" : "\n") + one.fault.text();
  }
  return all;
}

WeatherDay& dew(WeatherDay& day, double dew_point_c) {
  day.dew_point_c = dew_point_c;
  return day;
}

std::string read_row(const std::string& columns, const std::string& cells) {
  return refusal([&] {
    (void)read_weather({"w.csv", "# latitude_deg = 45\n# elevation_m = 100\ndate,tmin_c,tmax_c," +
                                     columns + "\n2024-06-01,10,20," + cells + "\n"});
  });
}

}  // namespace

TEST_CASE("a day that contradicts itself") {
  CHECK(found_on([](WeatherDay& day) { day.vapour_pressure_kpa = 12.0; }) ==
        "found vapour pressure 12 kPa; expected at most the 2.34 kPa that air of 20.0 °C can hold "
        "(12 hPa would be 1.2 kPa)");
  CHECK(found_on([](WeatherDay& day) { dew(day, 10.0).vapour_pressure_kpa = 2.0; }) ==
        "found vapour pressure 2 kPa; expected about the 1.23 kPa of the dew point 10.0 °C");
  CHECK(found_on([](WeatherDay& day) {
          day.rh_min_pct = 40.0;
          day.rh_max_pct = 80.0;
          day.rh_mean_pct = 90.0;
        }) == "found mean humidity 90 %; expected no more than the highest, 80 %");
  CHECK(found_on([](WeatherDay& day) {
          day.rh_min_pct = 40.0;
          day.rh_mean_pct = 30.0;
        }) == "found mean humidity 30 %; expected no less than the lowest, 40 %");
  CHECK(
      found_on([](WeatherDay& day) { dew(day, 18.0).rh_max_pct = 50.0; }) ==
      "found a dew point of 18.0 °C; expected one that a highest humidity of 50 % allows: at most "
      "1.17 kPa at 20.0 °C");
  CHECK(
      found_on([](WeatherDay& day) { dew(day, -5.0).rh_min_pct = 60.0; }) ==
      "found a dew point of -5.0 °C; expected one that a lowest humidity of 60 % allows: at least "
      "0.74 kPa at 10.0 °C");
  CHECK(found_on([](WeatherDay& day) { dew(day, 18.0).rh_mean_pct = 40.0; }) ==
        "found a dew point of 18.0 °C; expected one that agrees with a mean humidity of 40 %: it "
        "makes 88 to 100 %");
  CHECK(found_on([](WeatherDay& day) {
          day.solar_mj_m2 = 30.0;
          day.sunshine_h = 0.0;
        }).starts_with("found radiation 30.0 MJ/m2; expected at most 22."));
  CHECK(found_on([](WeatherDay& day) {
          day.solar_mj_m2 = 2.0;
          day.sunshine_h = 15.0;
        }).starts_with("found radiation 2.0 MJ/m2; expected at least 4."));
}

TEST_CASE("what can happen is let pass") {
  const std::vector<std::function<void(WeatherDay&)>> days{
      // Fog all day, read with rounding.
      [](WeatherDay& day) {
        day.rh_min_pct = day.rh_max_pct = day.rh_mean_pct = 100.0;
        day.tmax_c = 10.0;
        day.dew_point_c = 10.4;
      },
      [](WeatherDay& day) { day.vapour_pressure_kpa = 2.39; },
      // A mean that rounds to just outside its extremes.
      [](WeatherDay& day) {
        day.rh_min_pct = 97.0;
        day.rh_max_pct = 98.0;
        day.rh_mean_pct = 99.0;
      },
      // A dew point above the lowest temperature: a warm front in the evening.
      [](WeatherDay& day) {
        dew(day, 14.0).rh_max_pct = 95.0;
        day.rh_min_pct = 70.0;
      },
      // Dry air comes in at noon.
      [](WeatherDay& day) {
        dew(day, 2.0).rh_max_pct = 96.0;
        day.rh_min_pct = 20.0;
        day.rh_mean_pct = 55.0;
      },
      // Bright cloud without an hour of sun; smoke before a sun that shines all day.
      [](WeatherDay& day) {
        day.solar_mj_m2 = 20.0;
        day.sunshine_h = 0.0;
      },
      [](WeatherDay& day) {
        day.solar_mj_m2 = 12.0;
        day.sunshine_h = 14.0;
      }};
  for (std::size_t i = 0; i < days.size(); ++i) {
    CAPTURE(i);
    CHECK(found_on(days[i]).empty());
  }
  // Frost point and dew point differ by some tenth below zero.
  WeatherDay frost;
  frost.tmin_c = -22.0;
  frost.tmax_c = -12.0;
  frost.dew_point_c = -21.0;
  frost.rh_max_pct = 100.0;
  frost.rh_min_pct = 60.0;
  CHECK(contradictions(frost, sky_limit(45.0, 20)).empty());
}

TEST_CASE("a file's contradictions stand at the cell") {
  CHECK(
      read_row("vapour_pressure_kpa", "12") ==
      "w.csv:4:18: found vapour pressure 12 kPa; expected at most the 2.34 kPa that air of 20.0 °C "
      "can hold (12 hPa would be 1.2 kPa)");
  CHECK(read_row("rh_min_pct,rh_mean_pct", "40,30") ==
        "w.csv:4:21: found mean humidity 30 %; expected no less than the lowest, 40 %");
  CHECK(read_row("dewpoint_c", "20.4") == "nothing refused");
  CHECK(read_row("dewpoint_c", "20.6").find("dewpoint_c 20.6 above tmax_c 20") !=
        std::string::npos);
}

TEST_CASE("in memory the same days are refused") {
  WeatherDay day;
  day.tmin_c = 10.0;
  day.tmax_c = 20.0;
  Site site;
  site.latitude_deg = 45.0;
  const auto refused = [&] {
    return refusal(
        [&] { (void)WeatherRecord("made up", site, make_date(2024, 6, 1), {day}, true); });
  };
  CHECK(refused() == "nothing refused");
  day.vapour_pressure_kpa = 12.0;
  CHECK(refused().starts_with(
      "made up: found vapour pressure 12 kPa on 2024-06-01; expected at most"));
  day.vapour_pressure_kpa.reset();
  day.dew_point_c = 21.0;
  CHECK(
      refused() ==
      "made up: found dew point 21 on 2024-06-01; expected at most the highest temperature, 20 °C");
  day.filled = true;  // the temperatures are not the day's own
  CHECK(refused() == "nothing refused");
}

TEST_CASE("invented and observed weather of the project holds no contradiction") {
  for (const char* name :
       {"port-okaree.csv", "skerrowick.csv", "tolvenau.csv", "zarquil-flats.csv"}) {
    CHECK(sample(name).size() > 1000);
  }
  for (const char* name : {"new-york.csv", "seattle.csv"}) CHECK(real(name).size() > 1000);
}

TEST_CASE("a clock hours from its sun") {
  CHECK_FALSE(clock_fault(-113.2, -7.0));
  CHECK_FALSE(clock_fault(73.5, 8.0));     // west China
  CHECK_FALSE(clock_fault(-157.4, 14.0));  // a day on, beside the date line
  CHECK_FALSE(clock_fault(-8.9, 2.0));     // Spain in summer
  CHECK_FALSE(clock_fault(16.8, std::nullopt));
  const auto fault = clock_fault(-74.0, 5.0);
  REQUIRE(fault);
  CHECK(fault->text() ==
        "found utc_offset_h 5 at longitude_deg -74; expected a clock within 4 hours of the sun, "
        "about UTC-5 there (west is negative in both)");
  CHECK(clock_fault(16.8, 9.0));
  CHECK(refusal([] {
          (void)read_weather({"w.csv",
                              "# latitude_deg = 40\n# elevation_m = 1\n# longitude_deg = -74\n"
                              "# utc_offset_h = 5\ndate,tmin_c,tmax_c\n2024-06-01,10,20\n"});
        }).starts_with("w.csv: found utc_offset_h 5 at longitude_deg -74"));
}

TEST_CASE("days that follow a record must be of its place") {
  const auto made = [](double latitude_deg, double wind_height_m, Date first) {
    Site site;
    site.latitude_deg = latitude_deg;
    site.wind_height_m = wind_height_m;
    WeatherDay day;
    day.tmax_c = 20.0;
    day.wind_m_s = 3.0;
    return WeatherRecord("made up", site, first, {day, day}, true);
  };
  const WeatherRecord record = made(45.0, 2.0, make_date(2024, 6, 1));
  const auto then = [&](double latitude_deg, double wind_height_m) {
    return refusal([&] {
      (void)record.followed_by(made(latitude_deg, wind_height_m, make_date(2024, 6, 3)));
    });
  };
  CHECK(then(45.2, 2.0) == "nothing refused");
  CHECK(then(46.0, 2.0) ==
        "made up: found latitude_deg = 46; expected the place of made up, latitude_deg = 45, to "
        "within 0.5");
  CHECK(then(45.0, 10.0).starts_with("made up: found wind_height_m = 10; expected"));
}

TEST_CASE("the same weather twice") {
  const WeatherRecord one = sample("tolvenau.csv");
  const WeatherRecord other = sample("skerrowick.csv");
  CHECK(refusal([&] { refuse_repeated(one, other); }) == "nothing refused");
  CHECK(refusal([&] { refuse_repeated(one, one); }).find("a second time") != std::string::npos);
}

}  // namespace wiltline::test
