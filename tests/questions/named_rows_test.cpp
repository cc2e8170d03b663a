// Rows that name a planting.
#include "wiltline/questions/named_rows.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {

TEST_CASE("named rows: a planting by its name, and the nearest for one that is none") {
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  ByName names(garden);
  CHECK(names.find("basil") == &garden[1]);
  CHECK(names.find("kale") == nullptr);
  TableRows rows({"x.csv", "name\nbasil\nbazil\n"});
  rows.at(0);
  CHECK(names.named(rows) == &garden[1]);
  rows.at(1);
  CHECK(names.named(rows) == nullptr);
  const std::string said = refusal([&] { rows.problems().throw_if_any(); });
  CHECK(
      said.starts_with("x.csv:3:1: found unknown planting \"bazil\"; expected a name of the "
                       "garden"));
  CHECK(said.find("basil") != std::string::npos);
}

TEST_CASE(
    "named rows: rows of another garden are told in one line, rows of one mistyped name too") {
  const std::vector<Planting> garden =
      plantings("basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  ByName names(garden);
  TableRows rows({"x.csv", "name\nrose\nbazil\nbasil\nhydrangea\nrose\nbazil\n"});
  for (std::size_t row = 0; row < rows.table().rows(); ++row) {
    rows.at(row);
    CHECK((names.named(rows) != nullptr) == (row == 2));
  }
  CHECK(refusal([&] { rows.problems().throw_if_any(); }) ==
        "x.csv:2:1: found unknown plantings in 3 rows, first \"rose\"; expected a name of the "
        "garden\n"
        "x.csv:3:1: found unknown planting \"bazil\" in 2 rows; expected a name of the garden; "
        "nearest: basil");
}

TEST_CASE(
    "named rows: of a hundred names it is told what they are like, of the rest that they are "
    "unknown") {
  const std::vector<Planting> garden =
      plantings("basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  ByName names(garden);
  std::string text = "name\n";
  for (int i = 0; i < 150; ++i) text += "rose " + std::to_string(i) + '\n';
  TableRows rows({"x.csv", text + "bazil\n"});
  for (std::size_t row = 0; row < rows.table().rows(); ++row) {
    rows.at(row);
    CHECK(names.named(rows) == nullptr);
  }
  CHECK(refusal([&] { rows.problems().throw_if_any(); }) ==
        "x.csv:2:1: found unknown plantings in 151 rows, first \"rose 0\"; expected a name of the "
        "garden");
}

}  // namespace wiltline::test
