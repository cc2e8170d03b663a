#include "wiltline/tables/quantity.hpp"

#include "wiltline/base/units.hpp"

namespace wiltline::tables {
namespace {

using enum Quantity;

struct Units {
  std::string_view metric;
  std::string_view us;
  double us_unit = 1.0;  // so much of the metric one
};

Units units_of(Quantity quantity) {
  constexpr double square_foot_m2 = units::m_per_foot * units::m_per_foot;
  switch (quantity) {
    case litres:
      return {"L", "gal", units::litres_per_us_gallon};
    case water_depth_mm:
      return {"mm", "in", units::mm_per_inch};
    case length_cm:
      return {"cm", "in", units::cm_per_inch};
    case area_m2:
      return {"m2", "ft2", square_foot_m2};
    case temperature_c:
      return {"°C", "°F"};  // in_units() has their zero
    case pressure_kpa:
      return {"kPa", "kPa"};
    case radiation_mj_m2:
      return {"MJ/m2", "MJ/m2"};
    case wind_m_s:
      return {"m/s", "mph", units::m_s_per_mph};
    case mass_kg:
      return {"kg", "lb", units::kg_per_pound};
    case hours:
      return {"h", "h"};
    case days:
      return {"days", "days"};
    case text:
    case count:
    case number:
    case volume_share:
      break;
  }
  return {"", ""};
}

}  // namespace

std::string_view unit_text(Quantity quantity, bool us) {
  return us ? units_of(quantity).us : units_of(quantity).metric;
}

double in_units(Quantity quantity, double value, bool us) {
  if (!us) return value;
  if (quantity == temperature_c) return units::fahrenheit_from_celsius(value);
  return value / units_of(quantity).us_unit;
}

}  // namespace wiltline::tables
