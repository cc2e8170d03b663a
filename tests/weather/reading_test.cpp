// A weather file: every check with its whole message, units, gaps that are filled on request.
#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "support/near.hpp"
#include "support/random.hpp"
#include "support/refusal.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

const std::string site_lines = "# latitude_deg = 44.2\n# elevation_m = 210\n# wind_height_m = 2\n";

WeatherRecord read(const std::string& rows, const WeatherReading& how = {}) {
  return read_weather({"w.csv", site_lines + rows}, how);
}

/// The message for rows below the three lines of the site: the header stands on line 4.
std::string refused(const std::string& rows, const WeatherReading& how = {}) {
  return refusal([&] { (void)read(rows, how); });
}

/// The message for one row, the fifth line, under a header that starts date,tmin_c,tmax_c.
std::string refused_row(const std::string& more_columns, const std::string& row,
                        const WeatherReading& how = {}) {
  return refused("date,tmin_c,tmax_c" + more_columns + "\n" + row + "\n", how);
}

WeatherReading filling(int days) {
  WeatherReading how;
  how.longest_gap_filled_days = days;
  return how;
}

const std::string no_fault = "nothing refused";

}  // namespace

TEST_CASE("weather: every column lands in its place") {
  const WeatherRecord record = read(
      "date,tmin_c,tmax_c,dewpoint_c,vapour_pressure_kpa,rh_max_pct,rh_min_pct,rh_mean_pct,wind_m_"
      "s,"
      "solar_mj_m2,sunshine_h,rain_mm,notes\n"
      "2024-06-01,8.5,21,7,1.1,95,40,65,2.5,22.1,9.5,0,dry\n"
      "2024-06-02,9,19,,,,,,,,,12.5,\n");
  CHECK(record.name() == "w.csv");
  CHECK(record.site().latitude_deg == 44.2);
  CHECK(record.site().elevation_m == 210.0);
  CHECK(record.site().wind_height_m == 2.0);
  CHECK(record.rain_observed());
  REQUIRE(record.size() == 2);
  CHECK(record.first() == make_date(2024, 6, 1));
  CHECK(record.last() == make_date(2024, 6, 2));
  const WeatherDay& day = record.day(0);
  CHECK(day.tmin_c == 8.5);
  CHECK(day.tmax_c == 21.0);
  CHECK(day.dew_point_c == 7.0);
  CHECK(day.vapour_pressure_kpa == 1.1);
  CHECK(day.rh_max_pct == 95.0);
  CHECK(day.rh_min_pct == 40.0);
  CHECK(day.rh_mean_pct == 65.0);
  CHECK(day.wind_m_s == 2.5);
  CHECK(day.solar_mj_m2 == 22.1);
  CHECK(day.sunshine_h == 9.5);
  CHECK(day.rain_mm == 0.0);
  CHECK_FALSE(day.filled);
  const WeatherDay& bare = record.day(1);
  CHECK_FALSE(bare.dew_point_c);
  CHECK_FALSE(bare.vapour_pressure_kpa);
  CHECK_FALSE(bare.rh_max_pct);
  CHECK_FALSE(bare.rh_min_pct);
  CHECK_FALSE(bare.rh_mean_pct);
  CHECK_FALSE(bare.wind_m_s);
  CHECK_FALSE(bare.solar_mj_m2);
  CHECK_FALSE(bare.sunshine_h);
  CHECK(bare.rain_mm == 12.5);
}

TEST_CASE("weather: the columns may stand in any order") {
  const WeatherRecord record = read("rain_mm,tmax_c,date,wind_m_s,tmin_c\n3,21,2024-06-01,2.5,8\n");
  const WeatherDay& day = record.day(0);
  CHECK(record.first() == make_date(2024, 6, 1));
  CHECK(day.tmin_c == 8.0);
  CHECK(day.tmax_c == 21.0);
  CHECK(day.wind_m_s == 2.5);
  CHECK(day.rain_mm == 3.0);
}

