// The one place that reads CSV: bytes in, checked text cells out.
//
// Format: UTF-8 (a byte order mark is skipped), a header row, lines ending in LF or CRLF, cells
// optionally in double quotes, `#` lines are comments, empty lines are skipped. Cells are separated
// by commas, or by semicolons if the header has those and no comma: a spreadsheet that writes a
// comma in numbers saves so, and its numbers are then read with either. It also fills comments and
// empty rows up with separators, and may quote comments; above the header that is seen through.
// Cells are text; numbers are parsed by whoever reads the column, so a missing value can never
// become zero.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline {

/// A text in quotes, as CSV writes it where a cell needs them.
[[nodiscard]] std::string csv_quoted(std::string_view text);
/// A text cell, quoted where it must be so that it is read back as it is.
[[nodiscard]] std::string csv_text(std::string_view text, char separator = ',');

/// How a file is written, where it is not as our own are.
struct CsvForm {
  char separator = ',';  // or ; or a tab
  /// A header alone will do.
  bool may_be_empty = false;
  /// Somebody else's file: column names may be empty or stand twice, and a row may end in blank
  /// cells that the header does not have.
  bool foreign = false;
  /// The line of the header, from 1: what stands above is left out, but for comments.
  std::size_t header_line = 1;
  /// Names of the columns where there is no header row.
  std::vector<std::string> header;
};

/// A checked table of text cells. Movable; the cells point into the bytes it owns. Rows and columns
/// count from 0 and are not checked: below rows() and header().size().
class CsvTable {
 public:
  static constexpr std::size_t longest_line_bytes = std::size_t{1} << 20;
  static constexpr std::size_t most_columns = 1000;

  struct Comment {
    std::size_t line;
    std::string_view text;  // without the leading `#`, trimmed
  };

  /// Checks the bytes and splits them. Throws InputError (all problems of the file, up to 20): NUL
  /// bytes, UTF-16, a lone carriage return, a line over longest_line_bytes, an unclosed quote, no
  /// header, an empty or repeated column name, a row with too few or too many cells, no rows at
  /// all.
  /// `may_be_empty`: a header alone will do.
  explicit CsvTable(FileBytes file, bool may_be_empty = false)
      : CsvTable(std::move(file), CsvForm{.may_be_empty = may_be_empty, .header = {}}) {}
  CsvTable(FileBytes file, CsvForm form);

  [[nodiscard]] const std::string& file() const { return file_->name; }
  [[nodiscard]] std::span<const Comment> comments() const { return comments_; }
  [[nodiscard]] std::span<const std::string> header() const { return header_; }
  [[nodiscard]] std::size_t rows() const { return row_lines_.size(); }
  [[nodiscard]] std::optional<std::size_t> column(std::string_view name) const;
  [[nodiscard]] std::string_view cell(std::size_t row, std::size_t column) const {
    const Cell& found = cell_at(row, column);
    return {file_->bytes.data() + row_lines_[row].begin + found.begin, found.size};
  }
  /// True if semicolons separate the cells; a comma may then stand for the point of a number.
  [[nodiscard]] bool semicolons() const { return semicolons_; }
  /// The line a row stands on, from 1.
  [[nodiscard]] std::size_t line(std::size_t row) const { return row_lines_[row].number; }

  /// A problem at a cell, with its place filled in.
  [[nodiscard]] Problem problem_at(std::size_t row, std::size_t column, std::string found,
                                   std::string expected, Advice advice = {}) const;
  /// A problem at a column of the header.
  [[nodiscard]] Problem problem_in_header(std::size_t column, std::string found,
                                          std::string expected, Advice advice = {}) const;

  /// Adds a problem for every column that is not in `known` (`notes` is always allowed).
  void refuse_unknown_columns(std::span<const std::string> known, ProblemList& problems) const;

 private:
  friend class NumberColumns;

  struct Line {
    std::size_t number;
    std::size_t begin;  // byte offset of its first character
  };
  /// A cell within its line, which longest_line_bytes keeps short: tables are mostly cells.
  struct Cell {
    std::uint32_t begin;
    std::uint32_t size;
  };

  struct Marks;    // the bytes that a line is looked through for
  class CellEnds;  // where cells may end

