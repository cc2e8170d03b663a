// The tables of rules and measurements, each row run through the model and judged.
#pragma once

#include <string>
#include <vector>

namespace wiltline::test {

/// One row with the model's answer.
struct Judged {
  std::string id;
  std::string statement;
  std::string band;      // what the rule or measurement says
  std::string source;    // with its mark
  std::string computed;  // the model's answer and how it was got
  std::string verdict;
  std::string expected_verdict;  // as the table records it
  std::string reason;            // where the model differs
};

/// Runs every row of a table in tests/reference/. A row without a scenario "cannot be tested"; a
/// band is [low, high]; outside it the habit is the safer one if it waters more (or asks for a
/// bigger pot) than the model, else the model may be wrong.
[[nodiscard]] std::vector<Judged> judge_table(const std::string& path);

/// As a table for people.
[[nodiscard]] std::string table_text(const std::vector<Judged>& rows);

}  // namespace wiltline::test