TEST_CASE("weather: a file in US units holds the same weather") {
  const WeatherRecord metric = read(
      "date,tmin_c,tmax_c,dewpoint_c,wind_m_s,solar_mj_m2,rain_mm\n"
      "2024-06-01,10,25,5,4.4704,21.6,12.7\n"
      "2024-06-02,-5,0,-10,0.44704,8.64,0\n");
  const WeatherRecord us = read(
      "date,tmin_f,tmax_f,dewpoint_f,wind_mph,solar_w_m2,rain_in\n"
      "2024-06-01,50,77,41,10,250,0.5\n"
      "2024-06-02,23,32,14,1,100,0\n");
  const WeatherRecord third = read(
      "date,tmin_f,tmax_c,dewpoint_f,wind_km_h,solar_w_m2,rain_mm\n"
      "2024-06-01,50,25,41,16.09344,250,12.7\n"
      "2024-06-02,23,0,14,1.609344,100,0\n");
  for (const WeatherRecord* record : {&us, &third}) {
    REQUIRE(record->size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
      CAPTURE(i);
      const WeatherDay& a = metric.day(i);
      const WeatherDay& b = record->day(i);
      CHECK(near(b.tmin_c, a.tmin_c, 1e-13));
      CHECK(near(b.tmax_c, a.tmax_c, 1e-13));
      CHECK(near(b.dew_point_c.value(), a.dew_point_c.value(), 1e-13));
      CHECK(near(b.wind_m_s.value(), a.wind_m_s.value(), 1e-14));
      CHECK(near(b.solar_mj_m2.value(), a.solar_mj_m2.value(), 1e-14));
      CHECK(near(b.rain_mm.value(), a.rain_mm.value(), 1e-14));
    }
  }
}

TEST_CASE("weather: a day's mean of 1 W/m2 is 0.0864 MJ/m2 (FAO-56 table 1)") {
  const WeatherRecord record = read("date,tmin_c,tmax_c,solar_w_m2\n2024-06-01,8,21,1\n");
  CHECK(record.day(0).solar_mj_m2 == 0.0864);
}

TEST_CASE("weather: without a rain column no rain was observed") {
  const WeatherRecord record = read("date,tmin_c,tmax_c\n2024-06-01,8,21\n");
  CHECK_FALSE(record.rain_observed());
  CHECK_FALSE(record.day(0).rain_mm);
}

TEST_CASE("weather: a day that is missing") {
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,8,21\n2024-06-03,8,21\n") ==
        "w.csv:6:1: found 1 missing day before 2024-06-03; expected every day");
  CHECK(refused("date,tmin_c,tmax_c\n2024-02-27,8,21\n2024-03-02,8,21\n2024-03-05,8,21\n") ==
        "w.csv:6:1: found 3 missing days before 2024-03-02; expected every day\n"
        "w.csv:7:1: found 2 missing days before 2024-03-05; expected every day");
  CHECK(read("date,tmin_c,tmax_c\n2024-02-28,8,21\n2024-02-29,8,21\n2024-03-01,8,21\n").size() ==
        3);
  CHECK(read("date,tmin_c,tmax_c\n2023-12-31,8,21\n2024-01-01,8,21\n").size() == 2);
}

TEST_CASE("weather: a day twice, days out of order") {
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,8,21\n2024-06-01,8,21\n2024-06-02,8,21\n") ==
        "w.csv:6:1: found 2024-06-01 a second time; expected every day once");
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-02,8,21\n2024-06-01,8,21\n") ==
        "w.csv:6:1: found 2024-06-01 after 2024-06-02; expected days in order");
}

TEST_CASE("weather: a date that is none") {
  for (const std::string date : {"2023-02-30", "2024-6-31", "31/31/2024", "today"}) {
    CAPTURE(date);
    CHECK(refused_row("", date + ",8,21") ==
          "w.csv:5:1: found \"" + date + "\"; expected a date that exists, as 2024-05-31");
  }
  CHECK(refused_row("", ",8,21") ==
        "w.csv:5:1: found nothing in date; expected a date that exists, as 2024-05-31");
}

TEST_CASE("weather: lowest above highest temperature") {
  CHECK(
      refused_row("", "2024-06-01,21.5,21") ==
      "w.csv:5:12: found tmin_c 21.5 above tmax_c 21; expected the lowest temperature at or below "
      "the highest");
  CHECK(refused("date,tmin_f,tmax_c\n2024-06-01,70,21\n") ==
        "w.csv:5:12: found tmin_f 70 above tmax_c 21; expected the lowest temperature at or below "
        "the highest");
  CHECK(refused_row("", "2024-06-01,21,21") == no_fault);
}

