// Every number that FAO Irrigation and Drainage Paper 56 prints in its worked examples 1 to 20 and
// in the boxes of chapters 1 to 4, met by the library's functions. The numbers stand in
// tests/reference/fao56-chapters-2-4.csv, which also says where the paper contradicts itself. Rows
// of steps that the library does not have are checked by the test "handbook: ...": they say that
// the data is what the paper means.
#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "handbook/chapters.hpp"
#include "support/near.hpp"
#include "support/printed_rows.hpp"

namespace wiltline::test {
namespace {

using printed::floating_point_slack;
using printed::Inputs;
using printed::number;

const printed::Table& table() {
  return printed::chapters_2_to_4();
}

const printed::Evaluations& handbook() {
  return printed::arithmetic_2_to_4();
}

/// The rows of an example that the library computes.
void check_example(const char* name, std::size_t expected_rows) {
  printed::check_rows(table(), printed::evaluations_2_to_4(), name, expected_rows,
                      [name](std::string_view example, std::string_view quantity) {
                        return example == name && !handbook().contains(quantity);
                      });
}

TEST_CASE("FAO-56 Example 01") {
  check_example("Example 01", 1);
}
TEST_CASE("FAO-56 Example 02") {
  check_example("Example 02", 3);
}
TEST_CASE("FAO-56 Example 03") {
  check_example("Example 03", 4);
}
TEST_CASE("FAO-56 Example 04") {
  check_example("Example 04", 3);
}
TEST_CASE("FAO-56 Example 05") {
  check_example("Example 05", 4);
}
TEST_CASE("FAO-56 Example 06") {
  check_example("Example 06", 2);
}
TEST_CASE("FAO-56 Example 07") {
  check_example("Example 07", 2);
}
TEST_CASE("FAO-56 Example 08") {
  check_example("Example 08", 7);
}
TEST_CASE("FAO-56 Example 09") {
  check_example("Example 09", 1);
}
TEST_CASE("FAO-56 Example 10") {
  check_example("Example 10", 9);
}
TEST_CASE("FAO-56 Example 11") {
  check_example("Example 11", 10);
}
TEST_CASE("FAO-56 Example 12") {
  check_example("Example 12", 5);
}
TEST_CASE("FAO-56 Example 13") {
  check_example("Example 13", 2);
}
TEST_CASE("FAO-56 Example 14") {
  check_example("Example 14", 2);
}
TEST_CASE("FAO-56 Example 15") {
  check_example("Example 15", 6);
}
TEST_CASE("FAO-56 Example 16") {
  check_example("Example 16", 16);
}
TEST_CASE("FAO-56 Example 17") {
  check_example("Example 17", 35);
}
TEST_CASE("FAO-56 Example 18") {
  check_example("Example 18", 38);
}
TEST_CASE("FAO-56 Example 19") {
  check_example("Example 19", 45);
}
TEST_CASE("FAO-56 Example 20") {
  check_example("Example 20", 37);
}

// The paper prints both terms of ET0 only as products of rounded factors. A pot answers to each of
// the two on its own, so the whole chain must meet them too.
TEST_CASE("FAO-56 Examples 17, 18, 20: the two terms of ET0, end to end") {
  for (const std::string_view example : {"Example 17", "Example 18", "Example 20"}) {
    CAPTURE(std::string(example));
    const auto row_of = [example](std::string_view quantity) {
      std::size_t row = 0;
      while (table().cell(row, "example") != example || table().cell(row, "quantity") != quantity) {
        ++row;
        REQUIRE(row < table().rows());
      }
      return row;
    };
    const auto meets = [&](std::string_view quantity, double actual) {
      const std::size_t row = row_of(quantity);
      CHECK(near(actual, number(table().cell(row, "expected")),
                 number(table().cell(row, "tolerance")) + floating_point_slack));
    };
    const ReferenceTerms terms = printed::terms_of(Inputs(table().cell(row_of("ET0"), "inputs")));
    meets("radiation term of printed factors", terms.radiation_mm);
    meets("air term of printed factors", terms.air_mm);
  }
}

TEST_CASE("handbook: FAO-56 chapters 2 to 4, steps that the library does not have") {
  printed::check_rows(
      table(), handbook(), "chapters 2 to 4, not of the library", 10,
      [](std::string_view, std::string_view quantity) { return handbook().contains(quantity); });
}

// Whatever is no worked example, so that no row of the table can go unevaluated: a misspelt example
// ends up here and spoils the count.
TEST_CASE("FAO-56 boxes") {
  printed::check_rows(
      table(), printed::evaluations_2_to_4(), "boxes", 4,
      [](std::string_view example, std::string_view) { return !example.starts_with("Example "); });
  CHECK(table().rows() == 246);
}

}  // namespace
}  // namespace wiltline::test
