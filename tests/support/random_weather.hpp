// Random weather for property tests: plausible for its site and day, every reading within what
// read_weather lets pass.
#pragma once

#include <algorithm>
#include <vector>

#include "support/random.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"

namespace wiltline::test {

inline Site site_at(double latitude_deg, double elevation_m) {
  Site site;
  site.latitude_deg = latitude_deg;
  site.elevation_m = elevation_m;
  return site;
}

/// A day's temperatures, vapour pressure, wind, sunshine's radiation and rain.
inline WeatherDay random_weather_day(Random& random, const Site& site, Date date,
                                     double warmest_night_c = 25.0) {
  WeatherDay day;
  day.tmin_c = random.uniform(warmest_night_c - 30.0, warmest_night_c);
  day.tmax_c = day.tmin_c + random.uniform(2.0, 18.0);
  day.vapour_pressure_kpa = saturation_vapour_pressure_kpa(day.tmin_c) * random.uniform(0.3, 1.0);
  day.wind_m_s = random.uniform(0.0, 8.0);
  day.rain_mm = random.chance(0.25) ? random.uniform(0.0, 40.0) : 0.0;
  const double ra_mj_m2 = reference_day(site, date, day).ra_mj_m2;
  day.solar_mj_m2 = ra_mj_m2 * random.uniform(0.1, 0.77);
  return day;
}

inline WeatherRecord random_weather(Random& random, const Site& site, Date first, int days,
                                    double warmest_night_c = 25.0) {
  std::vector<WeatherDay> record;
  for (int i = 0; i < days; ++i) {
    record.push_back(
        random_weather_day(random, site, first + std::chrono::days(i), warmest_night_c));
  }
  return {"random", site, first, record, true};
}

}  // namespace wiltline::test
