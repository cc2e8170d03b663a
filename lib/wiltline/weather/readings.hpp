// What the cells of a table say: a number, a mark that means nothing measurable, no reading.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "wiltline/weather/open_table.hpp"
#include "wiltline/weather/row_times.hpp"
#include "wiltline/weather/units_told.hpp"

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

/// The numbers of columns in the units they stand in, but for those that stand for no reading.
[[nodiscard]] NumbersOfColumn numbers_in(const ForeignTable& table,
                                         const std::vector<const TakenColumn*>& columns,
                                         std::span<const TimedRow> rows);

}  // namespace wiltline
