// Checks of rows that a paper prints (handbook/rows.hpp).
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>
#include <exception>
#include <optional>
#include <string>
#include <string_view>

#include "handbook/rows.hpp"
#include "support/near.hpp"

namespace wiltline::test::printed {

/// Evaluates a row and compares. Returns the miss as a share of the tolerance; empty where the
/// printed number is not the one to be met.
inline std::optional<double> check_row(const Table& table, std::size_t row,
                                       const Evaluations& evaluations) {
  const Outcome outcome = evaluate(table, row, evaluations);
  CHECK_MESSAGE(outcome.unread.empty(), "inputs never read:", outcome.unread);
  CHECK_MESSAGE(outcome.tolerance <= half_of_last_digit(outcome.printed) * (1.0 + 1e-12),
                "tolerance was widened");
  CAPTURE(outcome.ours);
  CAPTURE(std::string(outcome.printed));
  CHECK(outcome.met());
  if (outcome.unrounded.empty()) return outcome.miss();
  CHECK_MESSAGE(!outcome.remark.empty(), "an unrounded value needs a reason");
  CHECK_MESSAGE(!outcome.as_printed, "the printed value is met: the row needs no unrounded value");
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
