#include "columns.hpp"

#include <cstdint>
#include <limits>

namespace wiltline::python {
namespace {

using tables::CellKind;

/// What NumPy takes for "no time".
constexpr std::int64_t not_a_time = std::numeric_limits<std::int64_t>::min();

double number_in(const TableCell& cell) {
  if (const auto* const whole = std::get_if<long>(&cell)) return static_cast<double>(*whole);
  const auto* const number = std::get_if<double>(&cell);
  return number != nullptr ? *number : std::numeric_limits<double>::quiet_NaN();
}

/// Days or, of a time, minutes since 1970.
std::int64_t stamp_in(const TableCell& cell) {
  if (const auto* const day = std::get_if<Date>(&cell)) return day->time_since_epoch().count();
  const auto* const time = std::get_if<Instant>(&cell);
  constexpr std::int64_t minutes_per_day = 1440;
  return time == nullptr
             ? not_a_time
             : time->date.time_since_epoch().count() * minutes_per_day + minute_of_day(time->hour);
}

py::object object_of(const TableCell& cell) {
  if (std::holds_alternative<std::monostate>(cell)) return py::none();
  if (const auto* const truth = std::get_if<bool>(&cell)) return py::bool_(*truth);
  return py::str(tables::text_of(cell));
}

}  // namespace

py::object column_of(CellKind kind, bool may_be_empty, std::size_t rows,
                     const std::function<TableCell(std::size_t)>& cell) {
  const auto filled = [&](auto array, const auto& item) {
    auto* const to = array.mutable_data();
    for (std::size_t i = 0; i < rows; ++i) to[i] = item(cell(i));
    return array;
  };
  const auto count = static_cast<py::ssize_t>(rows);
  if (kind == CellKind::number || (kind == CellKind::integer && may_be_empty)) {
    return filled(py::array_t<double>(count), number_in);
  }
  if (kind == CellKind::integer) {
    return filled(py::array_t<std::int64_t>(count),
                  [](const TableCell& one) { return std::int64_t{std::get<long>(one)}; });
  }
  if (kind == CellKind::truth && !may_be_empty) {
    return filled(py::array_t<bool>(count),
                  [](const TableCell& one) { return std::get<bool>(one); });
  }
  if (kind == CellKind::day || kind == CellKind::time) {
    return filled(py::array_t<std::int64_t>(count), stamp_in)
        .attr("view")(kind == CellKind::day ? "datetime64[D]" : "datetime64[m]");
  }
  py::list list;
  for (std::size_t i = 0; i < rows; ++i) list.append(object_of(cell(i)));
  return list;
}

std::string documented(std::string text, const std::vector<tables::ColumnHead>& heads) {
  for (const tables::ColumnHead& head : heads) {
    const std::string_view unit = tables::unit_text(head.quantity, false);
    text += "\n    " + std::string(head.name) + (unit.empty() ? "" : ", " + std::string(unit)) +
            ": " + std::string(head.meaning);
  }
  return text;
}

}  // namespace wiltline::python
