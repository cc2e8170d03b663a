// Days for the tests of this room.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/near.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline::test {

/// Equal but for the last bits.
inline Near same(double actual, double expected) {
  return near(actual, expected, 1e-12 * std::max(1.0, std::abs(expected)));
}

/// The numbers from `first` to `last` in steps, both included.
inline std::vector<double> steps(double first, double last, double step) {
  std::vector<double> result(static_cast<std::size_t>(std::lround((last - first) / step)) + 1);
  for (std::size_t i = 0; i < result.size(); ++i) {
    result[i] = first + static_cast<double>(i) * step;
  }
  return result;
}

inline Site a_site() {
  Site site;
  site.latitude_deg = 45.0;
  site.elevation_m = 200.0;
  return site;
}

inline const Date a_summer_day = make_date(2023, 7, 15);

/// A mild summer day of which everything was observed. The humidities contradict each other on
/// purpose, so that each route gives another vapour pressure.
inline WeatherDay fully_observed() {
  WeatherDay day;
  day.tmin_c = 14.0;
  day.tmax_c = 27.0;
  day.dew_point_c = 13.0;
  day.vapour_pressure_kpa = 1.4;
  day.rh_max_pct = 90.0;
  day.rh_min_pct = 45.0;
  day.rh_mean_pct = 60.0;
  day.wind_m_s = 2.5;
  day.solar_mj_m2 = 24.0;
  day.sunshine_h = 10.0;
  day.rain_mm = 0.0;
  return day;
}

/// Days from frost to heat, dark to clear, calm to stormy, damp to dry, at places up to the pole.
template <typename Check>
void for_many_days(Check check) {
  for (const double latitude_deg : {-60.0, -20.0, 0.0, 35.0, 52.0, 90.0}) {
    for (const Date date : {make_date(2023, 1, 10), make_date(2023, 4, 20), a_summer_day}) {
      for (const double tmin_c : {-8.0, 5.0, 22.0}) {
        for (const double range_c : {0.0, 6.0, 18.0}) {
          for (const double dew_point_below_c : {-4.0, 0.0, 12.0}) {
            for (const double wind_m_s : {0.0, 1.5, 9.0}) {
              for (const double clearness : {0.05, 0.3, 0.75}) {
                Site site = a_site();
                site.latitude_deg = latitude_deg;
                WeatherDay day;
                day.tmin_c = tmin_c;
                day.tmax_c = tmin_c + range_c;
                day.dew_point_c = tmin_c - dew_point_below_c;
                day.wind_m_s = wind_m_s;
                day.solar_mj_m2 = clearness * extraterrestrial_radiation_mj_m2(
                                                  radians(latitude_deg), day_of_year(date));
                CAPTURE(latitude_deg);
                CAPTURE(to_string(date));
                CAPTURE(tmin_c);
                CAPTURE(range_c);
                CAPTURE(dew_point_below_c);
                CAPTURE(wind_m_s);
                CAPTURE(clearness);
                check(reference_day(site, date, day));
              }
            }
          }
        }
      }
    }
  }
}

}  // namespace wiltline::test