TEST_CASE("weather: temperatures outside -60 to 60 °C") {
  CHECK(refused_row("", "2024-06-01,-60.1,21") ==
        "w.csv:5:12: found -60.1 in tmin_c; expected -60 to 60 °C");
  CHECK(refused_row("", "2024-06-01,8,60.1") ==
        "w.csv:5:14: found 60.1 in tmax_c; expected -60 to 60 °C");
  CHECK(refused("date,tmin_f,tmax_f\n2024-06-01,50,141\n") ==
        "w.csv:5:15: found 141 in tmax_f; expected -60 to 60 °C (-76 to 140 as tmax_f)");
  CHECK(refused_row("", "2024-06-01,-60,60") == no_fault);
  // -999 stands for missing in many files (common practice, no source): never a temperature here.
  CHECK(refused_row("", "2024-06-01,-999,21") ==
        "w.csv:5:12: found -999 in tmin_c; expected -60 to 60 °C");
  CHECK(refused_row(",dewpoint_c", "2024-06-01,8,21,-90.5") ==
        "w.csv:5:17: found -90.5 in dewpoint_c; expected -90 to 60 °C");
}

TEST_CASE("weather: dew point above the highest temperature") {
  CHECK(refused_row(",dewpoint_c", "2024-06-01,8,21,21.6") ==
        "w.csv:5:17: found dewpoint_c 21.6 above tmax_c 21; expected a dew point at or below the "
        "highest temperature");
  CHECK(refused_row(",dewpoint_c", "2024-06-01,8,21,21") == no_fault);
}

TEST_CASE("weather: humidity outside 0 to 100 %, or lowest above highest") {
  for (const std::string column : {"rh_max_pct", "rh_min_pct", "rh_mean_pct"}) {
    CAPTURE(column);
    CHECK(refused_row("," + column, "2024-06-01,8,21,100.5") ==
          "w.csv:5:17: found 100.5 in " + column + "; expected 0 to 100 %");
    CHECK(refused_row("," + column, "2024-06-01,8,21,-1") ==
          "w.csv:5:17: found -1 in " + column + "; expected 0 to 100 %");
    CHECK(refused_row("," + column, "2024-06-01,8,21,100") == no_fault);
    CHECK(refused_row("," + column, "2024-06-01,8,21,0") == no_fault);
  }
  CHECK(refused_row(",rh_max_pct,rh_min_pct", "2024-06-01,8,21,60,61") ==
        "w.csv:5:20: found rh_min_pct 61 above rh_max_pct 60; expected the lowest humidity at or "
        "below the highest");
  CHECK(refused_row(",rh_max_pct,rh_min_pct", "2024-06-01,8,21,60,60") == no_fault);
}

TEST_CASE("weather: rain, wind, vapour pressure, radiation and sunshine within their bounds") {
  const auto refused_value = [](const std::string& column, const std::string& value) {
    return refused_row("," + column, "2024-06-01,8,21," + value);
  };
  CHECK(refused_value("rain_mm", "-0.1") ==
        "w.csv:5:17: found -0.1 in rain_mm; expected 0 to 2000 mm");
  CHECK(refused_value("rain_in", "-1") ==
        "w.csv:5:17: found -1 in rain_in; expected 0 to 2000 mm (0 to 78.74 as rain_in)");
  CHECK(refused_value("rain_mm", "2001") ==
        "w.csv:5:17: found 2001 in rain_mm; expected 0 to 2000 mm");
  CHECK(refused_value("wind_m_s", "-1") ==
        "w.csv:5:17: found -1 in wind_m_s; expected 0 to 80 m/s");
  CHECK(refused_value("wind_mph", "200") ==
        "w.csv:5:17: found 200 in wind_mph; expected 0 to 80 m/s (0 to 179 as wind_mph)");
  CHECK(refused_value("vapour_pressure_kpa", "-0.1") ==
        "w.csv:5:17: found -0.1 in vapour_pressure_kpa; expected 0 to 20 kPa (10 hPa are 1 kPa)");
  CHECK(refused_value("solar_mj_m2", "-0.1") ==
        "w.csv:5:17: found -0.1 in solar_mj_m2; expected 0 to 60 MJ/m2 a day");
  CHECK(refused_value("solar_w_m2", "700") ==
        "w.csv:5:17: found 700 in solar_w_m2; expected 0 to 60 MJ/m2 a day (0 to 694.4 as "
        "solar_w_m2)");
  CHECK(refused_value("sunshine_h", "-1") ==
        "w.csv:5:17: found -1 in sunshine_h; expected 0 to 24 hours");
  CHECK(refused_value("sunshine_h", "25") ==
        "w.csv:5:17: found 25 in sunshine_h; expected 0 to 24 hours");
  CHECK(refused_value("rain_mm", "trace") ==
        "w.csv:5:17: found \"trace\" in rain_mm; expected a number, or nothing if unknown");
}

