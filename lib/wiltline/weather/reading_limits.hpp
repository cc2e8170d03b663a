// Limits of a day's readings: beyond them a cell of a weather file is refused, and no day is
// generated. All are judged, beyond what was ever measured where people garden.
#pragma once

namespace wiltline::reading_limits {

inline constexpr double coldest_c = -60.0;
inline constexpr double hottest_c = 60.0;
inline constexpr double windiest_m_s = 80.0;
inline constexpr double wettest_mm = 2000.0;  // above every daily rainfall ever measured

// What a year of days has nearer the equator than the middle latitudes' end (judged): even on cold
// islands of the far south, at the sea, its warmest day is above this.
inline constexpr double year_days = 300.0;  // a record of fewer is not judged as a year
inline constexpr double middle_latitude_deg = 60.0;
inline constexpr double warmest_at_least_c = 13.0;

}  // namespace wiltline::reading_limits
