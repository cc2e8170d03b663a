// Every rule of thumb and every measured case through the model: the verdicts are those recorded.
#include <doctest/doctest.h>

#include "table.hpp"

namespace wiltline::test {
namespace {

void check_table(const char* name, std::size_t rows) {
  const auto judged = judge_table(std::string(WILTLINE_TEST_DATA) + "/reference/" + name);
  CHECK(judged.size() == rows);
  for (const Judged& row : judged) {
    CAPTURE(row.id);
    CAPTURE(row.computed);
    CHECK(row.verdict == row.expected_verdict);
    // A row that differs, or is not run, says why.
    CHECK((row.verdict == "agrees") == row.reason.empty());
    CHECK_FALSE(row.source.empty());
    if (row.kind == RowKind::not_through_model) continue;
    CHECK(row.low < row.high);
    CHECK_FALSE(row.figure.empty());
    CHECK((row.low <= 0.0 || row.high <= 4.0 * row.low));
  }
  MESSAGE("\n", table_text(judged));
}

}  // namespace

TEST_CASE("rules of thumb") {
  check_table("rules-of-thumb.csv", 24);
}

TEST_CASE("measured cases") {
  check_table("measured-cases.csv", 27);
}

}  // namespace wiltline::test
