// The place of a record: from options, from an INI file, from comment lines of a weather file.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "support/refusal.hpp"
#include "wiltline/weather/site.hpp"

namespace wiltline::test {
namespace {

SiteValues site(std::string bytes) {
  return read_site({"site.ini", std::move(bytes)});
}

std::string refused(std::string bytes) {
  return refusal([&] { (void)site(std::move(bytes)); });
}

/// The values in the comments of a weather file, and what was wrong with them.
std::pair<SiteValues, std::string> comments(const std::string& lines) {
  const CsvTable table({"w.csv", lines + "date\n2024-05-01\n"});
  ProblemList problems;
  const SiteValues values = site_from_comments(table, problems);
  return {values, refusal([&] { problems.throw_if_any(); })};
}

const std::string all_keys =
    "latitude_deg, elevation_m, wind_height_m, longitude_deg, utc_offset_h";

}  // namespace

TEST_CASE("site: an INI file with every key") {
  const SiteValues values = site(
      "; a garden\n[site]\n\nlatitude_deg = 44.2\n  elevation_m=210  \nwind_height_m\t=\t10\n"
      "# east positive\nlongitude_deg = -72.5\nutc_offset_h = -5");
  CHECK(values.latitude_deg == 44.2);
  CHECK(values.elevation_m == 210.0);
  CHECK(values.wind_height_m == 10.0);
  CHECK(values.longitude_deg == -72.5);
  CHECK(values.utc_offset_h == -5.0);
}

TEST_CASE("site: keys that are not given stay unknown, line ends may be CRLF") {
  const SiteValues values = site("latitude_deg = -33.9\r\n; comment\r\nelevation_m = 0\r\n");
  CHECK(values.latitude_deg == -33.9);
  CHECK(values.elevation_m == 0.0);
  CHECK_FALSE(values.wind_height_m);
  CHECK_FALSE(values.longitude_deg);
  CHECK_FALSE(values.utc_offset_h);
}

TEST_CASE("site: what is wrong in an INI file, line by line") {
  CHECK(refused("latitude = 44.2\n") ==
        "site.ini:1:1: found unknown key \"latitude\"; expected one of " + all_keys +
            "; nearest: latitude_deg");
  CHECK(refused("latitude_dge = 44.2\n") ==
        "site.ini:1:1: found unknown key \"latitude_dge\"; expected one of " + all_keys +
            "; nearest: latitude_deg");
  CHECK(refused("latitude_deg 44.2\n") ==
        "site.ini:1:1: found \"latitude_deg 44.2\"; expected a line such as latitude_deg = 44.2");
  CHECK(refused("\nelevation_m = 1\nelevation_m = 2\n") ==
        "site.ini:3:1: found elevation_m a second time; expected it once");
  CHECK(refused("latitude_deg = north\n") ==
        "site.ini:1:1: found \"north\" for latitude_deg; expected a number");
  CHECK(refused("latitude_deg =\n") ==
        "site.ini:1:1: found \"\" for latitude_deg; expected a number");
  CHECK(refused("latitude_deg = 44,2\n") ==
        "site.ini:1:1: found \"44,2\" for latitude_deg; expected a number");
  CHECK(refused("latitude_deg = 44.2N\n") ==
        "site.ini:1:1: found \"44.2N\" for latitude_deg; expected a number");
  CHECK(refused("latitude_deg = 442\n") ==
        "site.ini:1:1: found \"442\" for latitude_deg; expected -90 to 90");
  CHECK(refused("[weather]\n") ==
        "site.ini:1:1: found \"[weather]\"; expected a line such as latitude_deg = 44.2");
  CHECK(refused("") ==
        "site.ini: found no site values; expected lines such as latitude_deg = 44.2");
  CHECK(refused("# nothing\n[site]\n") ==
        "site.ini: found no site values; expected lines such as latitude_deg = 44.2");
}

TEST_CASE("site: every problem of an INI file at once") {
  CHECK(refused("latitude_deg = 91\nelevation_m = high\nhello\nutc_offset_h = 1\nutc_offset_h = 2\n"
                "wind_height = 10\n") ==
        "site.ini:1:1: found \"91\" for latitude_deg; expected -90 to 90\n"
        "site.ini:2:1: found \"high\" for elevation_m; expected a number\n"
        "site.ini:3:1: found \"hello\"; expected a line such as latitude_deg = 44.2\n"
        "site.ini:5:1: found utc_offset_h a second time; expected it once\n"
        "site.ini:6:1: found unknown key \"wind_height\"; expected one of " +
            all_keys + "; nearest: wind_height_m");
}

TEST_CASE("site: the range of each value") {
  struct Range {
    const char* key;
    double low;
    double high;
    const char* text;
  };
  for (const Range& range : {Range{"latitude_deg", -90.0, 90.0, "-90 to 90"},
                             Range{"elevation_m", -500.0, 9000.0, "-500 to 9000"},
                             Range{"wind_height_m", 0.5, 200.0, "0.5 to 200"},
                             Range{"longitude_deg", -180.0, 180.0, "-180 to 180"},
                             Range{"utc_offset_h", -14.0, 14.0, "-14 to 14"}}) {
    CAPTURE(range.key);
    SiteValues values;
    CHECK(set_site_value(values, range.key, range.low).empty());
    CHECK(set_site_value(values, range.key, range.high).empty());
    CHECK(set_site_value(values, range.key, std::nextafter(range.low, -1e9)) == range.text);
    CHECK(set_site_value(values, range.key, std::nextafter(range.high, 1e9)) == range.text);
    CHECK(set_site_value(values, range.key, std::numeric_limits<double>::quiet_NaN()) ==
          range.text);
  }
}

TEST_CASE("site: a refused value leaves what was there") {
  SiteValues values;
  CHECK(set_site_value(values, "latitude_deg", 44.0).empty());
  CHECK_FALSE(set_site_value(values, "latitude_deg", 144.0).empty());
  CHECK(values.latitude_deg == 44.0);
}

TEST_CASE("site: every key is known and sets a value of its own") {
  CHECK(site_keys() == std::vector<std::string>{"latitude_deg", "elevation_m", "wind_height_m",
                                                "longitude_deg", "utc_offset_h"});
  SiteValues values;
  double number = 1.0;
  for (const std::string& key : site_keys()) CHECK(set_site_value(values, key, number++).empty());
  CHECK(values.latitude_deg == 1.0);
  CHECK(values.elevation_m == 2.0);
  CHECK(values.wind_height_m == 3.0);
  CHECK(values.longitude_deg == 4.0);
  CHECK(values.utc_offset_h == 5.0);
}

TEST_CASE("site: values in the comments of a weather file") {
  const auto [values, problems] = comments(
      "# Invented weather. a = b\n# latitude_deg = 44.2\n#elevation_m=210\n# wind_height_m = 10\n");
  CHECK(problems == "nothing refused");
  CHECK(values.latitude_deg == 44.2);
  CHECK(values.elevation_m == 210.0);
  CHECK(values.wind_height_m == 10.0);
  CHECK_FALSE(values.longitude_deg);
}

TEST_CASE("site: bad values in the comments of a weather file") {
  const auto [values, problems] = comments(
      "# latitude_deg = 44.2 N\n# a remark\n# elevation_m = 21000\n# longitude_deg = 10\n");
  CHECK(problems ==
        "w.csv:1:1: found \"44.2 N\" for latitude_deg; expected a number\n"
        "w.csv:3:1: found \"21000\" for elevation_m; expected -500 to 9000");
  CHECK_FALSE(values.latitude_deg);
  CHECK_FALSE(values.elevation_m);
  CHECK(values.longitude_deg == 10.0);
}

TEST_CASE("site: values given twice in comments are refused, as they are in an INI file") {
  const auto [values, problems] = comments("# latitude_deg = 44\n# latitude_deg = 51\n");
  CHECK(problems == "w.csv:2:1: found latitude_deg a second time; expected it once");
}

TEST_CASE("site: one source after another") {
  SiteValues options;
  options.elevation_m = 300.0;
  SiteValues file;
  file.latitude_deg = 44.0;
  file.elevation_m = 210.0;
  file.utc_offset_h = 1.0;
  const SiteValues both = options.or_else(file);
  CHECK(both.elevation_m == 300.0);
  CHECK(both.latitude_deg == 44.0);
  CHECK(both.utc_offset_h == 1.0);
  CHECK_FALSE(both.wind_height_m);
  CHECK_FALSE(both.longitude_deg);
}

TEST_CASE("site: clock time is solar time unless longitude and offset are both known") {
  Site place;
  CHECK(place.clock_is_solar());
  place.longitude_deg = 10.0;
  CHECK(place.clock_is_solar());
  place.utc_offset_h = 1.0;
  CHECK_FALSE(place.clock_is_solar());
  place.longitude_deg = std::nullopt;
  CHECK(place.clock_is_solar());
}

}  // namespace wiltline::test