  Line take_plain_rows(Line line, Marks& marks);
  static Cell trimmed(const char* line, Cell cell);
  bool take_line(Line line, std::size_t end, Marks& marks, ProblemList& problems);
  void take_header(Line line, const std::vector<Cell>& cells, ProblemList& problems);
  void reserve_rows(std::size_t from);
  [[nodiscard]] const Cell& cell_at(std::size_t row, std::size_t column) const {
    return cells_[row * header_.size() + column];
  }

  CsvForm form_;
  std::unique_ptr<FileBytes> file_;  // behind a pointer, so that moving the table moves no byte
  std::vector<Comment> comments_;
  bool semicolons_ = false;
  Line header_line_{0, 0};
  std::vector<std::string> header_;
  std::vector<std::size_t> header_columns_;  // byte column of each header cell, from 1
  std::vector<Cell> cells_;                  // row by row
  std::vector<Line> row_lines_;
};

/// A unit a column may be given in: the suffix of its name, and our value = (value + offset) *
/// factor.
struct UnitOption {
  std::string_view suffix;
  double factor = 1.0;
  double offset = 0.0;
};

namespace unit_options {
inline constexpr UnitOption temperature[]{{"_c"}, {"_f", 1.0 / 1.8, -32.0}};  // degrees Celsius
inline constexpr UnitOption depth_mm[]{{"_mm"}, {"_in", units::mm_per_inch}};
inline constexpr UnitOption length_cm[]{{"_cm"}, {"_in", units::cm_per_inch}};
inline constexpr UnitOption length_m[]{{"_m"}, {"_ft", units::m_per_foot}};
inline constexpr UnitOption volume[]{{"_l"}, {"_gal", units::litres_per_us_gallon}};
inline constexpr UnitOption mass[]{{"_kg"}, {"_lb", units::kg_per_pound}};
inline constexpr UnitOption wind[]{
    {"_m_s"}, {"_km_h", units::m_s_per_km_h}, {"_mph", units::m_s_per_mph}};
inline constexpr UnitOption none[]{{""}};  // the name itself
}  // namespace unit_options

/// What numbers a cell may hold, in our unit, ends included.
struct Bounds {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  std::string allowed{};  // in words

  /// The same with its words, if it has none: `low to high`, or `at least low`.
  [[nodiscard]] Bounds said() const;
};

/// What a table must hold of a column.
enum class Need {
  nothing,  // it may be left out
  column,   // it must be there, its cells may be blank
  value,    // it must be there without a blank
};

/// A column of a table, which must outlive it: finds which unit it is given in and reads cells in
/// our unit.
class NumberColumn {
 public:
  /// Adds a problem if two units are present, or none where there must be one.
  NumberColumn(const CsvTable& table, std::string_view stem, std::span<const UnitOption> units,
               Need need, ProblemList& problems);

  [[nodiscard]] bool present() const { return column_.has_value(); }
  /// Of one that is present.
  [[nodiscard]] std::size_t column() const { return *column_; }
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] const UnitOption& unit() const { return unit_; }

  /// The cell in our unit; empty if blank or the column is absent. A cell that is not a number, or
  /// lies outside the bounds, adds a problem and counts as blank.
  std::optional<double> read(std::size_t row, ProblemList& problems, const Bounds& bounds) const;

 private:
  void refuse(std::size_t row, ProblemList& problems, const Bounds& bounds) const;

  const CsvTable* table_;
  Need need_;
  std::optional<std::size_t> column_;
  std::string name_;
  UnitOption unit_{};
};

/// Columns of a long table that are read together, row by row.
class NumberColumns {
 public:
  explicit NumberColumns(const CsvTable& table) : table_(&table) {}

  /// A column of this table that is present, and what NumberColumn::read() takes with it.
  void add(const NumberColumn& column, Bounds bounds);
  /// What NumberColumn::read() gives for each column, in their order; NaN instead of empty. Holds
  /// until the next row is read.
  [[nodiscard]] std::span<const double> read(std::size_t row, ProblemList& problems);

 private:
  struct Wanted {
    std::size_t column;
    double offset;
    double factor;
    double low;
    double high;
  };

  [[nodiscard, gnu::noinline]] double any(const Wanted& wanted, std::size_t row,
                                          ProblemList& problems) const;

  const CsvTable* table_;
  std::vector<Wanted> wanted_;
  std::vector<std::pair<NumberColumn, Bounds>> refusing_;
  std::vector<double> numbers_;
};

/// Every name under which a column may stand, for refuse_unknown_columns.
void add_names(std::vector<std::string>& names, std::string_view stem,
               std::span<const UnitOption> units);

}  // namespace wiltline