TEST_CASE("weather: radiation above what the sun can give on that day") {
  CHECK(refused_row(",solar_mj_m2", "2024-06-01,8,21,41.4") ==
        "w.csv:5:17: found 41.4 in solar_mj_m2; expected at most the extraterrestrial 41.3 MJ/m2 "
        "(478 W/m2) of that day and latitude");
  CHECK(refused_row(",solar_w_m2", "2024-06-01,8,21,490") ==
        "w.csv:5:17: found 490 in solar_w_m2; expected at most the extraterrestrial 41.3 MJ/m2 "
        "(478 W/m2) of that day and latitude");
  // Twilight and sensor offset are let pass: 0.1 MJ/m2 (judged, sun/sky_limit.cpp).
  CHECK(refused_row(",solar_mj_m2", "2024-06-01,8,21,41.34") == no_fault);
  CHECK(refused_row(",solar_mj_m2", "2024-06-01,8,21,41.2") == no_fault);
  // The same reading is beyond a day of winter.
  CHECK(refused_row(",solar_mj_m2", "2024-12-01,-8,1,20") ==
        "w.csv:5:17: found 20 in solar_mj_m2; expected at most the extraterrestrial 11.7 MJ/m2 "
        "(135 W/m2) of that day and latitude");
}

TEST_CASE("weather: sunshine above the hours of daylight") {
  CHECK(refused_row(",sunshine_h", "2024-06-01,8,21,15.7") ==
        "w.csv:5:17: found 15.7 in sunshine_h; expected at most the 15.1 daylight hours of that "
        "day and latitude");
  // Refraction is let pass: half an hour (judged, sun/sky_limit.cpp).
  CHECK(refused_row(",sunshine_h", "2024-06-01,8,21,15.6") == no_fault);
}

TEST_CASE("weather: the limit is that of the site's latitude") {
  // FAO-56 (1998), Examples 8 and 9: 20 degrees south on 3 September, 32.2 MJ/m2 and 11.7 h.
  const auto south = [](const std::string& more_columns, const std::string& row) {
    return refusal([&] {
      (void)read_weather({"w.csv", "# latitude_deg = -20\n# elevation_m = 0\ndate,tmin_c,tmax_c" +
                                       more_columns + "\n" + row + "\n"});
    });
  };
  CHECK(south(",solar_mj_m2", "2023-09-03,14,26,32.2") == no_fault);
  CHECK(south(",solar_mj_m2", "2023-09-03,14,26,32.4") ==
        "w.csv:4:18: found 32.4 in solar_mj_m2; expected at most the extraterrestrial 32.2 MJ/m2 "
        "(373 W/m2) of that day and latitude");
  CHECK(south(",sunshine_h", "2023-09-03,14,26,12.3") ==
        "w.csv:4:18: found 12.3 in sunshine_h; expected at most the 11.7 daylight hours of that "
        "day and latitude");
}

TEST_CASE("weather: a blank temperature") {
  CHECK(refused_row("", "2024-06-01,,21") ==
        "w.csv:5:12: found nothing in tmin_c on 2024-06-01; expected a temperature, or no row at "
        "all: "
        "no temperatures stand before it to fill it from");
  CHECK(refused_row("", "2024-06-01,8,") ==
        "w.csv:5:14: found nothing in tmax_c on 2024-06-01; expected a temperature, or no row at "
        "all: "
        "no temperatures stand before it to fill it from");
  CHECK(refused_row("", "2024-06-01,,") ==
        "w.csv:5:12: found nothing in tmin_c on 2024-06-01; expected a temperature, or no row at "
        "all: "
        "no temperatures stand before it to fill it from\n"
        "w.csv:5:13: found nothing in tmax_c on 2024-06-01; expected a temperature, or no row at "
        "all: "
        "no temperatures stand before it to fill it from");
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,8,21\n2024-06-02,,21\n2024-06-03,8,21\n") ==
        "w.csv:6:12: found nothing in tmin_c on 2024-06-02; expected a temperature");
}

