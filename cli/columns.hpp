// Columns of an answer. A list of them is the one place that says what a column is called, what it
// means and where its value comes from; CSV, JSON, tables and help follow it.
#pragma once

#include <functional>
#include <iterator>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <variant>
#include <vector>

#include "quantity.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline::cli {

/// One cell; monostate is an empty one.
using Cell = std::variant<std::monostate, double, long, std::string>;

/// A value as a cell: dates and times as ISO 8601, yes or no for a bool, empty for what is unknown.
template <typename Value>
[[nodiscard]] Cell cell_of(const Value& value) {
  if constexpr (std::is_same_v<Value, Cell>) {
    return value;
  } else if constexpr (std::is_same_v<Value, bool>) {
    return std::string(value ? "yes" : "no");
  } else if constexpr (std::is_integral_v<Value>) {
    return static_cast<long>(value);
  } else if constexpr (std::is_floating_point_v<Value>) {
    return value;
  } else if constexpr (requires { value.has_value(); }) {
    return value ? cell_of(*value) : Cell();
    // cppcheck-suppress identicalConditionAfterEarlyExit ; it takes every `requires` for the same
  } else if constexpr (requires { to_string(value); }) {
    return std::string(to_string(value));
  } else {
    return std::string(value);
  }
}

/// The value as a cell; an empty one unless `condition` holds.
template <typename Value>
[[nodiscard]] Cell cell_if(bool condition, const Value& value) {
  return condition ? cell_of(value) : Cell();
}

/// What is said of a column, whatever its rows are.
struct ColumnHead {
  std::string_view name;
  Quantity quantity = Quantity::text;
  int digits = 0;  // after the point, in CSV and tables
  std::string_view meaning;
};

/// A column of rows of a type, with what takes its value from a row.
template <typename Row>
struct Column : ColumnHead {
  Cell (*get)(const Row&);

  /// `Value`: a lambda without captures, from a row to anything cell_of() knows.
  template <typename Value>
  constexpr Column(std::string_view name_, Quantity quantity_, int digits_,
                   std::string_view meaning_, Value)
      : ColumnHead{name_, quantity_, digits_, meaning_},
        get([](const Row& row) { return cell_of(Value{}(row)); }) {}
};

/// The heads of some lists of columns, in their order.
template <typename... Lists>
[[nodiscard]] std::vector<ColumnHead> heads(const Lists&... lists) {
  std::vector<ColumnHead> all;
  (all.insert(all.end(), std::begin(lists), std::end(lists)), ...);
  return all;
}

/// The columns of an answer: lists over its rows, or over parts of them, one after the other.
template <typename Row>
class Table {
 public:
  void add(std::span<const Column<Row>> columns) { add(columns, std::identity()); }

  /// Columns over a part of each row. `part` gives it as a reference or as a pointer; null leaves
  /// the cells empty. The columns must outlive the table.
  template <typename Part, typename PartOf>
  void add(std::span<const Column<Part>> columns, PartOf part) {
    heads_.insert(heads_.end(), columns.begin(), columns.end());
    groups_.push_back([columns, part](const Row& row, std::vector<Cell>& cells) {
      const Part* const found = pointer_to(std::invoke(part, row));
      for (const Column<Part>& column : columns) {
        cells.push_back(found == nullptr ? Cell() : column.get(*found));
      }
    });
  }

  template <typename Part, std::size_t count, typename PartOf>
  void add(const Column<Part> (&columns)[count], PartOf part) {
    add(std::span<const Column<Part>>(columns), part);
  }

  [[nodiscard]] const std::vector<ColumnHead>& heads() const { return heads_; }
  /// One cell a column.
  [[nodiscard]] std::vector<Cell> cells(const Row& row) const {
    std::vector<Cell> cells;
    cells.reserve(heads_.size());
    for (const auto& group : groups_) group(row, cells);
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
  std::vector<std::function<void(const Row&, std::vector<Cell>&)>> groups_;
};

}  // namespace wiltline::cli
