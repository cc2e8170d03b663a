// When the gardener comes with the can.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/base/result.hpp"

namespace wiltline {

/// A stretch of days with no visits between its ends; visits on the two end days themselves take
/// place. Either both ends are dates, or both are days of any year.
struct DaysAway {
  std::optional<Date> first_date;
  std::optional<Date> last_date;
  MonthDay first_day;
  MonthDay last_day;

  /// True on the days strictly between the ends.
  [[nodiscard]] bool covers(Date date) const;
  /// The end before a day that they cover (covers(), not checked).
  [[nodiscard]] Date begun_by(Date covered) const;
  bool operator==(const DaysAway&) const = default;
};

/// How days away are written, for messages.
inline constexpr std::string_view days_away_example =
    "two days in order, such as 2024-07-08/2024-07-14 or 07-08/07-14 (over the new year, as "
    "12-20/01-05, half a year at most)";

/// Reads `2024-07-08/2024-07-14` or `07-08/07-14` (the ISO 8601 way to write an interval). Empty if
/// the days are not in order: of every year, the last may lie in the next one, at most half a year
/// on.
[[nodiscard]] std::optional<DaysAway> parse_days_away(std::string_view text);

/// `2024-07-08/2024-07-14` or `07-08/07-14`.
[[nodiscard]] std::string to_string(const DaysAway& away);

/// What a watering can be, litres.
inline constexpr double least_given_l = 0.001;
inline constexpr double most_given_l = 10000.0;

/// Whether a visit waters always or only if the pot wants it.
enum class VisitRule {
  always,
  check,      // past the threshold, or would pass it before the next visit if yesterday came again
  check_top,  // the top feels dry (finger test)
};

/// The days on which visits take place.
enum class VisitDays { daily, every_n, weekdays };

struct Helper;

/// When and how a planting is watered: as needed or at visits, and by whom on days away.
struct Routine {
  /// Watered the instant the threshold is reached, while somebody is there; on the first day back
  /// at 00:00 if it is past its threshold.
  bool as_needed = false;
  VisitRule rule = VisitRule::always;
  VisitDays days = VisitDays::daily;
  int every_n_days = 1;              // counted from planting
  std::array<bool, 7> on_weekday{};  // Monday first
  std::vector<double> visit_hours;   // clock hours, ascending, distinct
  std::optional<double> give_l;      // litres a watering; empty: until it drains
  bool soaks = false;                // soaks, waits some twenty minutes and soaks again
  std::vector<DaysAway> days_away;
  std::vector<Helper> helpers;
  std::string text;  // as written

  /// True on a day on which nobody is there.
  [[nodiscard]] bool away_on(Date date) const { return routine_on(date) == nullptr; }
  /// Who comes in the gardener's place on a date, the last written of several; null: nobody does.
  [[nodiscard]] const Helper* helper_on(Date date) const;
  /// Whose routine holds on a date: this one, a helper's, or null where nobody is there.
  [[nodiscard]] const Routine* routine_on(Date date) const;
  /// True if a visit is due on a date, `days_since_planting` >= 0.
  [[nodiscard]] bool visits_on(Date date, long days_since_planting) const;
  bool operator==(const Routine&) const = default;
};

/// Somebody who comes in the gardener's place between the ends of some days (on which the gardener
/// does), whether these are days away or not. Every so many days are counted from the first end.
struct Helper {
  DaysAway days;
  Routine routine;  // without days away and helpers of its own

  bool operator==(const Helper&) const = default;
};

/// Reads
///   as-needed
///   [check | check top] daily 07:00 [19:00 …]
///   [check | check top] every N days 07:00 […]
///   [check | check top] mon wed fri 18:30 […]
/// each optionally followed by `give 2 l` (or gal), by `soak` (soak, wait, soak again), by any
/// number of `away 2024-07-08/2024-07-14` and last by any number of
/// `helper 2024-08-03/2024-08-17 every 2 days 18:00 give 2 l`. A fault if it is none of these.
[[nodiscard]] Result<Routine> parse_routine(std::string_view text);

/// Reads what follows `helper` in a routine: days, then visits.
[[nodiscard]] Result<Helper> parse_helper(std::string_view text);

/// A routine as parse_routine reads it, days away and helpers included, whatever the words it was
/// first written in.
[[nodiscard]] std::string written(const Routine& routine);

}  // namespace wiltline
