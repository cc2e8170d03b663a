// Reading the rows of a table by a list of its fields: how each column is called, in which units it
// may be given, what is allowed in it and where in the row it is put. The list is all there is to
// say of a table; missing, doubled and unknown columns, blanks, numbers that are none or out of
// range are reported from it, the same way for every table. A table that is written too has the
// text of each cell in the same list.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/date.hpp"
#include "wiltline/base/ranged.hpp"
#include "wiltline/base/result.hpp"

namespace wiltline {

/// A table whose rows are read one by one, and what is wrong in it.
class TableRows {
 public:
  /// `may_be_empty`: a header alone will do.
  explicit TableRows(FileBytes file, bool may_be_empty = false)
      : table_(std::move(file), may_be_empty) {}

  [[nodiscard]] const CsvTable& table() const { return table_; }
  [[nodiscard]] ProblemList& problems() { return problems_; }
  [[nodiscard]] std::size_t line() const { return table_.line(row_); }

  /// Goes to a row, from 0: what follows is of it.
  void at(std::size_t row) {
    row_ = row;
    wrong_.clear();
  }
  [[nodiscard]] std::string_view text(std::size_t column) const {
    return table_.cell(row_, column);
  }
  /// Of a column that is there.
  [[nodiscard]] std::string_view text(std::string_view column) const {
    return text(*table_.column(column));
  }
  /// A number that must be there, of a column that is; 0, or the bound nearest to it, where it is
  /// wrong.
  double number(std::string_view column, const Bounds& bounds);

  void complain(std::size_t column, std::string found, std::string expected, Advice advice = {});
  void complain(std::string_view column, std::string found, std::string expected) {
    complain(*table_.column(column), std::move(found), std::move(expected));
  }
  void complain(std::string_view column, Fault fault) {
    complain(*table_.column(column), std::move(fault.found), std::move(fault.expected),
             std::move(fault.advice));
  }
  /// True unless something is wrong with one of these cells of the row.
  [[nodiscard]] bool sound(std::span<const std::string> columns) const;

 private:
  friend class Cell;

  CsvTable table_;
  ProblemList problems_;
  std::size_t row_ = 0;
  std::vector<std::size_t> wrong_;  // columns of this row
};

inline constexpr std::string_view instant_example =
    "a date and hour that exist, as 2024-05-31 18:30";

/// A cell that is not blank, for a field to read.
class Cell {
 public:
  Cell(TableRows& rows, const NumberColumn& column) : rows_(rows), column_(column) {}

  [[nodiscard]] std::string_view text() const { return rows_.text(column_.column()); }
  /// Its name in the file, unit included.
  [[nodiscard]] const std::string& column() const { return column_.name(); }
  [[nodiscard]] std::optional<double> number(const Bounds& bounds) const;
  [[nodiscard]] std::optional<int> whole_number(int low, int high) const;
  [[nodiscard]] std::optional<Instant> instant() const;
  /// Which of some words it holds.
  [[nodiscard]] std::optional<std::size_t> choice(std::span<const std::string_view> words,
                                                  std::string expected) const;

  void complain(std::string found, std::string expected, Advice advice = {}) const {
    rows_.complain(column_.column(), std::move(found), std::move(expected), std::move(advice));
  }
  /// The value of a result; none where it is a fault, which it reports.
  template <typename Value>
  [[nodiscard]] std::optional<Value> accepted(Result<Value> read) const {
    if (read) return *std::move(read);
    complain(read.fault().found, read.fault().expected, read.fault().advice);
    return std::nullopt;
  }

 private:
  TableRows& rows_;
  const NumberColumn& column_;
};

/// What is wrong with a value outside its own range.
[[nodiscard]] std::optional<Fault> order_fault(const Ranged& range);

/// What is wrong with a number outside bounds that have their words (said()), or with any of the
/// three of a range.
[[nodiscard]] std::optional<Fault> number_fault(std::string_view name, double value,
                                                const Bounds& bounds);
[[nodiscard]] std::optional<Fault> number_fault(std::string_view name, const Ranged& range,
                                                const Bounds& bounds);
template <typename Number>
[[nodiscard]] std::optional<Fault> number_fault(std::string_view name,
                                                const std::optional<Number>& value,
                                                const Bounds& bounds) {
  return value ? number_fault(name, *value, bounds) : std::nullopt;
}

/// The fields of a table whose rows become values of type Row. `into` is a member of Row, or a
/// function from Row& to what is to be set.
template <typename Row>
class Fields {
 public:
  using Put = std::function<void(const Cell&, Row&)>;
  using Text = std::function<std::string(const Row&)>;
  using Units = std::span<const UnitOption>;
  template <typename Into>
  static constexpr bool is_range = std::is_same_v<std::invoke_result_t<Into, Row&>, Ranged&>;

