// A table that somebody else wrote: where its header stands, what separates its cells, how it
// writes numbers.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/weather/layout.hpp"

namespace wiltline {

/// Its header is the line on which most names are known, a second header row may hold units.
class ForeignTable {
 public:
  /// Empty if no line is a header under these meanings, and the first is not one reading of a
  /// layout that may come without a header. Throws InputError: what CsvTable refuses, a
  /// separator that changes midway, and units without a row below them.
  [[nodiscard]] static std::optional<ForeignTable> open(FileBytes file,
                                                        std::span<const ColumnMeaning> meanings);

  [[nodiscard]] const CsvTable& csv() const { return csv_; }
  [[nodiscard]] std::string_view encoding() const { return encoding_; }
  [[nodiscard]] char separator() const { return separator_; }
  [[nodiscard]] const std::vector<std::string>& header() const { return header_; }
  /// Rows from begin_row() on hold readings.
  [[nodiscard]] std::size_t begin_row() const { return begin_row_; }
  [[nodiscard]] std::size_t end_row() const { return csv_.rows(); }
  /// A cell; services pad numbers with spaces within their quotes.
  [[nodiscard]] std::string_view cell(std::size_t row, std::size_t column) const;
  [[nodiscard]] Problem problem_at(std::size_t row, std::size_t column, std::string found,
                                   std::string expected) const {
    return csv_.problem_at(row, column, std::move(found), std::move(expected));
  }

  /// The columns that meanings know.
  [[nodiscard]] std::vector<TakenColumn> columns_under(
      std::span<const ColumnMeaning> meanings) const;

  [[nodiscard]] bool decimal_comma() const { return decimal_comma_; }
  /// Whether the numbers of these columns have a decimal comma. Adds a problem where some have and
  /// others have a point, or where the comma can part thousands.
  void find_decimal_sign(std::span<const TakenColumn> columns, ProblemList& problems);
  /// The number of a cell, and its text with a point, without a plus sign.
  struct Number {
    double value = 0.0;
    std::string plain;
  };
  [[nodiscard]] std::optional<Number> number(std::size_t row, std::size_t column) const;

 private:
  ForeignTable(FileBytes file, CsvForm form) : csv_(std::move(file), std::move(form)) {}

  CsvTable csv_;
  std::string_view encoding_;
  char separator_ = ',';
  std::vector<std::string> header_;
  std::vector<std::string> unit_row_;  // as many as header_; empty where no unit is said
  std::size_t begin_row_ = 0;
  bool decimal_comma_ = false;
};

}  // namespace wiltline