TEST_CASE("weather: missing and doubled columns") {
  CHECK(refused("date,tmax_c\n2024-06-01,21\n") ==
        "w.csv:4:1: found no column tmin_c or tmin_f; expected that column");
  CHECK(refused("date,tmin_c\n2024-06-01,21\n") ==
        "w.csv:4:1: found no column tmax_c or tmax_f; expected that column");
  CHECK(refused("morning,tmin_c,tmax_c\n2024-06-01,8,21\n") ==
        "w.csv:4:1: found no column date; expected that column\n"
        "w.csv:4:1: found unknown column \"morning\"; expected a known column");
  CHECK(refused("day,tmin_c,tmax_c\n2024-06-01,8,21\n") == no_fault);  // another's name for it
  CHECK(refused("date,tmin_c,tmax_c,tmax_f\n2024-06-01,8,21,70\n") ==
        "w.csv:4:20: found both tmax_c and tmax_f; expected one of them");
  CHECK(refused("date,tmin_c,tmax_c,solar_w_m2,solar_mj_m2\n2024-06-01,8,21,250,21.6\n") ==
        "w.csv:4:20: found both solar_mj_m2 and solar_w_m2; expected one of them");
  CHECK(refused("date,tmin_c,tmax_c,tmax_c\n2024-06-01,8,21,21\n") ==
        "w.csv:4:20: found column \"tmax_c\" a second time; expected every column once");
}

TEST_CASE("weather: unknown columns, with the nearest known one") {
  CHECK(refused("date,tmin_c,tmax_c,rainmm\n2024-06-01,8,21,0\n") ==
        "w.csv:4:20: found unknown column \"rainmm\"; expected a known column; nearest: rain_mm");
  CHECK(refused("date,tmin_c,tmax_c,humidity\n2024-06-01,8,21,60\n") ==
        "w.csv:4:20: found unknown column \"humidity\"; expected a known column");
  CHECK(refused("date,tmin_c,tmax_c,notes\n2024-06-01,8,21,hail\n") == no_fault);
}

TEST_CASE("weather: the site must be known") {
  const auto without_site = [](const std::string& lines, const std::string& more,
                               const WeatherReading& how = {}) {
    return refusal([&] {
      (void)read_weather({"w.csv", lines + "date,tmin_c,tmax_c" + more + "\n2024-06-01,8,21" +
                                       (more.empty() ? "" : ",2") + "\n"},
                         how);
    });
  };
  const std::string latitude =
      "w.csv: found no latitude_deg; expected a line # latitude_deg = 44.2 at the top";
  const std::string elevation =
      "w.csv: found no elevation_m; expected a line # elevation_m = 210 at the top";
  const std::string wind =
      "w.csv: found no wind_height_m; expected a line # wind_height_m = 10 at the top";
  CHECK(without_site("", ",wind_m_s") == latitude + "\n" + elevation + "\n" + wind);
  CHECK(without_site("# elevation_m = 1\n# wind_height_m = 2\n", ",wind_m_s") == latitude);
  CHECK(without_site("# latitude_deg = 1\n# wind_height_m = 2\n", ",wind_m_s") == elevation);
  CHECK(without_site("# latitude_deg = 1\n# elevation_m = 2\n", ",wind_m_s") == wind);
  // A file without wind needs no height of its sensor.
  CHECK(without_site("# latitude_deg = 1\n# elevation_m = 2\n", "") == no_fault);
  CHECK(without_site("# latitude_deg = 91\n# elevation_m = 2\n", "") ==
        "w.csv:1:1: found \"91\" for latitude_deg; expected -90 to 90");

  WeatherReading how;
  how.site.latitude_deg = -10.0;
  how.site.elevation_m = 5.0;
  how.site.wind_height_m = 10.0;
  CHECK(without_site("", ",wind_m_s", how) == no_fault);
}

TEST_CASE("weather: site values given from outside override those of the file") {
  WeatherReading how;
  how.site.latitude_deg = -10.0;
  how.site.longitude_deg = 30.0;
  const WeatherRecord record = read("date,tmin_c,tmax_c\n2024-06-01,8,21\n", how);
  CHECK(record.site().latitude_deg == -10.0);
  CHECK(record.site().longitude_deg == 30.0);
  CHECK(record.site().elevation_m == 210.0);
}

TEST_CASE("weather: many things wrong, told at once, in file order") {
  CHECK(refused("date,tmin_c,tmax_c,rh_max_pct,rh_min_pct,rain_mm\n"
                "2024-06-01,8,21,101,40,0\n"
                "2024-06-02,8,x,95,40,-1\n"
                "2024-06-31,8,21,95,40,0\n"
                "2024-06-02,22,21,30,40,0\n"
                "2024-06-01,8,21,95,40,0\n") ==
        "w.csv:5:17: found 101 in rh_max_pct; expected 0 to 100 %\n"
        "w.csv:6:14: found \"x\" in tmax_c; expected a number, or nothing if unknown\n"
        "w.csv:6:22: found -1 in rain_mm; expected 0 to 2000 mm\n"
        "w.csv:7:1: found \"2024-06-31\"; expected a date that exists, as 2024-05-31\n"
        "w.csv:8:1: found 2024-06-02 a second time; expected every day once\n"
        "w.csv:8:12: found tmin_c 22 above tmax_c 21; expected the lowest temperature at or below "
        "the "
        "highest\n"
        "w.csv:8:21: found rh_min_pct 40 above rh_max_pct 30; expected the lowest humidity at or "
        "below "
        "the highest\n"
        "w.csv:9:1: found 2024-06-01 after 2024-06-02; expected days in order");
}

