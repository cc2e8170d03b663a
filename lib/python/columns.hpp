// Rows of an answer as a dictionary of NumPy columns.
#pragma once

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <concepts>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "wiltline/wiltline.hpp"

namespace wiltline::python {

namespace py = pybind11;

/// What NumPy takes for "no time".
inline constexpr std::int64_t not_a_time = std::numeric_limits<std::int64_t>::min();

[[nodiscard]] inline std::int64_t stamp(Date date) {
  return date.time_since_epoch().count();
}
[[nodiscard]] inline std::int64_t stamp(const Instant& instant) {
  return stamp(instant.date) * 1440 + minute_of_day(instant.hour);
}

/// A column: an array of float64 (NaN: unknown), int64, bool, datetime64[D] or datetime64[m] (NaT:
/// unknown), or a list of str or of bool with None.
template <typename Row, typename Take>
[[nodiscard]] py::object column_of(std::span<const Row> rows, const Take& take) {
  using Value = std::remove_cvref_t<std::invoke_result_t<const Take&, const Row&>>;
  const auto count = static_cast<py::ssize_t>(rows.size());
  const auto filled = [&](auto array, const auto& item) {
    auto* const to = array.mutable_data();
    for (std::size_t i = 0; i < rows.size(); ++i) to[i] = item(rows[i]);
    return array;
  };
  const auto times = [&](const char* kind, const auto& item) {
    return filled(py::array_t<std::int64_t>(count), item).attr("view")(kind);
  };
  if constexpr (std::is_same_v<Value, bool>) {
    return filled(py::array_t<bool>(count), take);
  } else if constexpr (std::is_integral_v<Value>) {
    return filled(py::array_t<std::int64_t>(count),
                  [&](const Row& row) { return static_cast<std::int64_t>(take(row)); });
  } else if constexpr (std::is_same_v<Value, double>) {
    return filled(py::array_t<double>(count), take);
  } else if constexpr (std::is_same_v<Value, std::optional<double>>) {
    return filled(py::array_t<double>(count), [&](const Row& row) {
      return take(row).value_or(std::numeric_limits<double>::quiet_NaN());
    });
  } else if constexpr (std::is_same_v<Value, Date>) {
    return times("datetime64[D]", [&](const Row& row) { return stamp(take(row)); });
  } else if constexpr (std::is_same_v<Value, Instant>) {
    return times("datetime64[m]", [&](const Row& row) { return stamp(take(row)); });
  } else if constexpr (std::is_same_v<Value, std::optional<Date>> ||
                       std::is_same_v<Value, std::optional<Instant>>) {
    constexpr bool days = std::is_same_v<Value, std::optional<Date>>;
    return times(days ? "datetime64[D]" : "datetime64[m]", [&](const Row& row) {
      const Value value = take(row);
      return value ? stamp(*value) : not_a_time;
    });
  } else {  // text, or what may be None
    py::list list;
    for (const Row& row : rows) list.append(py::cast(take(row)));
    return list;
  }
}

/// A named column of the rows of an answer, and what it means.
template <typename Row>
struct Field {
  template <typename Take>
  Field(const char* the_name, const char* the_meaning, Take take)
      : name(the_name),
        meaning(the_meaning),
        column([take](std::span<const Row> rows) { return column_of(rows, take); }) {}

  const char* name;
  const char* meaning;
  std::function<py::object(std::span<const Row>)> column;
};

template <typename Row>
using Fields = std::vector<Field<Row>>;

template <typename Row>
[[nodiscard]] py::dict columns(const Fields<Row>& fields, std::span<const Row> rows) {
  py::dict table;
  for (const Field<Row>& field : fields) table[field.name] = field.column(rows);
  return table;
}

template <typename Row>
[[nodiscard]] py::dict columns(const Fields<Row>& fields, const std::vector<Row>& rows) {
  return columns(fields, std::span<const Row>(rows));
}

/// What a function says of itself: `text`, then a line for each column.
template <typename Row>
[[nodiscard]] std::string documented(std::string text, const Fields<Row>& fields) {
  for (const Field<Row>& field : fields) {
    text += std::string("\n    ") + field.name + ": " + field.meaning;
  }
  return text;
}

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
