// Hours of rows. (Their days: hours_test.)
#include "wiltline/weather/table_hours.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"
#include "weather/opened.hpp"
#include "wiltline/weather/table_times.hpp"

namespace wiltline::test {
namespace {

HourlyReadings hours_of(OpenTable& open, SiteValues& site) {
  Readings readings(open);
  const TableTimes times = read_times(open, std::nullopt);
  return read_hours(open, readings, times.rows, 1.0, site);
}

}  // namespace

TEST_CASE("hours in UTC go to the clock of the site, or of its longitude") {
  const std::string text = "timestamp,temp (C)\n2014-06-01T02:00Z,8\n2014-06-01T03:00Z,9\n";
  OpenTable open = opened(text);
  SiteValues site;
  site.longitude_deg = -60.0;
  const HourlyReadings hours = hours_of(open, site);
  REQUIRE(hours.hours.size() == 2);
  CHECK(hours.hours[0].begin.date == make_date(2014, 5, 31));
  CHECK(near(hours.hours[0].begin.hour, 22.0, 1e-9));
  CHECK(hours.hours[0].line == 2);
  CHECK(site.utc_offset_h == -4.0);
  CHECK(open.said.remarks.size() == 1);
}

TEST_CASE("an hour that ends at 24:00 began at 23:00, and watts are a mean over the step") {
  OpenTable open =
      opened("date,time,temp (C),solar (W/m2)\n2014-06-01,23:00,8,0\n2014-06-01,24:00,9,100\n");
  SiteValues site;
  const HourlyReadings hours = hours_of(open, site);
  REQUIRE(hours.hours.size() == 2);
  CHECK(near(hours.hours[1].begin.hour, 23.0, 1e-9));
  CHECK(near(hours.hours[1].solar_mj_m2.value(), 0.36, 1e-12));  // 100 W over 3600 s
  CHECK_FALSE(site.utc_offset_h);
}

TEST_CASE("the days of hours have the columns that the table has") {
  OpenTable open = opened("timestamp,temp (C),rh,wind (m/s)\n2014-06-01 00:00,8,50,2\n");
  HourlyReadings hours;
  for (int hour = 0; hour < 24; ++hour) {
    WeatherHour one;
    one.begin = {make_date(2014, 6, 1), static_cast<double>(hour)};
    one.line = 2;
    one.temperature_c = hour;
    one.vapour_pressure_kpa = 1.0;
    hours.hours.push_back(one);
  }
  OwnText own(1, "date");
  write_days_of_hours(open, hours, own);
  CHECK(own.text() == "date,tmin_c,tmax_c,vapour_pressure_kpa,wind_m_s\n2014-06-01,0,23,1,\n");
  CHECK(own.where_it_stood({"w.csv", 2, 1, "this", "that"}).line == 2);
}

}  // namespace wiltline::test