  /// Any field: `put` reads a cell that is not blank. `expected` is reported of a blank where
  /// there must be a value.
  Fields& field(std::string stem, Need need, Put put, std::string_view expected = "a value",
                Units units = unit_options::none) {
    fields_.push_back({std::move(stem), units, need, std::string(expected), std::move(put), {}});
    return *this;
  }
  /// The text of a cell, in the first of its units, of the field just listed.
  Fields& written(Text text) {
    fields_.back().text = std::move(text);
    return *this;
  }
  /// Those of another list, too.
  Fields& add(Fields more) {
    for (Field& one : more.fields_) fields_.push_back(std::move(one));
    for (Check& one : more.checks_) checks_.push_back(std::move(one));
    for (auto& one : more.limits_) limits_.push_back(std::move(one));
    return *this;
  }
  /// A number; where it is put into an optional, a blank cell is allowed.
  template <typename Into>
  Fields& number(std::string stem, Into into, const Bounds& bounds) {
    constexpr bool must = std::is_same_v<std::invoke_result_t<Into, Row&>, double&>;
    return number(std::move(stem), unit_options::none, must ? Need::value : Need::column, into,
                  bounds);
  }
  template <typename Into>
  Fields& number(std::string stem, Units units, Need need, Into into, const Bounds& bounds) {
    limit(stem + std::string(units.front().suffix), into, bounds.said());
    return number_field(std::move(stem), units, need, into, bounds);
  }
  /// The columns NAME_UNIT, NAME_low_UNIT, NAME_high_UNIT, in order low <= value <= high. Put into
  /// an optional, all three may be blank.
  template <typename Into>
  Fields& ranged(const std::string& stem, const std::string& unit, Into into,
                 const Bounds& bounds) {
    const std::vector<std::string> names{stem + unit, stem + "_low" + unit, stem + "_high" + unit};
    const auto part = [&](const std::string& name, double Ranged::*member) {
      const auto number_in = [into, member](Row& row) -> double& {
        if constexpr (is_range<Into>) {
          return std::invoke(into, row).*member;
        } else {
          std::optional<Ranged>& range = std::invoke(into, row);
          if (!range) range = Ranged::unknown();
          return (*range).*member;
        }
      };
      number_field(name, unit_options::none, is_range<Into> ? Need::value : Need::column, number_in,
                   bounds);
    };
    part(names[0], &Ranged::value);
    part(names[1], &Ranged::low);
    part(names[2], &Ranged::high);
    limit(names[0], into, bounds.said());
    return check(names, [into](const Row& row) -> std::optional<Fault> {
      if constexpr (is_range<Into>) {
        return order_fault(std::invoke(into, row));
      } else {
        const std::optional<Ranged>& range = std::invoke(into, row);
        return range ? order_fault(*range) : std::nullopt;
      }
    });
  }
  Fields& text(std::string stem, std::string Row::*into, Need need = Need::value,
               std::string_view expected = "a value") {
    return field(
        std::move(stem), need,
        [into](const Cell& cell, Row& row) { row.*into = std::string(cell.text()); }, expected);
  }
  /// One of some words, put as its place among them: an enumeration in that order, or no and yes.
  template <typename Into>
  Fields& choice(std::string stem, std::vector<std::string_view> words, Into into,
                 Need need = Need::value, std::string expected = {}) {
    return field(std::move(stem), need,
                 [into, words = std::move(words), expected = std::move(expected)](const Cell& cell,
                                                                                  Row& row) {
                   if (const auto at = cell.choice(words, expected)) {
                     using Choice = std::remove_cvref_t<std::invoke_result_t<Into, Row&>>;
                     std::invoke(into, row) = static_cast<Choice>(*at);
                   }
                 });
  }
  template <typename Choice, std::size_t N>
  Fields& choice(std::string stem, const std::array<std::string_view, N>& words,
                 Choice Row::*into) {
    return choice(std::move(stem), std::vector<std::string_view>(words.begin(), words.end()), into);
  }
  /// A column that is read elsewhere.
  Fields& column(std::string stem) {
    return field(std::move(stem), Need::column, [](const Cell&, Row&) {});
  }
  /// What must hold between cells: looked at where they are all sound; a fault is reported at the
  /// first of them.
  Fields& check(std::vector<std::string> columns,
                std::function<std::optional<Fault>(const Row&)> fault) {
    checks_.push_back({std::move(columns), std::move(fault)});
    return *this;
  }

