// Unit conversions. Inside the library every quantity has one unit (litres, degrees Celsius,
// millimetres, metres per second, megajoules per square metre); others exist at the border only.
#pragma once

namespace wiltline::units {

inline constexpr double litres_per_us_gallon = 3.785411784;  // exact, NIST SP 811
inline constexpr double litres_per_cubic_foot = litres_per_us_gallon * 1728.0 / 231.0;  // exact
inline constexpr double cm_per_inch = 2.54;                                             // exact
inline constexpr double mm_per_inch = 25.4;                                             // exact
inline constexpr double m_per_foot = 0.3048;                                            // exact
inline constexpr double kg_per_pound = 0.45359237;                                      // exact
inline constexpr double m_s_per_mph = 0.44704;                                          // exact
inline constexpr double m_s_per_km_h = 1.0 / 3.6;
inline constexpr double mj_m2_per_w_m2_day = 0.0864;  // daily mean W/m2 to MJ m-2 d-1
inline constexpr double kpa_per_cm_water = 0.0980665;
inline constexpr double hours_per_day = 24.0;
inline constexpr double days_per_year = 365.25;  // leap years counted in

[[nodiscard]] constexpr double celsius_from_fahrenheit(double fahrenheit) {
  return (fahrenheit - 32.0) / 1.8;
}
[[nodiscard]] constexpr double fahrenheit_from_celsius(double celsius) {
  return celsius * 1.8 + 32.0;
}

}  // namespace wiltline::units
