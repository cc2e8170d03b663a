#include "wiltline/garden/planting.hpp"

#include <algorithm>
#include <cmath>

namespace wiltline {

bool falls_on(const PlantingDay& day, Date date) {
  if (const auto* exact = std::get_if<Date>(&day)) return *exact == date;
  return std::get<MonthDay>(day).in_year(year_of(date)) == date;
}

MonthDay usual_planting_day(bool south) {
  return south ? MonthDay{11, 15} : MonthDay{5, 15};
}

int usual_plants(const Crop& crop) {
  return std::max(1, static_cast<int>(std::lround(crop.plants_per_pot)));
}

}  // namespace wiltline
