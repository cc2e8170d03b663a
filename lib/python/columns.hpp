// Rows of an answer as a dictionary of NumPy columns.
#pragma once

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <functional>
#include <string>
#include <type_traits>
#include <vector>

#include "wiltline/tables/columns.hpp"
#include "wiltline/wiltline.hpp"

namespace wiltline::python {

namespace py = pybind11;

using tables::Table;
using tables::TableCell;

/// A column of so many rows: an array of float64 (NaN: empty; also of whole numbers that may be
/// empty), int64, bool, datetime64[D] or datetime64[m] (NaT: empty), or a list of str or of bool
/// with None.
[[nodiscard]] py::object column_of(tables::CellKind kind, bool may_be_empty, std::size_t rows,
                                   const std::function<TableCell(std::size_t)>& cell);
/// The same of what `value` gives for each place.
template <typename Value>
[[nodiscard]] py::object column_of(std::size_t rows, const Value& value) {
  using Given = std::remove_cvref_t<std::invoke_result_t<const Value&, std::size_t>>;
  return column_of(tables::kind_of<Given>(), tables::Optional<Given>, rows,
                   [&](std::size_t i) { return tables::cell_of(value(i)); });
}

/// The rows of an answer as a dictionary of its columns.
template <typename Row>
[[nodiscard]] py::dict columns(const Table<Row>& table, const std::vector<Row>& rows) {
  py::dict answer;
  for (std::size_t i = 0; i < table.heads().size(); ++i) {
    const tables::ColumnHead& head = table.heads()[i];
    answer[py::str(std::string(head.name))] =
        column_of(head.kind, head.may_be_empty, rows.size(),
                  [&](std::size_t row) { return table.cell(rows[row], i); });
  }
  return answer;
}

/// What a function says of itself: `text`, then a line for each column.
[[nodiscard]] std::string documented(std::string text,
                                     const std::vector<tables::ColumnHead>& heads);

/// Works without holding Python's lock.
template <typename Work>
auto unlocked(const Work& work) {
  const py::gil_scoped_release release;
  return work();
}

/// Plantings kept for Python.
struct Garden {
  std::vector<Planting> plantings;
};

/// Dates and times from str, datetime or datetime64. Throw RequestError.
[[nodiscard]] Date date_from(const py::handle& value);
[[nodiscard]] Instant instant_from(const py::handle& value);
/// One place or several.
[[nodiscard]] std::vector<Place> places_from(const py::handle& value);

void add_questions(py::module_& module);

}  // namespace wiltline::python
