// What a forecast was answered, as rows and as text for people.
#pragma once

#include <string>
#include <vector>

#include "calendar.hpp"
#include "report.hpp"
#include "wiltline/questions/forecast.hpp"

namespace wiltline::cli {

/// `learned`: with what readings made of the pots.
[[nodiscard]] Table<PlantingForecast> forecast_table(bool uncertain, bool learned);

/// The next watering of each pot as a calendar has it, and what goes dry before anybody comes.
[[nodiscard]] std::vector<CalendarLine> forecast_calendar(const ForecastResult& result,
                                                          const ForecastOptions& options, bool us);
/// Heading, sentence and picture of a page: when each pot wants water.
void add_forecast_picture(const ForecastResult& result, const ForecastOptions& options,
                          Report& report);

/// First what to water today and tomorrow, then the table, most urgent first, and the notes.
[[nodiscard]] std::string forecast_table_text(const ForecastResult& result,
                                              const ForecastOptions& options, const Report& report,
                                              bool us);

}  // namespace wiltline::cli
