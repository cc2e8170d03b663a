// What a forecast was answered, as rows and as text for people.
#pragma once

#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/questions/forecast.hpp"

namespace wiltline::cli {

/// Under forecast_columns() and, `uncertain`, forecast_uncertain_columns().
[[nodiscard]] std::vector<Cell> forecast_row(const PlantingForecast& pot, bool uncertain);

/// First what to water today and tomorrow, then the table, most urgent first, and the notes.
[[nodiscard]] std::string forecast_table_text(const ForecastResult& result,
                                              const ForecastOptions& options, const Report& report,
                                              bool us);

}  // namespace wiltline::cli
