// A table of somebody else's while it is read: its columns, what was understood, what is wrong.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/weather/foreign_table.hpp"
#include "wiltline/weather/understanding.hpp"

namespace wiltline {

struct OpenTable {
  ForeignTable table;
  std::vector<TakenColumn> columns{};
  Understanding said{};
  ProblemList problems{};

  /// The column of a quantity; null if there is none.
  [[nodiscard]] const TakenColumn* column_of(WeatherQuantity wanted) const;
  /// The column of the date, or of its year.
  [[nodiscard]] const TakenColumn& date_column() const;
  /// Whether the columns say which day each row is of.
  [[nodiscard]] bool has_date() const;
  /// Whether the table of names says this of the date.
  [[nodiscard]] bool date_says(std::string_view word) const;

  void complain(std::size_t row, std::size_t column, std::string found, std::string expected,
                Advice advice = {});
  void complain_of_header(std::size_t column, std::string found, std::string expected,
                          Advice advice = {});
};

}  // namespace wiltline
