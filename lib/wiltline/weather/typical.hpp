// Plausible days where no record is at hand: drawn from monthly means that anyone can look up.
//
// Never a measurement and never a forecast: the months have the right means, the order of the days
// is chance. A record made so says so (WeatherRecord::generated).
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>

#include "wiltline/base/files.hpp"
#include "wiltline/weather/site.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// What tables of climate say of one month: means over many years.
struct MonthlyMeans {
  double tmax_c = 0.0;     // mean of the days' highest temperatures
  double tmin_c = 0.0;     // mean of the days' lowest
  double rain_mm = 0.0;    // of the whole month
  double rain_days = 0.0;  // days with rain, [0, days of the month]
  std::optional<double> wind_m_s;
  std::optional<double> dew_point_c;
  std::optional<double> rh_mean_pct;
  std::optional<double> sunshine_h;  // a day
};

/// A place by its months, January first. An element is known in all months or in none.
struct Climate {
  std::string name;
  Site site;
  std::array<MonthlyMeans, 12> months{};
};

/// Reads twelve rows (`month,tmax_c,tmin_c,rain_mm,rain_days` and any of `wind_m_s`, `dewpoint_c`,
/// `rh_mean_pct`, `sunshine_h`; also in °F, inches, km/h and mph), with the site lines of a weather
/// file. `site` goes before them, `otherwise` behind. Throws InputError: anything missing, twice,
/// blank or out of range; months that contradict themselves (rain without rain days, more sunshine
/// than daylight, a dew point above the highest temperature).
[[nodiscard]] Climate read_climate(FileBytes file, const SiteValues& site = {},
                                   const SiteValues& otherwise = {});

/// At most so many years are drawn at once.
inline constexpr int most_typical_years = 200;

/// `years` whole calendar years of plausible days from 1 January of `first_year`, the same for the
/// same seed. Over many years the means of a month come near those given, chance aside.
///
/// Wet and dry days follow each other by a first-order chain with two states, its transitions from
/// the share of wet days (Geng, Penning de Vries and Supit 1986, Agricultural and Forest
/// Meteorology 36, from memory); rain of a wet day is gamma distributed, scale from the same paper.
/// Deviations of highest and lowest temperature and of sunshine from their seasonal means, which
/// differ between wet and dry days, follow a first-order autoregression of three variables with the
/// matrices of Richardson and Wright 1984 (USDA ARS-8, from memory). How large the deviations are,
/// how much wet days differ, and wind are judged; typical.cpp says each.
///
/// Throws RequestError for years outside [1, most_typical_years] or a first year outside
/// [1, 9999 - years].
[[nodiscard]] WeatherRecord typical_weather(const Climate& climate, int years, std::uint64_t seed,
                                            int first_year = 2001);

}  // namespace wiltline
