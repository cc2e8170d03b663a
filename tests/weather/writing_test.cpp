// A record as one of our own files.
#include "wiltline/weather/writing.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"

namespace wiltline::test {

TEST_CASE("a record written as one of our files reads back as itself") {
  std::vector<WeatherRecord> records;
  for (const char* name : {"seattle.csv", "new-york.csv"}) records.push_back(real(name));
  for (const char* name :
       {"port-okaree.csv", "skerrowick.csv", "tolvenau.csv", "zarquil-flats.csv"}) {
    records.push_back(sample(name));
  }
  for (const WeatherRecord& record : records) {
    CAPTURE(record.name());
    const WeatherFile again = read_weather_file({"again.csv", weather_text(record)});
    CHECK(again.understood.own);
    const WeatherRecord& read = again.places.front().record;
    REQUIRE(read.size() == record.size());
    CHECK(read.first() == record.first());
    std::size_t other = 0;
    for (std::size_t i = 0; i < record.size(); ++i) {
      if (!(read.day(i) == record.day(i))) ++other;
    }
    CHECK(other == 0);
    CHECK(read.site().latitude_deg == record.site().latitude_deg);
    CHECK(read.site().elevation_m == record.site().elevation_m);
    CHECK(read.site().wind_height_m == record.site().wind_height_m);
    CHECK(read.site().longitude_deg == record.site().longitude_deg);
    CHECK(read.site().utc_offset_h == record.site().utc_offset_h);
  }
}

TEST_CASE("a blank stays a blank, filled days are counted, generated ones said") {
  Site site;
  site.latitude_deg = 45.0;
  std::vector<WeatherDay> days(2);
  for (WeatherDay& day : days) {
    day.tmin_c = 8.0;
    day.tmax_c = 21.5;
  }
  days[0].rain_mm = 0.0;
  days[1].filled = true;
  const WeatherRecord record =
      WeatherRecord("made", site, make_date(2024, 6, 1), days, true).as_generated();
  CHECK(weather_text(record) ==
        "# latitude_deg = 45\n# elevation_m = 0\n# generated_days = yes\n"
        "# 1 of the days were filled in, not measured\n"
        "date,tmin_c,tmax_c,rain_mm\n2024-06-01,8,21.5,0\n2024-06-02,8,21.5,\n");
}

}  // namespace wiltline::test
