// Readings of hours, or of parts of an hour, and the days they make.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline {

/// A day with fewer hours of temperature than this is missing; of any other reading, unknown.
inline constexpr double fewest_hours_a_day = 20.0;
/// Readings further apart than this make no day: three-hourly ones are the rarest in use.
inline constexpr double longest_step_h = 3.0;

/// What was read in one step of time.
struct WeatherHour {
  Instant begin;                       // by the clock of the file
  std::optional<double> utc_offset_h;  // of that clock, where it is known
  std::size_t line = 0;                // where it stands in its file
  std::optional<double> temperature_c;
  std::optional<double> tmin_c;  // within the step, where it is given
  std::optional<double> tmax_c;
  std::optional<double> vapour_pressure_kpa;
  std::optional<double> wind_m_s;
  std::optional<double> solar_mj_m2;  // summed over the step
  std::optional<double> sunshine_h;   // summed over the step
  std::optional<double> rain_mm;      // summed over the step
};

/// Hours in order, all of one step.
struct HourlyReadings {
  double step_h = 1.0;
  std::vector<WeatherHour> hours;
};

/// A day made of hours; temperatures are there if fewest_hours_a_day are.
struct DayOfHours {
  Date date{};
  std::size_t line = 0;  // of its first hour
  double hours = 0.0;    // of temperature
  bool known = false;
  WeatherDay day;
};

/// What was assumed where hours were missing.
struct HourGaps {
  std::vector<std::string> days_missing;  // with too few hours, as `2014-03-30 (15 h)`
  std::size_t days_short = 0;             // with fewer than all that the clock had, but enough
  std::size_t radiation_hours_filled = 0;
  std::size_t sunshine_hours_filled = 0;
  std::size_t rain_hours_unknown = 0;  // taken as none
};

/// Sums hours up to days of their own clock: lowest and highest temperature, means of wind and of
/// vapour pressure, sums of radiation, sunshine and rain. Each reading needs fewest_hours_a_day.
/// Steps are counted by the clock, so that one without a row is missing too. Radiation and sunshine
/// of a missing step lie on the straight line between the steps around it on the same day, beyond
/// the first and last of which is night; a step between two without sun is no gap. Rain is taken as
/// none. `gaps` counts all three. An hour that the clock left out is not missing (clock_may_turn).
[[nodiscard]] std::vector<DayOfHours> days_of(const HourlyReadings& readings, HourGaps& gaps);

/// Vapour pressure of an hour, kPa: from dew point (eq. 14), else as given, else from humidity
/// and temperature (eq. 54).
[[nodiscard]] std::optional<double> hour_vapour_pressure_kpa(
    std::optional<double> temperature_c, std::optional<double> dew_point_c,
    std::optional<double> rh_pct, std::optional<double> vapour_pressure_kpa);

}  // namespace wiltline