TEST_CASE("weather: at most twenty problems are told") {
  std::string rows = "date,tmin_c,tmax_c\n";
  for (int i = 0; i < 100; ++i) rows += "no,8,21\n";
  std::string expected;
  for (int line = 5; line < 25; ++line) {
    if (!expected.empty()) expected += '\n';
    expected += "w.csv:" + std::to_string(line) +
                ":1: found \"no\"; expected a date that exists, as 2024-05-31";
  }
  CHECK(refused(rows) == expected);
}

TEST_CASE("weather: rain that is needed") {
  const std::string rows = "date,tmin_c,tmax_c,rain_mm\n2024-06-01,8,21,1\n2024-06-02,8,21,\n";
  WeatherReading how;
  CHECK(refused(rows, how) == no_fault);  // reference evapotranspiration does without
  how.rain_needed = true;
  CHECK(refused(rows, how) ==
        "w.csv:6:17: found nothing in rain_mm on 2024-06-02; expected an amount: unknown rain "
        "cannot be kept in an account");
  how.longest_gap_filled_days = 1;
  CHECK(refused(rows, how) == no_fault);
  CHECK_FALSE(read(rows, how).day(1).rain_mm);
  // A file that has no rain column at all says so in the record instead.
  how.longest_gap_filled_days = 0;
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,8,21\n", how) == no_fault);
}

TEST_CASE("weather: rows that are missing are filled along straight lines") {
  const WeatherRecord record = read(
      "date,tmin_c,tmax_c,dewpoint_c,wind_m_s,solar_mj_m2,rh_mean_pct,rain_mm\n"
      "2024-06-01,8,20,4,1,20,60,7\n"
      "2024-06-05,12,28,,3,24,80,9\n",
      filling(3));
  REQUIRE(record.size() == 5);
  CHECK(record.last() == make_date(2024, 6, 5));
  for (std::size_t i = 1; i <= 3; ++i) {
    CAPTURE(i);
    const WeatherDay& day = record.day(i);
    const double quarter = static_cast<double>(i);
    CHECK(day.filled);
    CHECK(near(day.tmin_c, 8.0 + quarter, 1e-12));
    CHECK(near(day.tmax_c, 20.0 + 2.0 * quarter, 1e-12));
    CHECK(near(day.wind_m_s.value(), 1.0 + 0.5 * quarter, 1e-12));
    CHECK(near(day.solar_mj_m2.value(), 20.0 + quarter, 1e-12));
    CHECK(near(day.rh_mean_pct.value(), 60.0 + 5.0 * quarter, 1e-12));
    CHECK_FALSE(day.dew_point_c);  // known on one side only
    CHECK_FALSE(day.rain_mm);      // rain is not invented
  }
  CHECK_FALSE(record.day(0).filled);
  CHECK_FALSE(record.day(4).filled);
  CHECK(record.day(0).rain_mm == 7.0);
  CHECK(record.day(4).rain_mm == 9.0);
}

TEST_CASE("weather: rows with blank temperatures are filled, what was measured in them stays") {
  const WeatherRecord record = read(
      "date,tmin_c,tmax_c,wind_m_s,rain_mm\n"
      "2024-06-01,8,20,1,0\n"
      "2024-06-02,,,5,12\n"
      "2024-06-03,,,,\n"
      "2024-06-04,14,26,4,0\n",
      filling(2));
  REQUIRE(record.size() == 4);
  CHECK(record.day(1).filled);
  CHECK(record.day(2).filled);
  CHECK(near(record.day(1).tmin_c, 10.0, 1e-12));
  CHECK(near(record.day(1).tmax_c, 22.0, 1e-12));
  CHECK(near(record.day(2).tmin_c, 12.0, 1e-12));
  CHECK(near(record.day(2).tmax_c, 24.0, 1e-12));
  CHECK(record.day(1).wind_m_s == 5.0);
  CHECK(record.day(1).rain_mm == 12.0);
  CHECK(near(record.day(2).wind_m_s.value(), 3.0, 1e-12));
  CHECK_FALSE(record.day(2).rain_mm);
}

