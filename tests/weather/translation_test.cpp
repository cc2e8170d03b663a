// The real record written out in many layouts and read back: the same days to the last printed
// digit, the same ET0. (What cannot be read: wrong_files_test.)
#include "wiltline/weather/translation.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "weather/written_layouts.hpp"
#include "wiltline/evapotranspiration/daily.hpp"

namespace wiltline::test {
namespace {

WeatherReading site_of_seattle() {
  WeatherReading how;
  how.site = {47.45, 113.0, 10.0, std::nullopt, std::nullopt};
  return how;
}

/// Reads it with nothing told but the site, and compares every day. `exact`: to the last bit; else
/// to the last printed digit, since the unit is another.
WeatherFile read_back(const std::string& text, bool exact, const WeatherReading& how) {
  const WeatherRecord expected = real("seattle.csv");
  WeatherFile file = read_weather_file({"theirs.csv", text}, how);
  CHECK_FALSE(file.understood.own);
  REQUIRE(file.places.size() == 1);
  const WeatherRecord& found = file.places.front().record;
  REQUIRE(found.size() == expected.size());
  CHECK(found.first() == expected.first());
  std::size_t other = 0;
  const auto printed = [](double value) { return std::lround(value * 10.0); };
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const WeatherDay& a = found.day(i);
    const WeatherDay& b = expected.day(i);
    REQUIRE(a.wind_m_s);
    REQUIRE(a.rain_mm);
    const bool same = exact ? a == b
                            : printed(a.tmin_c) == printed(b.tmin_c) &&
                                  printed(a.tmax_c) == printed(b.tmax_c) &&
                                  printed(*a.wind_m_s) == printed(*b.wind_m_s) &&
                                  printed(*a.rain_mm) == printed(*b.rain_mm);
    if (!same) ++other;
  }
  CHECK(other == 0);
  const auto et0 = reference_days(found);
  const auto et0_expected = reference_days(expected);
  double furthest_mm = 0.0;
  for (std::size_t i = 0; i < et0.size(); ++i) {
    furthest_mm =
        std::max(furthest_mm, std::abs(et0[i].et0.total_mm() - et0_expected[i].et0.total_mm()));
  }
  CHECK(furthest_mm <= (exact ? 0.0 : 5e-4));
  return file;
}

WeatherFile read_back(const std::string& text, bool exact = true) {
  return read_back(text, exact, site_of_seattle());
}

}  // namespace

TEST_CASE("daily files of many forms give the same days") {
  const WeatherRecord seattle = real("seattle.csv");
  const std::string units = "Tmin (°C),Tmax (°C),Wind [m/s],Rain [mm]";
  std::string semicolons = "Date;" + units;
  std::replace(semicolons.begin(), semicolons.end(), ',', ';');
  std::string tabs = "DATE\ttmin_c\ttmax_c\twind_m_s\train_mm";
  const std::vector<std::pair<std::string, DailyForm>> forms{
      {"names in capitals", {.header = "DATE,TMIN_C,TMAX_C,WIND_M_S,RAIN_MM"}},
      {"units in brackets", {.header = "Date," + units}},
      {"semicolons and decimal commas",
       {.header = semicolons, .separator = ';', .decimal_comma = true}},
      {"tabs", {.header = tabs, .separator = '\t'}},
      {"day first, with points", {.header = "date," + units, .date = "{2:02}.{1:02}.{0:04}"}},
      {"month first", {.header = "date," + units, .date = "{1}/{2}/{0}"}},
      {"day first, with slashes", {.header = "date," + units, .date = "{2}/{1}/{0}"}},
      {"digits alone", {.header = "date," + units, .date = "{0:04}{1:02}{2:02}"}},
      {"year first, with slashes", {.header = "date," + units, .date = "{0}/{1}/{2}"}},
      {"three columns", {.header = "Year,Month,Day," + units, .date = "{0},{1},{2}"}},
      {"day of the year", {.header = "YEAR,DOY," + units, .date = "{0},{3}"}},
      {"year and day of the year in one", {.header = "date," + units, .date = "{0}-{3:03}"}},
      {"a time behind the date", {.header = "date," + units, .date = "{0}-{1:02}-{2:02} 00:00:00"}},
      {"units in a second row",
       {.header = "Date,Min Temp,Max Temp,Wind Speed,Precipitation", .below = ",°C,°C,m/s,mm\n"}},
      {"lines above the header",
       {.header = "Date," + units, .above = "Station: Somewhere, 113 m\nFrom a service\n\n"}},
  };
  for (const auto& one : forms) {
    CAPTURE(one.first);
    read_back(written(seattle, one.second));
  }
}

