#include "wiltline/tables/forecast_columns.hpp"

namespace wiltline::tables {

std::string left_out(const PlantingForecast& pot) {
  std::string times;
  if (!pot.update) return times;
  for (const DoubtfulReading& one : pot.update->doubtful) {
    if (!one.believed) times += (times.empty() ? "" : " ") + to_string(one.reading.when);
  }
  return times;
}

}  // namespace wiltline::tables
