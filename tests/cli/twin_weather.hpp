// Invented weather written in metric and in US units.
#pragma once

#include <fmt/format.h>

#include <string>

#include "support/random.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline::test {

/// The same invented summer twice: tenths of °C, 5/9 of them whole in °F; rain in hundredths of an
/// inch; wind in tenths of a mile an hour.
struct TwinWeather {
  std::string metric;
  std::string us;
};

inline TwinWeather twin_summer(double latitude_deg, Date first, int days) {
  const std::string site =
      fmt::format("# latitude_deg = {}\n# elevation_m = 120\n# wind_height_m = 2\n", latitude_deg);
  TwinWeather weather{site + "date,tmin_c,tmax_c,wind_m_s,rain_mm\n",
                      site + "date,tmin_f,tmax_f,wind_mph,rain_in\n"};
  Random random(5);
  for (int i = 0; i < days; ++i) {
    const std::string date = to_string(first + std::chrono::days(i));
    const int low = 10 + static_cast<int>(random.below(8));
    const int high = low + 6 + static_cast<int>(random.below(14));
    const int wind_tenth_mph = 20 + static_cast<int>(random.below(80));
    const int rain_in_hundredths = random.chance(0.2) ? static_cast<int>(random.below(60)) : 0;
    weather.metric += fmt::format("{},{},{},{:.6f},{:.3f}\n", date, low, high,
                                  wind_tenth_mph * 0.044704, rain_in_hundredths * 0.254);
    weather.us += fmt::format("{},{:.1f},{:.1f},{:.1f},{:.2f}\n", date, low * 1.8 + 32.0,
                              high * 1.8 + 32.0, wind_tenth_mph / 10.0, rain_in_hundredths / 100.0);
  }
  return weather;
}

}  // namespace wiltline::test
