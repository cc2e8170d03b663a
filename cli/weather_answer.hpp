// What a weather file was understood to say.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::cli {

/// A place of the files, and figures by which one sees whether it was understood.
struct WeatherRow {
  const WeatherRecord* record;
  std::size_t filled_days = 0;
  double coldest_c = 0.0;
  double hottest_c = 0.0;
  std::optional<double> wind_m_s;        // mean of the days that have it
  std::optional<double> rain_mm_a_year;  // of the days that have it
  double et0_mm_a_year = 0.0;
};

[[nodiscard]] WeatherRow weather_row(const WeatherRecord& record,
                                     const std::vector<ReferenceDay>& reference);

/// Heading and picture of a page: rain and reference ET by month, means of the years there are.
void add_months_picture(const WeatherRecord& record, const std::vector<ReferenceDay>& reference,
                        bool us, Report& report);

[[nodiscard]] Table<WeatherRow> weather_table();
/// What is said of a file, a few words on each thing.
[[nodiscard]] std::string parts_text(const std::string& file,
                                     const std::vector<std::string>& parts);
/// How each file was understood, a few lines each.
[[nodiscard]] std::string understood_text(const std::vector<Understanding>& understood);
/// The figures, for people.
[[nodiscard]] std::string weather_text_table(const std::vector<WeatherRow>& rows, bool us);

}  // namespace wiltline::cli
