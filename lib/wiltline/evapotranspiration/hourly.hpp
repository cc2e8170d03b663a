// Reference evapotranspiration of hours: FAO-56 eq. 53, with chapter 3's hourly radiation.
#pragma once

#include <vector>

#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/weather/hours.hpp"

namespace wiltline {

/// Reference ET of one step of time. Radiation and ET per step, MJ/m2 and mm.
struct ReferenceHour {
  Instant begin;
  double ra_mj_m2 = 0.0;
  double rs_mj_m2 = 0.0;
  double rn_mj_m2 = 0.0;
  double wind_2m_m_s = 0.0;
  WindSource wind_source = WindSource::assumed;
  ReferenceTerms et0;
};

/// Every step that has temperature, vapour pressure and radiation, in order; wind that was not
/// measured is taken as 2 m/s, as by day. Cloudiness at night and beside sunrise and sunset is that
/// of the last step at least two hours from both, as chapter 3 advises (Rs / Rso held within 0.3
/// and 1; the lower bound from memory). The sun stands by the clock where longitude and UTC offset
/// are known, else the clock is taken as solar. Throws InputError, under a name, if no step has
/// radiation or none has humidity: by the hour neither can be estimated.
[[nodiscard]] std::vector<ReferenceHour> reference_hours(const std::string& name, const Site& site,
                                                         const HourlyReadings& readings);

/// A day whose hours are all there, and the same day by eq. 6.
struct HourlyDay {
  Date date{};
  double by_hours_mm = 0.0;
  double by_day_mm = 0.0;
};
/// Days of a record of which every step has its ET0, in order.
[[nodiscard]] std::vector<HourlyDay> compare_with_days(const std::vector<ReferenceHour>& hours,
                                                       double step_h, const WeatherRecord& record,
                                                       const std::vector<ReferenceDay>& days);

}  // namespace wiltline
