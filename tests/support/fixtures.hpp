// The built-in catalogue, the sample and the observed weather, and a garden of one row.
#pragma once

#include <string>
#include <vector>

#include "wiltline/base/files.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {

inline const Catalogue& catalogue() {
  static const Catalogue known = read_catalogue(builtin_tables());
  return known;
}

/// Invented weather, weather-samples/.
inline WeatherRecord sample(const std::string& name) {
  return read_weather(read_file(std::string(WILTLINE_SOURCE) + "/weather-samples/" + name), {});
}

/// Observed weather, real-weather/.
inline WeatherRecord real(const std::string& name) {
  return read_weather(read_file(std::string(WILTLINE_TEST_DATA) + "/real-weather/" + name), {});
}

/// `rest`: pot, mix, plants, planted, spot and routine, after the crop.
inline Planting one_row(const std::string& crop, const std::string& rest,
                        const std::string& extra_header = "", const std::string& extra = "") {
  const std::string text = "name,crop,pot,mix,plants,planted,spot,routine" + extra_header +
                           "\nit," + crop + "," + rest + extra + "\n";
  return read_garden({"garden.csv", text}, catalogue()).front();
}

/// The plantings of rows `name,crop,pot,mix,plants,planted,spot,routine`.
inline std::vector<Planting> plantings(const std::string& rows) {
  return read_garden({"garden.csv", "name,crop,pot,mix,plants,planted,spot,routine\n" + rows},
                     catalogue());
}

}  // namespace wiltline::test
