// Calendar days: strict ISO 8601 dates on top of std::chrono.
#pragma once

#include <chrono>
#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace wiltline {

/// A calendar day (proleptic Gregorian). Differences are whole days.
using Date = std::chrono::sys_days;

/// A day of any year, such as 05-10; 02-29 exists in leap years only.
struct MonthDay {
  unsigned month = 1;  // [1, 12]
  unsigned day = 1;    // [1, 31]

  /// The day in `year`; empty for 02-29 in a common year.
  [[nodiscard]] std::optional<Date> in_year(int year) const;
  /// The same, and the 28th for 29 February in a common year.
  [[nodiscard]] Date nearest_in_year(int year) const;
  friend bool operator==(const MonthDay&, const MonthDay&) = default;
};

/// Builds a date of a year from 0 to 9999; the caller must know that it exists (tests, constants).
[[nodiscard]] Date make_date(int year, unsigned month, unsigned day);

/// Reads exactly YYYY-MM-DD. Empty if anything else, or if no such day exists.
[[nodiscard]] std::optional<Date> parse_date(std::string_view text);

/// Reads exactly MM-DD. Empty if anything else, or if the day exists in no year.
[[nodiscard]] std::optional<MonthDay> parse_month_day(std::string_view text);

/// The day of the year that a date is.
[[nodiscard]] MonthDay month_day_of(Date date);

/// YYYY-MM-DD.
[[nodiscard]] std::string to_string(Date date);
/// MM-DD.
[[nodiscard]] std::string to_string(const MonthDay& day);

[[nodiscard]] int year_of(Date date);
[[nodiscard]] unsigned month_of(Date date);

/// Day number J in the year, 1 to 365 or 366 (FAO-56 Annex 2, Table 2.5).
[[nodiscard]] int day_of_year(Date date);
[[nodiscard]] inline int days_in_year(int year) {
  return std::chrono::year(year).is_leap() ? 366 : 365;
}

/// Monday = 0 … Sunday = 6.
[[nodiscard]] unsigned weekday_of(Date date);

/// Reads HH:MM (00:00 to 23:59, also 24:00) as hours after midnight.
[[nodiscard]] std::optional<double> parse_clock(std::string_view text);

/// HH:MM, rounded down to the minute; 24:00 at the end of the day. Hours outside 0 to 24 are taken
/// as the nearer of these.
[[nodiscard]] std::string clock_string(double hours);
/// The minute that clock_string() shows, 0 to 1440.
[[nodiscard]] int minute_of_day(double hours);

/// A time of a day.
struct Instant {
  Date date{};
  double hour = 0.0;  // clock hours, [0, 24)

  // clang-tidy 14 takes the generated comparison with 0 for a pointer.
  auto operator<=>(const Instant&) const = default;  // NOLINT(modernize-use-nullptr)
};

/// Reads exactly YYYY-MM-DDTHH:MM or YYYY-MM-DD HH:MM (00:00 to 23:59).
[[nodiscard]] std::optional<Instant> parse_instant(std::string_view text);

/// YYYY-MM-DDTHH:MM, rounded down to the minute.
[[nodiscard]] std::string to_string(const Instant& instant);

}  // namespace wiltline
