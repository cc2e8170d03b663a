// An answer on its way out: columns, rows and the remarks that go with them.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "columns.hpp"

namespace wiltline::cli {

/// One cell; monostate is an empty one.
using Cell = std::variant<std::monostate, double, long, std::string>;

enum class Format { table, csv, json };

struct Report {
  Report(std::string command_name, std::vector<std::pair<std::string, std::string>> given)
      : command(std::move(command_name)), inputs(std::move(given)) {}

  std::string command;
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;  // one cell a column
  /// What was asked, for JSON: names and values as given.
  std::vector<std::pair<std::string, std::string>> inputs;
  /// What was estimated and what the reader must know: into JSON, below tables, to stderr for CSV.
  std::vector<std::string> notes;
  /// Further result fields for JSON, such as what to buy.
  std::vector<std::pair<std::string, std::vector<std::pair<std::string, double>>>> extra;

  void add_columns(std::span<const Column> more) {
    columns.insert(columns.end(), more.begin(), more.end());
  }
};

/// The names of columns as a line of CSV.
[[nodiscard]] std::string csv_header(std::span<const Column> columns);
/// One row as a line of CSV, a cell a column, numbers with the digits of their columns.
[[nodiscard]] std::string csv_row(const std::vector<Cell>& row, std::span<const Column> columns);
/// The report as CSV: a header row, numbers with the digits of their columns, always metric.
[[nodiscard]] std::string to_csv(const Report& report);
/// The report as JSON: schema and program version, inputs, notes, rows as objects. Numbers are the
/// full doubles, always metric.
[[nodiscard]] std::string to_json(const Report& report);
/// Every column and row as an aligned table; units under the names.
[[nodiscard]] std::string to_plain_table(const Report& report, bool us);

/// A table for people: right-aligned unless `left`, headings of several lines.
class TextTable {
 public:
  struct Heading {
    std::string text;  // lines separated by \n
    bool left = false;
  };
  explicit TextTable(std::vector<Heading> headings) : headings_(std::move(headings)) {}
  /// A cell of more than `widest` characters is shown without its middle, so that one long path,
  /// mix or name leaves the other columns in sight. CSV and JSON have it whole.
  static constexpr std::size_t widest = 60;
  void add(std::vector<std::string> cells);
  [[nodiscard]] std::string text() const;

 private:
  std::vector<Heading> headings_;
  std::vector<std::vector<std::string>> rows_;
};

/// Text safe to print on a terminal: control characters, also those that turn the direction of
/// writing, and bytes that are no UTF-8 become `?`.
[[nodiscard]] std::string printable(std::string_view text);
/// Text broken into lines of at most `width` characters, later lines indented; the first begins at
/// column `from` of its line.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width, std::size_t indent,
                                  std::size_t from = 0);

}  // namespace wiltline::cli
