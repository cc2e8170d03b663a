// An answer on its way out: columns, rows and the remarks that go with them.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "wiltline/tables/columns.hpp"

namespace wiltline::cli {

using tables::Column;
using tables::ColumnHead;
using tables::in_units;
using tables::Quantity;
using tables::Sections;
using tables::Table;
using tables::TableCell;
using tables::text_of;
using tables::unit_text;

enum class Format { table, csv, json };

/// A picture of an answer's page: a kind that the page can draw, and its data as JSON.
struct Picture {
  std::string title;
  std::string says;  // what it shows, for who cannot see it
  std::string data;
};

struct Report {
  Report(std::string command_name, std::vector<std::pair<std::string, std::string>> given)
      : command(std::move(command_name)), inputs(std::move(given)) {}

  std::string command;
  std::vector<ColumnHead> columns;
  std::vector<std::vector<TableCell>> rows;  // one cell a column
  /// What was asked, for JSON: names and values as given.
  std::vector<std::pair<std::string, std::string>> inputs;
  /// What was estimated and what the reader must know: into JSON, below tables, to stderr for CSV.
  std::vector<std::string> notes;
  /// That these are estimates, and what to do about it: the last note of every form.
  std::string caution;
  /// For the page: a heading, the answer in a sentence, and pictures.
  std::string title;
  std::string answer;
  std::vector<Picture> pictures;
  /// What a terminal shows below the table, and nothing else does.
  std::string on_terminal;
  /// Leading columns that a plain table repeats where it is cut into several.
  std::size_t key_columns = 1;
  /// Further result fields for JSON, such as what to buy.
  std::vector<std::pair<std::string, std::vector<std::pair<std::string, double>>>> extra;

  template <typename Row>
  void fill(const Table<Row>& table, const std::vector<Row>& of) {
    columns = table.heads();
    for (const Row& row : of) rows.push_back(table.cells(row));
  }
};

/// The names of columns as a line of CSV.
[[nodiscard]] std::string csv_header(std::span<const ColumnHead> columns);
/// One row as a line of CSV, a cell a column, numbers with the digits of their columns.
[[nodiscard]] std::string csv_row(const std::vector<TableCell>& row,
                                  std::span<const ColumnHead> columns);
/// The report as CSV: a header row, numbers with the digits of their columns, always metric.
[[nodiscard]] std::string to_csv(const Report& report);
/// The report as JSON: schema and program version, inputs, notes, rows as objects. Numbers are the
/// full doubles, always metric.
[[nodiscard]] std::string to_json(const Report& report);
/// A cell as people read it, with the digits of its column.
[[nodiscard]] std::string shown_cell(const TableCell& cell, const ColumnHead& column, bool us);
/// Every column and row as aligned tables, one below the other where they would be wider than a
/// page; names in words, units under them.
[[nodiscard]] std::string to_plain_table(const Report& report, bool us);

/// A column of a table for people, and its text in a row.
enum class Side { left, right };
template <typename Row>
struct TextColumn {
  std::string heading;  // lines separated by \n
  Side side;
  std::function<std::string(const Row&)> text;
};

/// A table for people.
class TextTable {
 public:
  struct Heading {
    std::string text;  // lines separated by \n
    Side side;
  };
  explicit TextTable(std::vector<Heading> headings) : headings_(std::move(headings)) {}
  /// A cell of more than `widest` characters is shown without its middle, so that one long path,
  /// mix or name leaves the other columns in sight. CSV and JSON have it whole.
  static constexpr std::size_t widest = 60;
  void add(std::vector<std::string> cells);
  /// A table that would be wider than page_width() breaks the cells of its left-aligned columns at
  /// spaces.
  [[nodiscard]] std::string text() const;

 private:
  std::vector<Heading> headings_;
  std::vector<std::vector<std::string>> rows_;
};

/// Rows under columns, as text.
template <typename Row>
[[nodiscard]] std::string text_table(const std::vector<TextColumn<Row>>& columns,
                                     const std::vector<Row>& rows) {
  std::vector<TextTable::Heading> headings;
  for (const TextColumn<Row>& column : columns) headings.push_back({column.heading, column.side});
  TextTable table(std::move(headings));
  for (const Row& row : rows) {
    std::vector<std::string> cells;
    for (const TextColumn<Row>& column : columns) cells.push_back(column.text(row));
    table.add(std::move(cells));
  }
  return table.text();
}

/// Text safe to print on a terminal: control characters, also those that turn the direction of
/// writing, and bytes that are no UTF-8 become `?`.
[[nodiscard]] std::string printable(std::string_view text);
/// Text broken into lines of at most `width` characters, later lines indented; the first begins at
/// column `from` of its line.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width, std::size_t indent,
                                  std::size_t from = 0);
/// A sentence or more below a table: wrapped, and a line of its own.
[[nodiscard]] std::string paragraph(std::string_view text);
/// The notes and the caution of a report as paragraphs.
[[nodiscard]] std::string notes_text(const Report& report);

}  // namespace wiltline::cli
