#include "wiltline/weather/writing.hpp"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "wiltline/base/numbers.hpp"
#include "wiltline/weather/own_text.hpp"

namespace wiltline {
namespace {

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
  std::array<bool, own_columns.size()> there{};
  const auto has = [](const WeatherDay& day, const OwnColumn& column) {
    return column.element != nullptr && (day.*column.element).has_value();
  };
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    if (day.filled) ++filled;
    for (std::size_t k = 0; k < own_columns.size(); ++k) {
      there[k] = there[k] || has(day, own_columns[k]);
    }
  }
  if (filled > 0) text += fmt::format("# {} of the days were filled in, not measured\n", filled);
  text += "date,tmin_c,tmax_c";
  for (std::size_t k = 0; k < own_columns.size(); ++k) {
    if (there[k]) text += fmt::format(",{}", own_columns[k].name());
  }
  text += '\n';
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    text += fmt::format("{},{},{}", to_string(record.date(i)), shortest(day.tmin_c),
                        shortest(day.tmax_c));
    for (std::size_t k = 0; k < own_columns.size(); ++k) {
      if (!there[k]) continue;
      text += ',';
      if (has(day, own_columns[k])) text += shortest(*(day.*own_columns[k].element));
    }
    text += '\n';
  }
  return text;
}

}  // namespace wiltline
