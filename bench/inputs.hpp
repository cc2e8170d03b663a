// What the benchmarks share: a sample record and the built-in tables.
#pragma once

#include <string>

#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline {

inline const WeatherRecord& tolvenau() {
  static const WeatherRecord record =
      read_weather(read_file(std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv"), {});
  return record;
}

inline const Catalogue& catalogue() {
  static const Catalogue known = read_catalogue(builtin_tables());
  return known;
}

}  // namespace wiltline
