// When the rows of a table were, and of which place: by its columns of dates, times and places, and
// as far as their order and their steps tell.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "wiltline/weather/dates.hpp"
#include "wiltline/weather/open_table.hpp"

namespace wiltline {

/// A row whose time is known.
struct TimedRow {
  std::size_t row = 0;
  std::size_t place = 0;  // which of the places of the table
  WrittenDate when;
};

struct TableTimes {
  std::vector<TimedRow> rows;
  std::vector<std::string> places;  // in order; empty: no column names any

  [[nodiscard]] std::size_t place_count() const { return std::max<std::size_t>(1, places.size()); }
};

/// Of a table that has_date(). `told`: the order of its dates, if that is known. Says how dates are
/// written; complains of rows without a date or a time, and where two orders fit.
[[nodiscard]] TableTimes read_times(OpenTable& open, std::optional<DateOrder> told);

/// Hours from one row to the next, by the clock as written.
[[nodiscard]] double hours_between(const TimedRow& one, const TimedRow& next);

/// True in the night before a Sunday of the months in which one half of the Earth or the other has
/// spring or autumn: clocks go to summer time and back then (common practice).
[[nodiscard]] bool clock_may_turn(Date date, double hour);

/// True if some place has two rows of one day, one after the other, at different times.
[[nodiscard]] bool are_parts_of_days(std::span<const TimedRow> rows);

/// The step between rows that is most common, hours; 0 for a single row.
[[nodiscard]] double common_step_h(std::span<const TimedRow> rows);

/// The rows of a place, turned round if all of them stand latest first.
struct RowsOfPlace {
  std::vector<TimedRow> rows;
  bool turned_round = false;
};
[[nodiscard]] RowsOfPlace rows_of_place(std::span<const TimedRow> rows, std::size_t place);

/// What is not as it should be in the order of hours.
struct OrderOfHours {
  struct Fault {
    std::size_t row = 0;  // of the table
    bool again = false;   // the same time a second time; else an earlier one
  };
  std::vector<Fault> faults;
  /// Days on which a clock goes back from summer time: where one may turn, an hour stands twice.
  std::vector<std::string> days_gone_back;
  bool hour_skipped = false;  // somewhere, as where a clock goes forward
};
[[nodiscard]] OrderOfHours order_of_hours(std::span<const TimedRow> rows, double step_h);

}  // namespace wiltline
