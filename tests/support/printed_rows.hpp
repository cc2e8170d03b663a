// Rows of numbers that a paper prints: what it puts in, what it gets, and how closely that must be
// met. The columns are those of tests/reference/fao56-chapters-2-4.csv.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <exception>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "support/near.hpp"
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

/// Evaluates a row and compares. Returns the miss as a share of the tolerance; empty where the
/// printed number is not the one to be met.
inline std::optional<double> check_row(const Table& table, std::size_t row,
                                       const Evaluations& evaluations) {
  const Inputs in(table.cell(row, "inputs"), table.cell(row, "example"));
  const auto evaluation = evaluations.find(table.cell(row, "quantity"));
  if (evaluation == evaluations.end()) throw std::runtime_error("unknown quantity");
  const double actual = evaluation->second(in);
  CHECK_MESSAGE(in.unread().empty(), "inputs never read:", in.unread());

  const std::string_view as_text = table.cell(row, "expected");
  const double expected = number(as_text);
  const double tolerance = number(table.cell(row, "tolerance"));
  CHECK_MESSAGE(tolerance <= half_of_last_digit(as_text) * (1.0 + 1e-12), "tolerance was widened");
  const Near as_printed = near(actual, expected, tolerance + floating_point_slack);

  const std::string_view unrounded = table.cell(row, "unrounded");
  if (unrounded.empty()) {
    CHECK(as_printed);
    return std::abs(actual - expected) / tolerance;
  }
  CHECK_MESSAGE(!table.cell(row, "remark").empty(), "an unrounded value needs a reason");
  CHECK(near(actual, number(unrounded), half_of_last_digit(unrounded)));
  CHECK_MESSAGE(!as_printed, "the printed value is met: the row needs no unrounded value");
  return std::nullopt;
}

/// The pages named in a `where` cell, such as `p70-71`, without the p.
inline void add_pages(std::string_view where, std::string& pages) {
  for (std::string_view word : words(where)) {
    while (!word.empty() && word.back() == ';') word.remove_suffix(1);
    if (word.size() < 2 || word[0] != 'p' || word[1] < '0' || word[1] > '9') continue;
    const std::string page(word.substr(1));
    if ((", " + pages + ",").find(", " + page + ",") != std::string::npos) continue;
    if (!pages.empty()) pages += ", ";
    pages += page;
  }
}

/// Evaluates the rows that `chosen` picks by their example and quantity, and says in one line how
/// well they were met.
template <typename Choice>
void check_rows(const Table& table, const Evaluations& evaluations, const char* name,
                std::size_t expected_rows, Choice chosen) {
  std::size_t evaluated = 0;
  std::size_t contradictions = 0;
  double largest = 0.0;
  std::string pages;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (!chosen(table.cell(row, "example"), table.cell(row, "quantity"))) continue;
    INFO("line ", table.line(row), ": ", std::string(table.cell(row, "quantity")), " from ",
         std::string(table.cell(row, "inputs")));
    try {
      const std::optional<double> miss = check_row(table, row, evaluations);
      ++evaluated;
      if (miss) {
        largest = std::max(largest, *miss);
      } else {
        ++contradictions;
      }
    } catch (const std::exception& error) {
      FAIL_CHECK(std::string(error.what()));
    }
    add_pages(table.cell(row, "where"), pages);
  }
  CHECK(evaluated == expected_rows);
  std::printf("FAO-56 %s: %zu row%s, page%s %s, largest miss %.2f of the tolerance", name,
              evaluated, evaluated == 1 ? "" : "s",
              pages.find_first_of(",-") == std::string::npos ? "" : "s", pages.c_str(), largest);
  if (contradictions > 0) {
    std::printf("; %zu against the paper's inputs, not its result", contradictions);
  }
  std::printf("\n");
}

}  // namespace wiltline::test::printed
