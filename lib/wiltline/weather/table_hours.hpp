// Hours out of the rows of a table, put on the site's clock, and the text of the days they make.
#pragma once

#include <span>

#include "wiltline/weather/hours.hpp"
#include "wiltline/weather/own_text.hpp"
#include "wiltline/weather/readings.hpp"
#include "wiltline/weather/site.hpp"

namespace wiltline {

/// The hours of one place's rows, `step_h` apart. `site` is given the clock's offset where the rows
/// say it. Says what was assumed; complains of hours that stand twice or in no order.
[[nodiscard]] HourlyReadings read_hours(OpenTable& open, Readings& readings,
                                        std::span<const TimedRow> rows, double step_h,
                                        SiteValues& site);

/// The days that the hours make, of the readings for which the table has columns. Says where hours
/// were missing.
void write_days_of_hours(OpenTable& open, const HourlyReadings& hours, OwnText& own);

}  // namespace wiltline
