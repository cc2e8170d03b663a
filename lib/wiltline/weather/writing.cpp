#include "wiltline/weather/writing.hpp"

#include <fmt/format.h>

#include <optional>
#include <string_view>
#include <vector>

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
  for (std::size_t i = 0; i < record.size(); ++i) filled += record.day(i).filled ? 1 : 0;
  std::vector<OwnColumn> columns;  // of the readings that any day has
  for (const OwnColumn& column : own_columns) {
    std::size_t i = 0;
    if (column.element == nullptr) continue;
    while (i < record.size() && !(record.day(i).*column.element)) ++i;
    if (i < record.size()) columns.push_back(column);
  }
  if (filled > 0) text += fmt::format("# {} of the days were filled in, not measured\n", filled);
  text += "date,tmin_c,tmax_c";
  for (const OwnColumn& column : columns) text += ',' + column.name();
  text += '\n';
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& day = record.day(i);
    text += fmt::format("{},{},{}", to_string(record.date(i)), shortest(day.tmin_c),
                        shortest(day.tmax_c));
    for (const OwnColumn& column : columns) {
      const std::optional<double>& value = day.*column.element;
      text += ',' + (value ? shortest(*value) : std::string());
    }
    text += '\n';
  }
  return text;
}

}  // namespace wiltline
