// The numbers that FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes and Smith 1998)
// prints in chapters 6 to 10: coefficients in another climate (eq. 62 to 70), the surface layer
// (eq. 71 to 79), the root zone (eq. 80 to 88), sparse stands (eq. 97 to 102). They stand in
// tests/reference/fao56-chapters-6-9.csv.
//
// A test "FAO-56 Example NN" runs the library as tests/handbook/chapters_6_to_9.cpp says;
// handbook_days_test.cpp holds the interval step against the handbook's daily stepping. Rows of
// equations that the library does not have are checked by the tests "handbook: ...": they say that
// the data is what the paper means.
#include <doctest/doctest.h>

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include "budget/fao56_days.hpp"
#include "handbook/chapters.hpp"
#include "support/printed_rows.hpp"

namespace wiltline::test {
namespace {

using printed::Inputs;

const printed::Evaluations& handbook() {
  return printed::arithmetic_6_to_9();
}

/// The rows of an example that the library computes.
void check_example(const char* name, std::size_t expected_rows) {
  printed::check_rows(printed::chapters_6_to_9(), printed::evaluations_6_to_9(), name,
                      expected_rows, [name](std::string_view example, std::string_view quantity) {
                        return example == name && !handbook().contains(quantity);
                      });
}

}  // namespace

TEST_CASE("FAO-56 Example 27") {
  check_example("Example 27", 2);
}
TEST_CASE("FAO-56 Example 29") {
  check_example("Example 29", 1);
}
TEST_CASE("FAO-56 Example 31") {
  check_example("Example 31", 59);
}
TEST_CASE("FAO-56 Example 32") {
  check_example("Example 32", 1);
}
TEST_CASE("FAO-56 Example 35") {
  check_example("Example 35", 91);
}
TEST_CASE("FAO-56 Example 36") {
  check_example("Example 36", 21);
}
TEST_CASE("FAO-56 Example 37") {
  check_example("Example 37", 41);
}
TEST_CASE("FAO-56 Example 38") {
  check_example("Example 38", 52);
}
TEST_CASE("FAO-56 Example 39") {
  check_example("Example 39", 11);
}
TEST_CASE("FAO-56 Example 40") {
  check_example("Example 40", 3);
}
TEST_CASE("FAO-56 Example 41") {
  check_example("Example 41", 7);
}
TEST_CASE("FAO-56 Example 42") {
  check_example("Example 42", 5);
}
TEST_CASE("FAO-56 Example 43") {
  check_example("Example 43", 12);
}
TEST_CASE("FAO-56 Example 47") {
  check_example("Example 47", 5);
}

// Whatever is no worked example: a misspelt example ends up here and spoils the count.
TEST_CASE("FAO-56 boxes of chapters 6 and 7") {
  printed::check_rows(printed::chapters_6_to_9(), printed::evaluations_6_to_9(),
                      "boxes of chapters 6 and 7", 3,
                      [](std::string_view example, std::string_view quantity) {
                        return !example.starts_with("Example ") && !handbook().contains(quantity);
                      });
}

TEST_CASE("handbook: FAO-56 chapters 6 to 9, equations that the library does not have") {
  printed::check_rows(
      printed::chapters_6_to_9(), handbook(), "chapters 6 to 9, not of the library", 44,
      [](std::string_view, std::string_view quantity) { return handbook().contains(quantity); });
  CHECK(printed::chapters_6_to_9().rows() == 358);
}

// A row reaches the days before its own through the first row of each.
TEST_CASE("handbook: FAO-56 day tables, all rows of a day put in the same") {
  std::map<std::pair<std::string_view, int>, std::string_view> of_day;
  const printed::Table& table = printed::chapters_6_to_9();
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const std::string_view text = table.cell(row, "inputs");
    const Inputs in(text);
    if (!in.has("day")) continue;
    CAPTURE(table.line(row));
    const std::pair key(table.cell(row, "example"), printed::day_of(in));
    const std::string_view first = of_day.emplace(key, text).first->second;
    CHECK(std::string(text) == std::string(first));
  }
  CHECK(of_day.size() == 4 * 10);  // Examples 31, 35, 37 and 38
}

}  // namespace wiltline::test
