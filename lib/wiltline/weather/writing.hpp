// A record as one of our own files.
#pragma once

#include <string>

#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// The record with its site lines, a column for each reading that any day has. Every number is the
/// shortest that reads back as the same: read_weather gives the same days to the last bit, those
/// that were filled in excepted, which read as if measured (a comment line counts them).
[[nodiscard]] std::string weather_text(const WeatherRecord& record);

}  // namespace wiltline
