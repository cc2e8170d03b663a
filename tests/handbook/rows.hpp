// Rows of numbers that a paper prints: what it puts in, what it gets, how closely that must be met,
// and what the library makes of it. The columns are those of
// tests/reference/fao56-chapters-2-4.csv.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <exception>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::test::printed {

/// A printed number may lie exactly half a digit from the true one (1.8865 is printed 1.887): the
/// comparison is then decided by the last bit of a double. This much is left for that, and no more.
inline constexpr double floating_point_slack = 1e-9;

/// What the paper puts into one row. Remembers which values were asked for, so that a row cannot
/// state an input that its evaluation passes over.
class Inputs {
 public:
  /// From `name=value; name=value`, of a row of `example`.
  explicit Inputs(std::string_view text, std::string_view example = {}) : example_(example) {
    while (!text.empty()) {
      const std::size_t end = std::min(text.find(';'), text.size());
      const std::string_view item = trim(text.substr(0, end));
      text.remove_prefix(std::min(end + 1, text.size()));
      const std::size_t equals = item.find('=');
      if (equals == std::string_view::npos) fail("no value", item);
      const auto [place, added] =
          values_.emplace(item.substr(0, equals), Value{item.substr(equals + 1)});
      if (!added) fail("stated twice", item);
    }
  }

  [[nodiscard]] std::string_view example() const { return example_; }

  [[nodiscard]] bool has(std::string_view name) const { return values_.contains(name); }

  [[nodiscard]] std::string_view text(std::string_view name) const {
    const auto found = values_.find(name);
    if (found == values_.end()) fail("missing", name);
    found->second.read = true;
    return found->second.text;
  }

  [[nodiscard]] double operator[](std::string_view name) const {
    const std::optional<double> number = parse_number(text(name));
    if (!number) fail("not a number", name);
    return *number;
  }

  [[nodiscard]] std::optional<double> if_stated(std::string_view name) const {
    if (!has(name)) return std::nullopt;
    return (*this)[name];
  }

  /// Reads an input, if stated, that the evaluation knows by itself: it must be that.
  void expect(std::string_view name, double known) const {
    if (has(name) && (*this)[name] != known) fail("not what it should be", name);
  }

  [[nodiscard]] std::string unread() const {
    std::string names;
    for (const auto& [name, value] : values_) {
      if (!value.read) names += ' ' + std::string(name);
    }
    return names;
  }

 private:
  struct Value {
    std::string_view text;
    mutable bool read = false;
  };

  [[noreturn]] static void fail(std::string_view what, std::string_view name) {
    throw std::runtime_error("input `" + std::string(name) + "`: " + std::string(what));
  }

  std::string_view example_;
  std::map<std::string_view, Value> values_;
};

using Evaluation = double (*)(const Inputs&);
using Evaluations = std::map<std::string_view, Evaluation>;

/// Half a unit of the last digit of a printed number.
inline double half_of_last_digit(std::string_view text) {
  const std::size_t point = text.find('.');
  const std::size_t decimals = point == std::string_view::npos ? 0 : text.size() - point - 1;
  return 0.5 * std::pow(10.0, -static_cast<double>(decimals));
}

inline double number(std::string_view text) {
  const std::optional<double> value = parse_number(text);
  if (!value) throw std::runtime_error("not a number: " + std::string(text));
  return *value;
}

/// A file of such rows.
class Table {
 public:
  explicit Table(const std::string& path) : csv_(read_file(path)) {}

  [[nodiscard]] std::string_view cell(std::size_t row, std::string_view column) const {
    const std::optional<std::size_t> index = csv_.column(column);
    if (!index) throw std::runtime_error("no column " + std::string(column));
    return csv_.cell(row, *index);
  }
  [[nodiscard]] std::size_t rows() const { return csv_.rows(); }
  [[nodiscard]] std::size_t line(std::size_t row) const { return csv_.line(row); }

 private:
  CsvTable csv_;
};

/// A row worked out. What is to be met is the printed number to its tolerance or, where the paper's
/// own inputs do not lead to that, the unrounded one to half a unit of its last digit.
struct Outcome {
  std::string_view printed;
  std::string_view unrounded;  // empty: the printed number is to be met
  std::string_view remark;
  double ours = 0.0;
  double tolerance = 0.0;
  bool as_printed = false;
  bool as_unrounded = false;
  std::string unread;  // inputs that the evaluation passed over

  [[nodiscard]] bool met() const { return unrounded.empty() ? as_printed : as_unrounded; }
  /// Of the printed number, as a share of the tolerance.
  [[nodiscard]] double miss() const { return std::abs(ours - number(printed)) / tolerance; }
};

/// Throws where the row cannot be evaluated.
inline Outcome evaluate(const Table& table, std::size_t row, const Evaluations& evaluations) {
  const Inputs in(table.cell(row, "inputs"), table.cell(row, "example"));
  const auto evaluation = evaluations.find(table.cell(row, "quantity"));
  if (evaluation == evaluations.end()) throw std::runtime_error("unknown quantity");
  Outcome outcome{.printed = table.cell(row, "expected"),
                  .unrounded = table.cell(row, "unrounded"),
                  .remark = table.cell(row, "remark"),
                  .ours = evaluation->second(in),
                  .tolerance = number(table.cell(row, "tolerance")),
                  .unread = {}};
  outcome.unread = in.unread();
  const auto within = [&outcome](std::string_view text, double tolerance) {
    return std::abs(outcome.ours - number(text)) <= tolerance + floating_point_slack;
  };
  outcome.as_printed = within(outcome.printed, outcome.tolerance);
  outcome.as_unrounded = !outcome.unrounded.empty() &&
                         within(outcome.unrounded, half_of_last_digit(outcome.unrounded));
  return outcome;
}

}  // namespace wiltline::test::printed