TEST_CASE("encodings") {
  const WeatherRecord seattle = real("seattle.csv");
  const DailyForm plain{.header = "date,tmin_c,tmax_c,wind_m_s,rain_mm"};
  CHECK(read_back(utf16(written(seattle, plain))).understood.encoding == "UTF-16");
  const DailyForm latin{.header =
                            "date,Tmin (\xB0"
                            "C),Tmax (\xB0"
                            "C),Wind (m/s),Rain (mm)"};
  CHECK(read_back(written(seattle, latin)).understood.encoding == "Latin-1");
  const DailyForm marked{.header =
                             "\xEF\xBB\xBF"
                             "Date,tmin c,tmax c,wind m/s,rain mm"};
  CHECK(read_back(written(seattle, marked)).understood.encoding == "UTF-8");
}

TEST_CASE("US units") {
  const WeatherRecord seattle = real("seattle.csv");
  read_back(written(seattle, {.header = "Date,Low (F),High (F),Wind (mph),Rain (in)", .us = true}),
            false);
}

TEST_CASE("units that no column names are settled where one alone makes sense") {
  const WeatherRecord seattle = real("seattle.csv");
  const WeatherFile metric =
      read_back(written(seattle, {.header = "date,temp_min,temp_max,wind (m/s),precipitation"}));
  CHECK(metric.understood.summary().find("names no unit: only °C makes sense") !=
        std::string::npos);
  CHECK(metric.understood.summary().find("precipitation names no unit: only mm makes sense") !=
        std::string::npos);
  read_back(written(seattle, {.header = "date,low,high,wind (mph),rain (in)", .us = true}), false);
}

TEST_CASE("daily summaries of the climatology network") {
  const WeatherRecord seattle = real("seattle.csv");
  WeatherReading how;
  how.site.wind_height_m = 10.0;  // the rest of the site stands in the file
  for (const std::string units : {"tenths", "us", "metric"}) {
    CAPTURE(units);
    const WeatherFile file = read_back(written_ghcn_wide(seattle, units), units != "us", how);
    CHECK(file.understood.layout == "ghcn-" + units);
    CHECK(file.places.front().record.site().longitude_deg == -122.3);
  }
  for (const bool header : {true, false}) {
    CAPTURE(header);
    const WeatherFile file = read_back(written_ghcn_lines(seattle, header));
    CHECK(file.understood.layout == "ghcn-lines");
    CHECK(file.understood.left_out == std::vector<std::string>{"SNWD"});
  }
}

TEST_CASE("hours and ten minutes give the same days") {
  const WeatherRecord seattle = real("seattle.csv");
  const WeatherFile logger = read_back(written_logger_hours(seattle), false);
  CHECK(logger.understood.layout == "logger-hours");
  CHECK(logger.understood.step_h == 1.0);
  CHECK(logger.understood.zero_marks > 20000);
  const WeatherFile klima = read_back(written_klima_days(seattle));
  CHECK(klima.understood.layout == "klima-days");
  const WeatherFile synop = read_back(written_synop_hours(seattle), false);
  CHECK(synop.understood.layout == "synop-hours");
  const WeatherFile minutes = read_back(written_ten_minutes(seattle), false);
  CHECK(near(minutes.understood.step_h.value(), 1.0 / 6.0, 1e-9));
}

