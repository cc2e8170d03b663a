// Weather of one place that stands in several files.
#pragma once

#include <vector>

#include "wiltline/weather/reading.hpp"

namespace wiltline {

/// Joins what is of one place: the same site to the last digit, days that follow each other or
/// overlap. The rest stays apart, in the order of its first file. Throws InputError where two files
/// say different things of one day.
[[nodiscard]] std::vector<PlaceWeather> joined(std::vector<PlaceWeather> places);

}  // namespace wiltline
