// What tests of questions start from: the built-in tables, sample weather, gardens in a line.
#pragma once

#include <string>
#include <vector>

#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {

inline const Catalogue& known() {
  static const Catalogue catalogue = read_catalogue(builtin_tables());
  return catalogue;
}

inline WeatherRecord sample_weather(const std::string& name) {
  return read_weather(read_file(std::string(WILTLINE_SOURCE) + "/weather-samples/" + name + ".csv"),
                      {});
}

/// The plantings of rows `name,crop,pot,mix,plants,planted,spot,routine`.
inline std::vector<Planting> plantings(const std::string& rows) {
  return read_garden({"garden.csv", "name,crop,pot,mix,plants,planted,spot,routine\n" + rows},
                     known());
}

}  // namespace wiltline::test