TEST_CASE("weather: a temperature that was measured is not replaced when its day is filled") {
  const WeatherRecord record =
      read("date,tmin_c,tmax_c\n2024-06-01,8,20\n2024-06-02,3,\n2024-06-03,10,22\n", filling(1));
  CHECK(record.day(1).filled);
  CHECK(record.day(1).tmin_c == 3.0);
  CHECK(near(record.day(1).tmax_c, 21.0, 1e-12));

  // Here the straight line for the highest would pass below the measured lowest.
  const WeatherRecord crossed =
      read("date,tmin_c,tmax_c\n2024-06-01,8,20\n2024-06-02,23,\n2024-06-03,10,22\n", filling(1));
  CHECK(crossed.day(1).tmin_c <= crossed.day(1).tmax_c);
}

TEST_CASE("weather: blank rows and missing rows count as one gap") {
  const std::string rows = "date,tmin_c,tmax_c\n2024-06-01,8,20\n2024-06-02,,\n2024-06-05,12,24\n";
  const WeatherRecord record = read(rows, filling(3));
  REQUIRE(record.size() == 5);
  for (std::size_t i = 1; i <= 3; ++i) CHECK(record.day(i).filled);
  CHECK(near(record.day(2).tmin_c, 10.0, 1e-12));
  CHECK(refused(rows, filling(2)) ==
        "w.csv:7:1: found 3 days without temperatures before 2024-06-05; expected at most 2");
}

TEST_CASE("weather: a gap that is too long is refused, and only that one") {
  const std::string rows =
      "date,tmin_c,tmax_c\n2024-06-01,8,20\n2024-06-04,8,20\n2024-06-08,12,24\n";
  CHECK(refused(rows, filling(2)) ==
        "w.csv:7:1: found 3 days without temperatures before 2024-06-08; expected at most 2");
  CHECK(refused(rows, filling(1)) ==
        "w.csv:6:1: found 2 days without temperatures before 2024-06-04; expected at most 1\n"
        "w.csv:7:1: found 3 days without temperatures before 2024-06-08; expected at most 1");
  CHECK(read(rows, filling(3)).size() == 8);
}

TEST_CASE("weather: a gap at the start or the end has one side only") {
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,,\n2024-06-02,8,20\n", filling(5)) ==
        "w.csv:5:12: found nothing in tmin_c on 2024-06-01; expected a temperature, or no row at "
        "all: "
        "no temperatures stand before it to fill it from\n"
        "w.csv:5:13: found nothing in tmax_c on 2024-06-01; expected a temperature, or no row at "
        "all: "
        "no temperatures stand before it to fill it from");
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,8,20\n2024-06-02,8,\n", filling(5)) ==
        "w.csv:6:14: found nothing in tmax_c on 2024-06-02; expected a temperature, or no row at "
        "all: "
        "no temperatures follow it to fill it from");
}

TEST_CASE("weather: a filled day stays possible") {
  // Measured on the filled day: a dew point that the filled temperature does not reach.
  const WeatherRecord record =
      read("date,tmin_c,tmax_c,dewpoint_c\n2024-06-01,8,20,5\n2024-06-02,,,25\n2024-06-03,8,22,6\n",
           filling(1));
  CHECK(record.day(1).dew_point_c.value() <= record.day(1).tmax_c);
  for (std::size_t i = 0; i < record.size(); ++i) {
    CHECK(record.day(i).tmin_c <= record.day(i).tmax_c);
  }
}

TEST_CASE("weather: lowest humidity stays at or below the highest when one of them is filled") {
  const WeatherRecord record = read(
      "date,tmin_c,tmax_c,rh_max_pct,rh_min_pct\n"
      "2024-06-01,8,20,95,60\n2024-06-02,,,50,\n2024-06-03,8,22,95,60\n",
      filling(1));
  REQUIRE(record.day(1).rh_max_pct);
  CHECK(*record.day(1).rh_max_pct == 50.0);
  CHECK(record.day(1).rh_min_pct == 50.0);

  const WeatherRecord damp = read(
      "date,tmin_c,tmax_c,rh_max_pct,rh_min_pct\n"
      "2024-06-01,8,20,90,60\n2024-06-02,,,,97\n2024-06-03,8,22,90,60\n",
      filling(1));
  CHECK(damp.day(1).rh_min_pct == 97.0);
  CHECK(damp.day(1).rh_max_pct == 97.0);
}

