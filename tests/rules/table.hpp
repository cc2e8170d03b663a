// The tables of rules and measurements: each row run through the model and judged.
#pragma once

#include <string>
#include <vector>

namespace wiltline::test {

enum class RowKind {
  check,
  fitted,            // the model was fitted to it: shown, no check
  not_through_model  // states no number the model could give, or is one of its own inputs
};

/// One row with the model's answer.
struct Judged {
  std::string id;
  RowKind kind = RowKind::check;
  std::string statement;
  std::string band;    // low, high, unit
  std::string figure;  // that the band comes from
  double low = 0.0;
  double high = 0.0;
  std::string source;
  std::string run;       // what was run
  std::string computed;  // the model's answer
  std::string verdict;   // agrees, model gives less, model gives more; empty if not through it
  std::string expected_verdict;  // as the table records it
  std::string reason;            // where the model differs
};

/// Runs every row of a table in tests/reference/. The value is the measure of the row's setting or,
/// with `against`, that over the measure of the setting so changed.
[[nodiscard]] std::vector<Judged> judge_table(const std::string& path);

/// As a table for people: the checks with their count, then the fitted rows, then the rest.
[[nodiscard]] std::string table_text(const std::vector<Judged>& rows);

}  // namespace wiltline::test