  /// The same fields of something that holds such a row.
  template <typename Whole>
  [[nodiscard]] Fields<Whole> in(Row Whole::*part) const {
    Fields<Whole> result;
    for (const Field& one : fields_) {
      result.fields_.push_back(
          {one.stem, one.units, one.need, one.value_expected,
           [put = one.put, part](const Cell& cell, Whole& whole) { put(cell, whole.*part); },
           one.text ? typename Fields<Whole>::Text(
                          [text = one.text, part](const Whole& whole) { return text(whole.*part); })
                    : nullptr});
    }
    for (const Check& one : checks_) {
      result.check(one.columns,
                   [fault = one.fault, part](const Whole& whole) { return fault(whole.*part); });
    }
    for (const auto& limit : limits_) {
      result.limits_.push_back([limit, part](const Whole& whole) { return limit(whole.*part); });
    }
    return result;
  }

  /// What is wrong with a row that was not read but made: the first number that is outside its
  /// bounds or is none, else what does not hold between fields. Empty: nothing.
  [[nodiscard]] std::optional<Fault> fault(const Row& row) const {
    for (const auto& limit : limits_) {
      if (auto found = limit(row)) return found;
    }
    for (const Check& one : checks_) {
      if (auto found = one.fault(row)) return found;
    }
    return std::nullopt;
  }

  /// Every name under which a column may stand.
  [[nodiscard]] std::vector<std::string> names() const {
    std::vector<std::string> result;
    for (const Field& one : fields_) add_names(result, one.stem, one.units);
    return result;
  }

  /// The columns as they are written, each in the first of its units.
  [[nodiscard]] std::vector<std::string> written_names() const {
    std::vector<std::string> result;
    for (const Field& one : fields_) {
      result.push_back(one.stem + std::string(one.units.front().suffix));
    }
    return result;
  }
  /// The cells of a row in that order. Every field must have its text (written()).
  [[nodiscard]] std::vector<std::string> cells(const Row& row) const {
    std::vector<std::string> result;
    for (const Field& one : fields_) result.push_back(one.text(row));
    return result;
  }

  /// Reads all rows: `take` gets each, checked but perhaps with faults that will be thrown, while
  /// `rows` stands at it. Throws InputError: what is wrong with the columns, else with the cells.
  template <typename Take>
  void read(TableRows& rows, const Take& take) const {
    const CsvTable& table = rows.table();
    std::vector<NumberColumn> columns;
    for (const Field& one : fields_) {
      columns.emplace_back(table, one.stem, one.units, one.need, rows.problems());
    }
    table.refuse_unknown_columns(names(), rows.problems());
    rows.problems().throw_if_any();
    for (std::size_t i = 0; i < table.rows() && !rows.problems().full(); ++i) {
      rows.at(i);
      Row row{};
      for (std::size_t k = 0; k < fields_.size(); ++k) {
        if (!columns[k].present()) continue;
        const Cell cell(rows, columns[k]);
        if (!cell.text().empty()) {
          fields_[k].put(cell, row);
        } else if (fields_[k].need == Need::value) {
          cell.complain("nothing in " + cell.column(), fields_[k].value_expected);
        }
      }
      for (const Check& one : checks_) {
        if (!rows.sound(one.columns)) continue;
        if (auto fault = one.fault(row)) rows.complain(one.columns.front(), *std::move(fault));
      }
      take(std::move(row));
    }
    rows.problems().throw_if_any();
  }

 private:
  template <typename Other>
  friend class Fields;

  struct Field {
    std::string stem;
    Units units;
    Need need;
    std::string value_expected;
    Put put;
    Text text;  // empty: it is not written
  };
  struct Check {
    std::vector<std::string> columns;
    std::function<std::optional<Fault>(const Row&)> fault;
  };

  template <typename Into>
  Fields& number_field(std::string stem, Units units, Need need, Into into, const Bounds& bounds) {
    return field(
        std::move(stem), need,
        [into, bounds = bounds.said()](const Cell& cell, Row& row) {
          if (const auto value = cell.number(bounds)) std::invoke(into, row) = *value;
        },
        "a number", units);
  }
  /// What `into` has may lie within the bounds only; an optional may be empty.
  template <typename Into>
  void limit(std::string name, Into into, Bounds bounds) {
    limits_.push_back([name = std::move(name), into,
                       bounds = std::move(bounds)](const Row& row) -> std::optional<Fault> {
      // Only looked at: a function into a row gives what can be set.
      const auto& value = std::invoke(into, const_cast<Row&>(row));
      return number_fault(name, value, bounds);
    });
  }

  std::vector<Field> fields_;
  std::vector<Check> checks_;
  std::vector<std::function<std::optional<Fault>(const Row&)>> limits_;  // of numbers
};

}  // namespace wiltline
