// Columns of an answer. A list of them is the one place that says what a column is called, what it
// means and where its value comes from; CSV, JSON, tables, help and the Python module follow it.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/tables/quantity.hpp"

namespace wiltline::tables {

using enum Quantity;

/// One cell; monostate is an empty one.
using TableCell = std::variant<std::monostate, double, long, bool, Date, Instant, std::string>;

/// What the cells of a column are, as far as they are not empty.
enum class CellKind { number, integer, truth, day, time, text };

/// A value that may be missing, as std::optional.
template <typename Value>
concept Optional = requires(const Value& value) {
  value.has_value();
};

/// The kind of the cells that are made of values of a type.
template <typename Value>
[[nodiscard]] constexpr CellKind kind_of() {
  if constexpr (Optional<Value>) {
    return kind_of<typename Value::value_type>();
  } else if constexpr (std::is_same_v<Value, bool>) {
    return CellKind::truth;
  } else if constexpr (std::is_integral_v<Value>) {
    return CellKind::integer;
  } else if constexpr (std::is_floating_point_v<Value>) {
    return CellKind::number;
  } else if constexpr (std::is_same_v<Value, Date>) {
    return CellKind::day;
  } else if constexpr (std::is_same_v<Value, Instant>) {
    return CellKind::time;
  } else {
    return CellKind::text;
  }
}

/// A value as a cell; empty for what is unknown.
template <typename Value>
[[nodiscard]] TableCell cell_of(const Value& value) {
  if constexpr (Optional<Value>) {
    return value ? cell_of(*value) : TableCell();
  } else if constexpr (kind_of<Value>() == CellKind::integer) {
    return static_cast<long>(value);
  } else if constexpr (kind_of<Value>() != CellKind::text) {
    return value;
  } else if constexpr (requires { to_string(value); }) {
    return std::string(to_string(value));
  } else {
    return std::string(value);
  }
}

/// A cell as text: dates and times as ISO 8601, yes or no, nothing for an empty one.
[[nodiscard]] std::string text_of(const TableCell& cell);

/// What is said of a column, whatever its rows are.
struct ColumnHead {
  std::string_view name;
  Quantity quantity = Quantity::text;
  int digits = 0;  // after the point, in CSV and tables
  std::string_view meaning;
  CellKind kind = CellKind::text;
  bool may_be_empty = false;
};

/// A column of rows of a type, with what takes its value from a row: a lambda without captures, to
/// anything cell_of() knows.
template <typename Row>
struct Column : ColumnHead {
  TableCell (*get)(const Row&);

  template <typename Take>
  constexpr Column(std::string_view name_, Quantity quantity_, int digits_,
                   std::string_view meaning_, Take)
      : ColumnHead{name_,
                   quantity_,
                   digits_,
                   meaning_,
                   kind_of<Taken<Take>>(),
                   Optional<Taken<Take>>},
        get([](const Row& row) { return cell_of(Take{}(row)); }) {}
  /// Of texts, days, times, yes and no, or whole numbers.
  template <typename Take>
  constexpr Column(std::string_view name_, std::string_view meaning_, Take take)
      : Column(name_,
               kind_of<Taken<Take>>() == CellKind::integer ? Quantity::count : Quantity::text, 0,
               meaning_, take) {}

 private:
  template <typename Take>
  using Taken = std::remove_cvref_t<std::invoke_result_t<Take, const Row&>>;
};

/// Columns under titles, as help lists them.
using Sections = std::vector<std::pair<std::string_view, std::vector<ColumnHead>>>;

/// The columns of an answer: lists over its rows, or over parts of them, one after the other, under
/// one title or several.
template <typename Row>
class Table {
 public:
  explicit Table(std::string_view title = "Columns of CSV and JSON") { section(title); }

  /// What is added from here on stands under a title of its own.
  void section(std::string_view title) { sections_.push_back({title, {}}); }

  template <std::size_t count>
  void add(const Column<Row> (&columns)[count]) {
    add(columns, std::identity());
  }
  /// Columns over a part of each row. `part` gives it as a reference or as a pointer; null leaves
  /// the cells empty.
  template <typename Part, std::size_t count, typename PartOf>
  void add(const Column<Part> (&columns)[count], PartOf part) {
    for (const Column<Part>& column : columns) {
      heads_.push_back(column);
      sections_.back().second.push_back(column);
      cells_.push_back([get = column.get, part](const Row& row) {
        const Part* const found = pointer_to(std::invoke(part, row));
        return found == nullptr ? TableCell() : get(*found);
      });
    }
  }

  [[nodiscard]] const std::vector<ColumnHead>& heads() const { return heads_; }
  [[nodiscard]] const Sections& sections() const { return sections_; }
  /// The cell of a row under the column at `place`.
  [[nodiscard]] TableCell cell(const Row& row, std::size_t place) const {
    return cells_[place](row);
  }
  /// One cell a column.
  [[nodiscard]] std::vector<TableCell> cells(const Row& row) const {
    std::vector<TableCell> cells;
    cells.reserve(cells_.size());
    for (const auto& take : cells_) cells.push_back(take(row));
    return cells;
  }

 private:
  template <typename Part>
  static const Part* pointer_to(const Part* part) {
    return part;
  }
  template <typename Part>
  static const Part* pointer_to(const Part&& part) = delete;  // a copy would not last
  template <typename Part>
  static const Part* pointer_to(const Part& part) {
    return &part;
  }

  std::vector<ColumnHead> heads_;
  Sections sections_;
  std::vector<std::function<TableCell(const Row&)>> cells_;  // of each column
};

/// The columns of some tables, one table after the other.
template <typename... Rows>
[[nodiscard]] Sections sections_of(const Table<Rows>&... tables) {
  Sections all;
  (all.insert(all.end(), tables.sections().begin(), tables.sections().end()), ...);
  return all;
}

}  // namespace wiltline::tables
