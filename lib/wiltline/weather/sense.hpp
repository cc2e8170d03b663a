// Nonsense that is within range: what a whole record says against what places of the Earth are
// like.
#pragma once

#include <string>
#include <vector>

#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// What looks wrong with a record as a whole, one text each, with the likely cause: rain of a year,
/// mean wind, the daily range, dew points above the lowest temperature, radiation against a clear
/// sky, humidity that stands still, temperatures against latitude and season. Nothing is repaired.
/// Every limit is stated in sense.cpp; a record of under thirty days says nothing.
[[nodiscard]] std::vector<std::string> doubts(const WeatherRecord& record);

}  // namespace wiltline
