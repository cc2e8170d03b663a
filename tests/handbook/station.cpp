#include "handbook/station.hpp"

#include <algorithm>
#include <cmath>

#include "handbook/rows.hpp"
#include "wiltline/evapotranspiration/daily.hpp"

namespace wiltline::test {

StationCheck station_check() {
  const printed::Table table(WILTLINE_TEST_DATA "/reference/zurich-affoltern-2016.csv");
  Site site;
  site.latitude_deg = 47.427694;
  site.elevation_m = 444.0;
  site.wind_height_m = 10.0;
  StationCheck check{.days = table.rows()};
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto value = [&](const char* column) { return printed::number(table.cell(row, column)); };
    WeatherDay day;
    day.tmin_c = value("tmin_c");
    day.tmax_c = value("tmax_c");
    day.vapour_pressure_kpa = value("vapour_pressure_kpa");
    day.wind_m_s = value("wind_m_s");
    day.solar_mj_m2 = value("solar_mj_m2");
    const Date date = parse_date(table.cell(row, "date")).value();
    const double ours_mm = reference_day(site, date, day, {}).et0.total_mm();
    const double published_mm = value("et0_mm");
    check.ours_mm += ours_mm;
    check.published_mm += published_mm;
    check.largest_difference_mm =
        std::max(check.largest_difference_mm, std::abs(ours_mm - published_mm));
  }
  check.mean_difference_mm = (check.ours_mm - check.published_mm) / static_cast<double>(check.days);
  return check;
}

}  // namespace wiltline::test
