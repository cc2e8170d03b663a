#include "wiltline/tables/quantity.hpp"

#include "wiltline/base/units.hpp"

namespace wiltline::tables {

using enum Quantity;

std::string_view unit_text(Quantity quantity, bool us) {
  switch (quantity) {
    case litres:
      return us ? "gal" : "L";
    case water_depth_mm:
      return us ? "in" : "mm";
    case length_cm:
      return us ? "in" : "cm";
    case area_m2:
      return us ? "ft2" : "m2";
    case temperature_c:
      return us ? "°F" : "°C";
    case pressure_kpa:
      return "kPa";
    case radiation_mj_m2:
      return "MJ/m2";
    case wind_m_s:
      return us ? "mph" : "m/s";
    case mass_kg:
      return us ? "lb" : "kg";
    case hours:
      return "h";
    case days:
      return "days";
    case text:
    case count:
    case number:
    case volume_share:
      break;
  }
  return "";
}

double in_units(Quantity quantity, double value, bool us) {
  if (!us) return value;
  constexpr double ft2_per_m2 = 1.0 / (units::m_per_foot * units::m_per_foot);
  switch (quantity) {
    case litres:
      return value / units::litres_per_us_gallon;
    case water_depth_mm:
      return value / units::mm_per_inch;
    case length_cm:
      return value / units::cm_per_inch;
    case area_m2:
      return value * ft2_per_m2;
    case temperature_c:
      return units::fahrenheit_from_celsius(value);
    case mass_kg:
      return value / units::kg_per_pound;
    case wind_m_s:
      return value / units::m_s_per_mph;
    default:
      return value;
  }
}

}  // namespace wiltline::tables