TEST_CASE("hours in UTC are put on the site's clock, and the offset is kept") {
  std::string text = "time,temperature (°C)\n";
  for (int hour = 0; hour < 48; ++hour) {
    text += fmt::format("2014-06-{:02}T{:02}:00Z,{}\n", 1 + hour / 24, hour % 24, hour);
  }
  WeatherReading how;
  how.site = {45.0, 100.0, std::nullopt, -75.0, -5.0};
  const WeatherFile file = read_weather_file({"w.csv", text}, how);
  // 31 May has five hours of it, 1 June all, 2 June nineteen.
  const WeatherRecord& record = file.places.front().record;
  REQUIRE(record.size() == 1);
  CHECK(record.first() == make_date(2014, 6, 1));
  CHECK(record.day(0).tmin_c == 5.0);
  CHECK(record.day(0).tmax_c == 28.0);
  CHECK(file.places.front().hours->hours.front().utc_offset_h == -5.0);
}

TEST_CASE("a table of columns says what no name does") {
  const WeatherRecord seattle = real("seattle.csv");
  WeatherReading how = site_of_seattle();
  how.hints.columns =
      read_layouts({"columns.csv",
                    "column,is,unit,missing,zero\n"
                    "A,date,,,\nB,tmin,c,,\nC,tmax,c,,\nD,wind,m/s,,\nE,rain,mm,,\n"});
  read_back(written(seattle, {.header = "A,B,C,D,E"}), true, how);
}

TEST_CASE("a quality column leaves readings out, whoever named it") {
  WeatherReading how = site_of_seattle();
  how.hints.columns = read_layouts({"columns.csv",
                                    "column,is,unit\nday,date,\nwhat,element,\nhow much,value,\n"
                                    "flag,quality,\nwarm,tmax,c\ncold,tmin,c\nwet,rain,mm\n"});
  const WeatherFile file = read_weather_file({"theirs.csv",
                                              "day,what,how much,flag\n2014-06-01,warm,21,\n"
                                              "2014-06-01,cold,8,\n2014-06-01,wet,900,wrong\n"},
                                             how);
  CHECK(file.understood.failed == 1);
  CHECK(file.places.at(0).record.day(0).tmax_c == 21.0);
  CHECK_FALSE(file.places.at(0).record.day(0).rain_mm);
}

TEST_CASE("days that a file says were drawn by chance stay so, whatever its layout") {
  const std::string text = "date;low (°C);high (°C)\n2014-06-01;8;21\n";
  const auto generated = [](const std::string& file) {
    return read_weather({"w.csv", file}, site_of_seattle()).generated();
  };
  CHECK(generated("# generated_days = yes\n" + text));
  CHECK_FALSE(generated(text));
}

TEST_CASE("hours of radiation and sunshine that were filled are said") {
  std::string text = "time,temperature (°C),solar (MJ/m2),sunshine (h)\n";
  for (int hour = 0; hour < 24; ++hour) {
    const bool sunny = hour >= 6 && hour < 18;
    if (hour != 12) {
      text += fmt::format("2014-06-01 {:02}:00,{},{},{}\n", hour, 10, sunny ? 2 : 0, sunny ? 1 : 0);
    }
  }
  const WeatherFile file = read_weather_file({"w.csv", text}, site_of_seattle());
  const std::string said = file.understood.summary();
  CAPTURE(said);
  CHECK(said.find("radiation of 1 step taken from those around") != std::string::npos);
  CHECK(said.find("sunshine of 1 step taken from those around") != std::string::npos);
  CHECK(file.places.at(0).record.day(0).solar_mj_m2 == 24.0);
  CHECK(file.places.at(0).record.day(0).sunshine_h == 12.0);
}

TEST_CASE("latest first is turned round") {
  const WeatherRecord seattle = real("seattle.csv");
  std::string text = written(seattle, {.header = ""});
  std::vector<std::string> lines;
  for (std::size_t at = 1; at < text.size();) {
    const std::size_t end = text.find('\n', at);
    lines.push_back(text.substr(at, end - at + 1));
    at = end + 1;
  }
  std::string turned = "Date,Tmin (°C),Tmax (°C),Wind (m/s),Rain (mm)\n";
  for (auto line = lines.rbegin(); line != lines.rend(); ++line) turned += *line;
  read_back(turned);
}

TEST_CASE("a file without anything of weather is left to the reader of our own") {
  CHECK_FALSE(translate({"g.csv", "name,crop,pot\nit,basil,clay 3 l\n"}, {}, {}));
  CHECK_FALSE(translate({"g.csv", ""}, {}, {}));
}

}  // namespace wiltline::test
