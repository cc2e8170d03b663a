#include "wiltline/garden/planting.hpp"

namespace wiltline {

bool falls_on(const PlantingDay& day, Date date) {
  if (const auto* exact = std::get_if<Date>(&day)) return *exact == date;
  return std::get<MonthDay>(day).in_year(year_of(date)) == date;
}

}  // namespace wiltline
