// Reference ET of hours against FAO-56 Example 19, and their sum against the day.
#include "wiltline/evapotranspiration/hourly.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

/// FAO-56 (1998), Example 19: 1 October, 16°13' N, 16°15' W, 8 m, clock of 15° W, wind at 2 m.
Site example_site() {
  Site site;
  site.latitude_deg = 16.0 + 13.0 / 60.0;
  site.elevation_m = 8.0;
  site.longitude_deg = -16.25;
  site.utc_offset_h = -1.0;
  return site;
}

WeatherHour hour_of(double begin_h, double temperature_c, double rh_pct, double wind_m_s,
                    double solar_mj_m2) {
  WeatherHour hour;
  hour.begin = {make_date(2023, 10, 1), begin_h};
  hour.temperature_c = temperature_c;
  hour.vapour_pressure_kpa = hourly_vapour_pressure_kpa(temperature_c, rh_pct);
  hour.wind_m_s = wind_m_s;
  hour.solar_mj_m2 = solar_mj_m2;
  return hour;
}

WeatherFile logger() {
  return read_weather_file(
      read_file(std::string(WILTLINE_SOURCE) + "/weather-samples/layouts/logger-hours.csv"));
}

}  // namespace

TEST_CASE("FAO-56 Example 19 by its two hours") {
  HourlyReadings readings;
  readings.hours = {hour_of(2.0, 28.0, 90.0, 1.9, 0.0), hour_of(14.0, 38.0, 52.0, 3.3, 2.45)};
  const auto hours = reference_hours("example", example_site(), readings);
  REQUIRE(hours.size() == 2);
  CHECK(near(hours[1].ra_mj_m2, 3.543, 5e-4));
  CHECK(near(hours[1].rn_mj_m2, 1.749, 5e-3));
  CHECK(near(hours[1].et0.total_mm(), 0.63, 5e-3));
  // The example takes Rs/Rso as 0.8 at night; here it is the afternoon's, 0.92, held: 0.00 mm both.
  CHECK(hours[0].ra_mj_m2 == 0.0);
  CHECK(near(hours[0].et0.total_mm(), 0.0, 5e-3));
}

TEST_CASE("parts of an hour add up to the hour") {
  HourlyReadings whole;
  HourlyReadings parts;
  parts.step_h = 0.25;
  whole.hours = {hour_of(14.0, 38.0, 52.0, 3.3, 2.45)};
  for (int k = 0; k < 4; ++k) {
    parts.hours.push_back(hour_of(14.0 + 0.25 * k, 38.0, 52.0, 3.3, 2.45 / 4.0));
  }
  double sum_mm = 0.0;
  double ra_mj_m2 = 0.0;
  for (const ReferenceHour& hour : reference_hours("parts", example_site(), parts)) {
    sum_mm += hour.et0.total_mm();
    ra_mj_m2 += hour.ra_mj_m2;
  }
  const ReferenceHour one = reference_hours("whole", example_site(), whole).front();
  CHECK(near(ra_mj_m2, one.ra_mj_m2, 1e-9));
  // Cloudiness of each part is its own; the radiation of the example is not the sky's course.
  CHECK(near(sum_mm, one.et0.total_mm(), 0.01));
}

TEST_CASE("hours of a month, and their days by the daily equation") {
  const WeatherFile file = logger();
  const WeatherRecord& record = file.places.front().record;
  const HourlyReadings& readings = file.places.front().hours.value();
  const auto hours = reference_hours(record.name(), record.site(), readings);
  CHECK(hours.size() == 31 * 24);
  const auto days = compare_with_days(hours, readings.step_h, record, reference_days(record));
  REQUIRE(days.size() == 31);
  double by_hours = 0.0;
  double by_days = 0.0;
  for (const HourlyDay& day : days) {
    by_hours += day.by_hours_mm;
    by_days += day.by_day_mm;
  }
  // With the day's surface resistance the hours add up to less than the day, by some percent: it is
  // why Allen et al. (2006) advise another for hours (from memory). The limits are judged.
  CHECK(by_hours < by_days);
  CHECK(by_hours > 0.85 * by_days);
  // The sun is over the pots where radiation was measured: clock and longitude agree.
  for (const ReferenceHour& hour : hours) {
    CAPTURE(to_string(hour.begin));
    CHECK(hour.rs_mj_m2 <= 0.9 * hour.ra_mj_m2 + 0.25);
  }
}

TEST_CASE("hours without sun or humidity are refused") {
  HourlyReadings readings;
  readings.hours = {hour_of(14.0, 38.0, 52.0, 3.3, 2.45)};
  readings.hours[0].solar_mj_m2.reset();
  readings.hours[0].vapour_pressure_kpa.reset();
  CHECK(refusal([&] { (void)reference_hours("w.csv", example_site(), readings); }) ==
        "w.csv: found hours without solar radiation; expected it, for reference evapotranspiration "
        "by "
        "the hour (the day's can do without)\n"
        "w.csv: found hours without humidity or dew point; expected one of them, for reference "
        "evapotranspiration by the hour");
}

}  // namespace wiltline::test
