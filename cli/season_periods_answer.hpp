// A garden's seasons by month or week, as rows and as text for people.
#pragma once

#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/questions/season_periods.hpp"

namespace wiltline::cli {

/// A row of the answer.
struct PeriodRow {
  SeasonPeriod sums;
  PeriodLength length;
  const WeatherRecord* record = nullptr;
};

/// `weather`: there are several records.
[[nodiscard]] Table<PeriodRow> period_table(bool weather);
/// Heading and picture of a page: how often the whole garden asked for water and was given it.
void add_periods_picture(const std::vector<PeriodRow>& rows, Report& report);
[[nodiscard]] std::string period_table_text(const std::vector<PeriodRow>& rows, bool weather,
                                            const Report& report, bool us);

}  // namespace wiltline::cli