TEST_CASE("weather: a mistyped year is told as a gap") {
  CHECK(refused("date,tmin_c,tmax_c\n2024-06-01,8,20\n2042-06-02,8,20\n") ==
        "w.csv:6:1: found 6574 missing days before 2042-06-02; expected every day");
}

TEST_CASE("weather: a stretch of a record") {
  std::string rows = "date,tmin_c,tmax_c,rain_mm\n";
  for (int day = 1; day <= 9; ++day) {
    rows += "2024-06-0" + std::to_string(day) + ",8,2" + std::to_string(day) + ",0\n";
  }
  const WeatherRecord record = read(rows);
  const WeatherRecord part = record.between(make_date(2024, 6, 3), make_date(2024, 6, 5));
  REQUIRE(part.size() == 3);
  CHECK(part.first() == make_date(2024, 6, 3));
  CHECK(part.last() == make_date(2024, 6, 5));
  CHECK(part.day(0).tmax_c == 23.0);
  CHECK(part.day(2).tmax_c == 25.0);
  CHECK(part.date(2) == make_date(2024, 6, 5));
  CHECK(part.index_of(make_date(2024, 6, 4)) == 1);
  CHECK(part.contains(make_date(2024, 6, 3)));
  CHECK_FALSE(part.contains(make_date(2024, 6, 2)));
  CHECK_FALSE(part.contains(make_date(2024, 6, 6)));
  CHECK(part.site().elevation_m == 210.0);
  CHECK(part.rain_observed());
  CHECK(part.name() == "w.csv");
}

TEST_CASE("weather: every column name, in both systems") {
  CHECK(weather_columns() ==
        std::vector<std::string>{"date", "tmin_c", "tmin_f", "tmax_c", "tmax_f", "dewpoint_c",
                                 "dewpoint_f", "vapour_pressure_kpa", "rh_max_pct", "rh_min_pct",
                                 "rh_mean_pct", "wind_m_s", "wind_km_h", "wind_mph", "solar_mj_m2",
                                 "solar_w_m2", "sunshine_h", "rain_mm", "rain_in"});
}

TEST_CASE("weather: what a file may hold, a record in memory may hold") {
  // A record of a file is not looked through a second time: the reader's checks must be as strict.
  // Readings at the ends of their ranges and about the limits between them, blanks and gaps.
  Random random(11);
  const auto text = [](double value) { return std::to_string(value); };
  int taken = 0;
  for (int i = 0; i < 5000; ++i) {
    const auto some = [&](double low, double high, double known) -> std::optional<double> {
      if (!random.chance(known)) return std::nullopt;
      if (random.chance(0.1)) return random.chance(0.5) ? low : high;
      return random.uniform(low, high);
    };
    std::string rows =
        "date,tmin_c,tmax_c,dewpoint_c,vapour_pressure_kpa,rh_max_pct,rh_min_pct,rh_mean_pct,wind_"
        "m_"
        "s,solar_mj_m2,sunshine_h,rain_mm\n";
    const double known = random.chance(0.5) ? 0.2 : 0.7;
    const double middle_c = random.uniform(-20.0, 35.0);
    for (int day = 1; day <= 4; ++day) {
      if (day > 1 && day < 4 && random.chance(0.2)) continue;
      rows += "2024-12-0" + std::to_string(day);
      const double temperatures_known = day == 1 || day == 4 ? 1.0 : 0.8;
      for (const std::optional<double>& value :
           {some(middle_c - 10.0, middle_c + 0.2, temperatures_known),
            some(middle_c, middle_c + 10.0, temperatures_known),
            some(middle_c - 30.0, middle_c + 8.0, known / 2), some(0.0, 4.0, known / 2),
            some(40.0, 100.0, known), some(0.0, 60.0, known), some(20.0, 80.0, known / 2),
            some(0.0, 80.0, known), some(0.0, 13.5, known), some(0.0, 9.7, known),
            some(0.0, 2000.0, known)}) {
        rows += ',' + (value ? text(*value) : "");
      }
      rows += '\n';
    }
    CAPTURE(rows);
    std::optional<WeatherRecord> record;
    if (refusal([&] { record = read(rows, filling(2)); }) != no_fault) continue;
    ++taken;
    std::vector<WeatherDay> days;
    for (std::size_t k = 0; k < record->size(); ++k) days.push_back(record->day(k));
    REQUIRE(refusal([&] {
              (void)WeatherRecord("memory", record->site(), record->first(), days, true);
            }) == no_fault);
  }
  CHECK(taken > 500);
}

}  // namespace wiltline::test
