#include "wiltline/weather/hours.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "wiltline/base/units.hpp"
#include "wiltline/weather/saturation.hpp"

namespace wiltline {
namespace {

using Element = std::optional<double> WeatherHour::*;

struct Sum {
  double total = 0.0;
  std::size_t known = 0;
};

Sum sum_of(std::span<const WeatherHour> hours, Element element) {
  Sum sum;
  for (const WeatherHour& hour : hours) {
    if (!(hour.*element)) continue;
    sum.total += *(hour.*element);
    ++sum.known;
  }
  return sum;
}

/// Radiation of steps without it: the straight line between the steps around it; beyond the first
/// and last of the day there is night.
double filled_radiation_mj_m2(std::span<const WeatherHour> hours, std::size_t& filled) {
  double total = 0.0;
  std::optional<std::size_t> before;
  for (std::size_t i = 0; i <= hours.size(); ++i) {
    if (i < hours.size() && !hours[i].solar_mj_m2) continue;
    const std::size_t missing = i - (before ? *before + 1 : 0);
    const double left = before ? *hours[*before].solar_mj_m2 : 0.0;
    const double right = i < hours.size() ? *hours[i].solar_mj_m2 : 0.0;
    total += static_cast<double>(missing) * (left + right) / 2.0;
    filled += missing;
    if (i < hours.size()) {
      total += right;
      before = i;
    }
  }
  return total;
}

/// Lowest or highest of the day.
template <typename Better>
std::optional<double> extreme(std::span<const WeatherHour> hours, Element given, Better better) {
  std::optional<double> result;
  for (const WeatherHour& hour : hours) {
    const std::optional<double>& value = hour.*given ? hour.*given : hour.temperature_c;
    if (value && (!result || better(*value, *result))) result = value;
  }
  return result;
}

DayOfHours day_of(std::span<const WeatherHour> hours, double step_h, HourGaps& gaps) {
  DayOfHours result;
  result.date = hours.front().begin.date;
  result.line = hours.front().line;
  WeatherDay& day = result.day;
  const auto enough = [&](std::size_t known) {
    // A day of the change to summer time has an hour less.
    return static_cast<double>(known) * step_h >= fewest_hours_a_day - 1e-9;
  };
  const auto tmin = extreme(hours, &WeatherHour::tmin_c, std::less<>());
  const auto tmax = extreme(hours, &WeatherHour::tmax_c, std::greater<>());
  const std::size_t warm = static_cast<std::size_t>(std::count_if(
      hours.begin(), hours.end(),
      [](const WeatherHour& hour) { return hour.temperature_c || (hour.tmin_c && hour.tmax_c); }));
  result.hours = static_cast<double>(warm) * step_h;
  result.known = enough(warm) && tmin && tmax;
  if (!result.known) {
    gaps.days_missing.push_back(fmt::format("{} ({:g} h)", to_string(result.date), result.hours));
    return result;
  }
  const auto whole_day = static_cast<std::size_t>(std::lround(units::hours_per_day / step_h));
  if (warm < whole_day) ++gaps.days_short;
  day.tmin_c = *tmin;
  day.tmax_c = *tmax;
  const auto mean_into = [&](Element element, std::optional<double> WeatherDay::*into) {
    const Sum sum = sum_of(hours, element);
    if (enough(sum.known)) day.*into = sum.total / static_cast<double>(sum.known);
  };
  mean_into(&WeatherHour::wind_m_s, &WeatherDay::wind_m_s);
  mean_into(&WeatherHour::vapour_pressure_kpa, &WeatherDay::vapour_pressure_kpa);
  if (enough(sum_of(hours, &WeatherHour::solar_mj_m2).known)) {
    day.solar_mj_m2 = filled_radiation_mj_m2(hours, gaps.radiation_hours_filled);
  }
  if (const Sum sun = sum_of(hours, &WeatherHour::sunshine_h); enough(sun.known)) {
    day.sunshine_h = sun.total;
  }
  if (const Sum rain = sum_of(hours, &WeatherHour::rain_mm); enough(rain.known)) {
    day.rain_mm = rain.total;
    if (rain.known < whole_day) gaps.rain_hours_unknown += whole_day - rain.known;
  }
  return result;
}

}  // namespace

std::vector<DayOfHours> days_of(const HourlyReadings& readings, HourGaps& gaps) {
  std::vector<DayOfHours> days;
  const std::span<const WeatherHour> hours = readings.hours;
  for (std::size_t begin = 0; begin < hours.size();) {
    std::size_t end = begin;
    while (end < hours.size() && hours[end].begin.date == hours[begin].begin.date) ++end;
    days.push_back(day_of(hours.subspan(begin, end - begin), readings.step_h, gaps));
    begin = end;
  }
  return days;
}

std::optional<double> hour_vapour_pressure_kpa(std::optional<double> temperature_c,
                                               std::optional<double> dew_point_c,
                                               std::optional<double> rh_pct,
                                               std::optional<double> vapour_pressure_kpa) {
  if (dew_point_c) return saturation_vapour_pressure_kpa(*dew_point_c);
  if (vapour_pressure_kpa) return vapour_pressure_kpa;
  if (!rh_pct || !temperature_c) return std::nullopt;
  return saturation_vapour_pressure_kpa(*temperature_c) * *rh_pct / 100.0;
}

}  // namespace wiltline
