#include "wiltline/weather/writing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "wiltline/base/numbers.hpp"

namespace wiltline {
namespace {

using Element = std::optional<double> WeatherDay::*;
constexpr std::array<std::pair<std::string_view, Element>, 9> elements{{
    {"dewpoint_c", &WeatherDay::dew_point_c},
    {"vapour_pressure_kpa", &WeatherDay::vapour_pressure_kpa},
    {"rh_max_pct", &WeatherDay::rh_max_pct},
    {"rh_min_pct", &WeatherDay::rh_min_pct},
    {"rh_mean_pct", &WeatherDay::rh_mean_pct},
    {"wind_m_s", &WeatherDay::wind_m_s},
    {"solar_mj_m2", &WeatherDay::solar_mj_m2},
    {"sunshine_h", &WeatherDay::sunshine_h},
    {"rain_mm", &WeatherDay::rain_mm},
}};

void append_site(std::string& text, const WeatherRecord& record) {
  const Site& site = record.site();
  const auto line = [&](std::string_view key, double value) {
    text += fmt::format("# {} = {}\n", key, shortest(value));
  };
  line("latitude_deg", site.latitude_deg);
  line("elevation_m", site.elevation_m);
  if (record.has_wind()) line("wind_height_m", site.wind_height_m);
  if (site.longitude_deg) line("longitude_deg", *site.longitude_deg);
  if (site.utc_offset_h) line("utc_offset_h", *site.utc_offset_h);
  if (record.generated()) text += "# generated_days = yes\n";
}

}  // namespace

std::string weather_text(const WeatherRecord& record) {
  std::string text;
  append_site(text, record);
  std::size_t filled = 0;
  std::array<bool, elements.size()> there{};
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    if (day.filled) ++filled;
    for (std::size_t k = 0; k < elements.size(); ++k) {
      there[k] = there[k] || (day.*elements[k].second).has_value();
    }
  }
  if (filled > 0) text += fmt::format("# {} of the days were filled in, not measured\n", filled);
  text += "date,tmin_c,tmax_c";
  for (std::size_t k = 0; k < elements.size(); ++k) {
    if (there[k]) text += fmt::format(",{}", elements[k].first);
  }
  text += '\n';
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    text += fmt::format("{},{},{}", to_string(record.date(i)), shortest(day.tmin_c),
                        shortest(day.tmax_c));
    for (std::size_t k = 0; k < elements.size(); ++k) {
      if (!there[k]) continue;
      text += ',';
      if (const auto& value = day.*elements[k].second) text += shortest(*value);
    }
    text += '\n';
  }
  return text;
}

}  // namespace wiltline
