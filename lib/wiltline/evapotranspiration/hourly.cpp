#include "wiltline/evapotranspiration/hourly.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline {
namespace {

constexpr double radians_per_hour = std::numbers::pi / 12.0;
constexpr double away_from_horizon_h = 2.0;
constexpr double least_clearness = 0.3;

/// Where the sun stands in the middle of a step, and what it gives above the air.
struct Sun {
  double angle_rad = 0.0;
  double sunset_rad = 0.0;
  double ra_mj_m2 = 0.0;

  [[nodiscard]] bool well_up() const {
    return std::abs(angle_rad) <= sunset_rad - away_from_horizon_h * radians_per_hour;
  }
  [[nodiscard]] bool down() const { return std::abs(angle_rad) >= sunset_rad; }
};

Sun sun_of(const Site& site, const WeatherHour& hour, double step_h) {
  const int day = day_of_year(hour.begin.date);
  const auto offset_h = hour.utc_offset_h ? hour.utc_offset_h : site.utc_offset_h;
  const double shift_h = site.longitude_deg && offset_h
                             ? solar_minus_clock_h(*site.longitude_deg, *offset_h, day)
                             : 0.0;
  const double noon_h = 12.0;
  const double angle =
      std::remainder((hour.begin.hour + step_h / 2.0 + shift_h - noon_h) * radians_per_hour,
                     2.0 * std::numbers::pi);
  const double latitude = radians(site.latitude_deg);
  return {angle, sunset_hour_angle_rad(latitude, solar_declination_rad(day)),
          std::max(0.0, extraterrestrial_radiation_mj_m2_period(latitude, day, angle, step_h))};
}

bool complete(const WeatherHour& hour) {
  return hour.temperature_c && hour.vapour_pressure_kpa && hour.solar_mj_m2;
}

void refuse_unknown(const std::string& name, const std::vector<WeatherHour>& hours) {
  const auto none = [&](std::optional<double> WeatherHour::*element) {
    return std::ranges::none_of(
        hours, [&](const WeatherHour& hour) { return (hour.*element).has_value(); });
  };
  ProblemList problems;
  if (none(&WeatherHour::solar_mj_m2)) {
    problems.add({name, 0, 0, "hours without solar radiation",
                  "it, for reference evapotranspiration by the hour (the day's can do without)"});
  }
  if (none(&WeatherHour::vapour_pressure_kpa)) {
    problems.add({name, 0, 0, "hours without humidity or dew point",
                  "one of them, for reference evapotranspiration by the hour"});
  }
  problems.throw_if_any();
}

}  // namespace

std::vector<ReferenceHour> reference_hours(const std::string& name, const Site& site,
                                           const HourlyReadings& readings) {
  refuse_unknown(name, readings.hours);
  const double step_h = readings.step_h;
  const double gamma = psychrometric_constant_kpa_c(atmospheric_pressure_kpa(site.elevation_m));
  const double wind_factor = wind_height_factor(site.wind_height_m);
  const auto clearness_of = [&](const WeatherHour& hour, const Sun& sun) {
    const double clear = clear_sky_radiation_mj_m2(sun.ra_mj_m2, site.elevation_m);
    return std::clamp(*hour.solar_mj_m2 / clear, least_clearness, 1.0);
  };
  // Before the first step with the sun well up, its cloudiness is the best that is known.
  double clearness = 1.0;
  for (const WeatherHour& hour : readings.hours) {
    const Sun sun = sun_of(site, hour, step_h);
    if (!complete(hour) || !sun.well_up()) continue;
    clearness = clearness_of(hour, sun);
    break;
  }
  std::vector<ReferenceHour> result;
  for (const WeatherHour& hour : readings.hours) {
    if (!complete(hour)) continue;
    const Sun sun = sun_of(site, hour, step_h);
    if (sun.well_up()) clearness = clearness_of(hour, sun);
    const double temperature_c = *hour.temperature_c;
    ReferenceHour one;
    one.begin = hour.begin;
    one.ra_mj_m2 = sun.ra_mj_m2;
    one.rs_mj_m2 = *hour.solar_mj_m2;
    const double per_hour = net_radiation_mj_m2(
        net_short_wave_mj_m2(one.rs_mj_m2) / step_h,
        hourly_net_long_wave_mj_m2(temperature_c, *hour.vapour_pressure_kpa, clearness));
    one.rn_mj_m2 = per_hour * step_h;
    one.wind_source = hour.wind_m_s ? WindSource::measured : WindSource::assumed;
    one.wind_2m_m_s = hour.wind_m_s ? *hour.wind_m_s * wind_factor : missing_wind_m_s;
    const ReferenceTerms terms = hourly_reference_terms(
        {.temperature_c = temperature_c,
         .net_radiation_mj_m2 = per_hour,
         .soil_heat_mj_m2 = hourly_soil_heat_flux_mj_m2(per_hour, sun.down()),
         .wind_2m_m_s = one.wind_2m_m_s,
         .vapour_pressure_deficit_kpa = std::max(
             0.0, saturation_vapour_pressure_kpa(temperature_c) - *hour.vapour_pressure_kpa),
         .slope_kpa_c = saturation_slope_kpa_c(temperature_c),
         .gamma_kpa_c = gamma});
    one.et0 = {terms.radiation_mm * step_h, terms.air_mm * step_h};
    result.push_back(one);
  }
  return result;
}

std::vector<HourlyDay> compare_with_days(const std::vector<ReferenceHour>& hours, double step_h,
                                         const WeatherRecord& record,
                                         const std::vector<ReferenceDay>& days) {
  const long whole_day = std::lround(units::hours_per_day / step_h);
  std::vector<HourlyDay> result;
  for (std::size_t begin = 0; begin < hours.size();) {
    std::size_t end = begin;
    HourlyDay day{.date = hours[begin].begin.date};
    while (end < hours.size() && hours[end].begin.date == day.date) {
      day.by_hours_mm += hours[end].et0.total_mm();
      ++end;
    }
    if (static_cast<long>(end - begin) >= whole_day && record.contains(day.date)) {
      day.by_day_mm = days[record.index_of(day.date)].et0.total_mm();
      result.push_back(day);
    }
    begin = end;
  }
  return result;
}

}  // namespace wiltline
