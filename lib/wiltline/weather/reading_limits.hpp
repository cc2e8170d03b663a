// Limits of a day's readings: beyond them a cell of a weather file is refused, and no day is
// generated. All are judged, beyond what was ever measured where people garden.
#pragma once

namespace wiltline::reading_limits {

inline constexpr double coldest_c = -60.0;
inline constexpr double hottest_c = 60.0;
inline constexpr double windiest_m_s = 80.0;
inline constexpr double wettest_mm = 2000.0;  // above every daily rainfall ever measured

}  // namespace wiltline::reading_limits
