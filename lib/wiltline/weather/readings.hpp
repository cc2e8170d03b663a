// What the cells of a table say: a number, a mark that means nothing measurable, no reading; and
// which unit numbers can be in, where a file does not say: those in which they make sense.
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <map>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "wiltline/weather/open_table.hpp"
#include "wiltline/weather/site.hpp"
#include "wiltline/weather/table_times.hpp"

namespace wiltline {

class Readings {
 public:
  explicit Readings(OpenTable& open) : open_(open) {}

  /// One reading: our value, and its text in the unit it stands in. Empty: none; counts what stands
  /// for none, complains of what is no number.
  using Reading = ForeignTable::Number;
  std::optional<Reading> of(std::size_t row, const TakenColumn& column) {
    return of(row, column.column, column);
  }
  /// The same where the number stands in another column, `at`.
  std::optional<Reading> of(std::size_t row, std::size_t at, const TakenColumn& column);

 private:
  std::optional<Reading> none(std::string_view cell);
  [[nodiscard]] bool failed_its_checks(std::size_t row, const TakenColumn& column);
  std::size_t flags_of(const TakenColumn& column);

  OpenTable& open_;
  std::map<std::size_t, std::size_t> flags_of_;  // of each column
};

/// What is looked at of the numbers of a column.
struct NumbersOfColumn {
  double lowest = std::numeric_limits<double>::infinity();
  double highest = -std::numeric_limits<double>::infinity();
  double sum = 0.0;
  std::size_t count = 0;
  double days = 0.0;  // from the first day of the file to the last

  void take(double number) {
    lowest = std::min(lowest, number);
    highest = std::max(highest, number);
    sum += number;
    ++count;
  }
};

/// The numbers of columns in the units they stand in, but for those that stand for no reading.
[[nodiscard]] NumbersOfColumn numbers_in(const ForeignTable& table,
                                         const std::vector<const TakenColumn*>& columns,
                                         std::span<const TimedRow> rows);

/// The units of a kind that are in use where none is named.
[[nodiscard]] std::vector<std::string_view> units_of(std::string_view kind);

/// True unless numbers in this unit are nowhere on Earth so. What a year must have at least, a warm
/// or a bright day, is asked of a file of ten months, below 60 degrees of latitude and 3000 m only:
/// `site` must then say so. The limits are stated in readings.cpp.
[[nodiscard]] bool makes_sense(const NumbersOfColumn& numbers, const ScaledUnit& unit,
                               const SiteValues& site);

}  // namespace wiltline
