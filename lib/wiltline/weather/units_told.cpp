#include "wiltline/weather/units_told.hpp"

#include <cmath>

#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

// Records of the world are 56.7 and -89.2 °C, 1825 mm in a day and 26 m in a year (from memory).
constexpr double hottest_c = 58.0;
constexpr double coldest_c = -75.0;  // of where anybody keeps a station but in Antarctica (judged)
constexpr double wettest_day_mm = 2000.0;
constexpr double wettest_year_mm = 15000.0;   // the wettest places' mean is some 12000 mm
constexpr double brightest_day_mj_m2 = 48.0;  // above the extraterrestrial of any day, 47.x
// What every year has in the middle latitudes (judged): even on cold islands of the far south the
// warmest day of a year is above this, and the brightest anywhere above that.
constexpr double warmest_at_least_c = 13.0;
constexpr double brightest_at_least_mj_m2 = 8.0;
constexpr double year_days = 300.0;
constexpr double middle_latitude_deg = 60.0;
constexpr double middle_elevation_m = 3000.0;

}  // namespace

std::vector<std::string_view> units_of(std::string_view kind) {
  if (kind == "temperature") return {"°C", "°F"};
  if (kind == "depth") return {"mm", "in"};
  if (kind == "radiation") return {"MJ/m2", "W/m2"};
  if (kind == "speed") return {"m/s", "km/h", "mph", "kn"};
  if (kind == "pressure") return {"kPa", "hPa"};
  return {};
}

bool makes_sense(const NumbersOfColumn& numbers, const ScaledUnit& unit, const SiteValues& site) {
  if (numbers.count == 0) return true;
  const double highest = unit.convert(numbers.highest);
  const double lowest = unit.convert(numbers.lowest);
  const bool whole_year = numbers.days >= year_days && site.latitude_deg && site.elevation_m &&
                          std::abs(*site.latitude_deg) < middle_latitude_deg &&
                          *site.elevation_m < middle_elevation_m;
  const std::string_view kind = unit.unit->kind;
  if (kind == "temperature") {
    return highest <= hottest_c && lowest >= coldest_c &&
           !(whole_year && highest < warmest_at_least_c);
  }
  if (kind == "depth") {
    const double sum = unit.convert(numbers.sum);
    return highest <= wettest_day_mm &&
           !(numbers.days >= year_days &&
             sum / numbers.days * units::days_per_year > wettest_year_mm);
  }
  if (kind == "radiation") {
    return highest <= brightest_day_mj_m2 && !(whole_year && highest < brightest_at_least_mj_m2);
  }
  return true;
}

}  // namespace wiltline
