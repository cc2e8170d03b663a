#include "wiltline/weather/hours.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "wiltline/base/units.hpp"
#include "wiltline/weather/saturation.hpp"
#include "wiltline/weather/table_times.hpp"

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

/// Steps of the day before a reading's own, by the clock.
double steps_before(const WeatherHour& hour, double step_h) {
  return std::floor(hour.begin.hour / step_h + 1e-6);
}

/// What the day's readings sum up to with those that are missing, blank or without a row: they lie
/// on the straight line between the steps around them, and beyond the first and last is night.
/// `filled` counts them, but for those of the night.
double filled_sum(std::span<const WeatherHour> hours, Element element, double step_h,
                  std::size_t& filled) {
  double total = 0.0;
  double next_step = 0.0;
  double left = 0.0;
  const auto fill_to = [&](double step, double right) {
    const double missing = step - next_step;  // below zero where the clock went back
    if (missing > 0.0 && left + right > 0.0) {
      total += missing * (left + right) / 2.0;
      filled += static_cast<std::size_t>(missing);
    }
  };
  for (const WeatherHour& hour : hours) {
    if (!(hour.*element)) continue;
    const double step = steps_before(hour, step_h);
    fill_to(step, *(hour.*element));
    left = *(hour.*element);
    total += left;
    next_step = step + 1.0;
  }
  fill_to(std::round(units::hours_per_day / step_h), 0.0);
  return total;
}

/// True if the clock left an hour out, as it does when summer time begins: its offset says so, or
/// where that is not known, the night.
bool clock_went_forward(std::span<const WeatherHour> hours, double step_h) {
  double expected_h = 0.0;
  std::optional<double> offset_before_h;
  for (const WeatherHour& hour : hours) {
    const bool left_out = std::abs(hour.begin.hour - expected_h - 1.0) < 1e-6;
    if (left_out && (hour.utc_offset_h ? offset_before_h && *hour.utc_offset_h > *offset_before_h
                                       : clock_may_turn(hour.begin.date, expected_h))) {
      return true;
    }
    expected_h = hour.begin.hour + step_h;
    offset_before_h = hour.utc_offset_h;
  }
  return false;
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
    return static_cast<double>(known) * step_h >= fewest_hours_a_day - 1e-9;
  };
  const auto tmin = extreme(hours, &WeatherHour::tmin_c, std::less<>());
  const auto tmax = extreme(hours, &WeatherHour::tmax_c, std::greater<>());
  const std::size_t warm =
      static_cast<std::size_t>(std::ranges::count_if(hours, [](const WeatherHour& hour) {
        return hour.temperature_c || (hour.tmin_c && hour.tmax_c);
      }));
  result.hours = static_cast<double>(warm) * step_h;
  result.known = enough(warm) && tmin && tmax;
  if (!result.known) {
    gaps.days_missing.push_back(fmt::format("{} ({:g} h)", to_string(result.date), result.hours));
    return result;
  }
  const double day_h = units::hours_per_day - (clock_went_forward(hours, step_h) ? 1.0 : 0.0);
  const auto whole_day = static_cast<std::size_t>(std::lround(day_h / step_h));
  if (warm < whole_day) ++gaps.days_short;
  day.tmin_c = *tmin;
  day.tmax_c = *tmax;
  const auto mean_into = [&](Element element, std::optional<double> WeatherDay::*into) {
    const Sum sum = sum_of(hours, element);
    if (enough(sum.known)) day.*into = sum.total / static_cast<double>(sum.known);
  };
  mean_into(&WeatherHour::wind_m_s, &WeatherDay::wind_m_s);
  mean_into(&WeatherHour::vapour_pressure_kpa, &WeatherDay::vapour_pressure_kpa);
  const auto filled_into = [&](Element element, std::optional<double> WeatherDay::*into,
                               std::size_t& filled) {
    if (!enough(sum_of(hours, element).known)) return;
    day.*into = filled_sum(hours, element, step_h, filled);
  };
  filled_into(&WeatherHour::solar_mj_m2, &WeatherDay::solar_mj_m2, gaps.radiation_hours_filled);
  filled_into(&WeatherHour::sunshine_h, &WeatherDay::sunshine_h, gaps.sunshine_hours_filled);
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
