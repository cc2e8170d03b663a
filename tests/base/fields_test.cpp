// A table read by a list of its fields: what each kind of field tells of a wrong cell or column.
#include "wiltline/base/fields.hpp"

#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <vector>

#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

enum class Season { cool, warm };

struct Row {
  std::string name;
  double size_l = 0.0;
  std::optional<double> depth_cm;
  Ranged leaf_m2;
  Season season = Season::cool;
  int count = 1;
};

Fields<Row> fields() {
  Fields<Row> result;
  result.text("name", &Row::name)
      .number("size_l", &Row::size_l, {0.5, 10.0})
      .number("depth", unit_options::length_cm, Need::nothing, &Row::depth_cm,
              {1.0, 50.0, "1 to 50 cm"})
      .ranged("leaf", "_m2", &Row::leaf_m2, {0.0})
      .choice("season", {"cool", "warm"}, &Row::season)
      .field("count", Need::nothing,
             [](const Cell& cell, Row& row) { row.count = cell.whole_number(1, 9).value_or(1); })
      .check({"size_l", "name"}, [](const Row& row) -> std::optional<Fault> {
        if (row.name != "big" || row.size_l > 5.0) return std::nullopt;
        return Fault{"a small big one", "more than 5"};
      });
  return result;
}

std::vector<Row> read(const std::string& bytes) {
  TableRows rows({"t.csv", bytes});
  std::vector<Row> result;
  fields().read(rows, [&](Row row) { result.push_back(std::move(row)); });
  return result;
}

std::string refused(const std::string& bytes) {
  return refusal([&] { (void)read(bytes); });
}

const std::string header = "name,size_l,depth_in,leaf_m2,leaf_low_m2,leaf_high_m2,season,count\n";

}  // namespace

TEST_CASE("fields: every kind is put into the row, in our units") {
  const auto rows = read(header + "a,2,10,0.3,0.2,0.5,warm,3\nb,0.5,,1,1,1,cool,\n");
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].name == "a");
  CHECK(rows[0].size_l == 2.0);
  CHECK(rows[0].depth_cm == 25.4);
  CHECK(rows[0].leaf_m2 == Ranged{0.3, 0.2, 0.5});
  CHECK(rows[0].season == Season::warm);
  CHECK(rows[0].count == 3);
  CHECK_FALSE(rows[1].depth_cm.has_value());
  CHECK(rows[1].count == 1);
  // A column that need not be there, in another order.
  CHECK(read("size_l,name,leaf_high_m2,leaf_m2,leaf_low_m2,season\n1,x,1,1,1,cool\n").size() == 1);
}

TEST_CASE("fields: every kind of wrong cell, one line each") {
  CHECK(refused(header + ",x,y,0.3,0.2,0.5,hot,0\n") ==
        "t.csv:2:1: found nothing in name; expected a value\n"
        "t.csv:2:2: found \"x\" in size_l; expected a number\n"
        "t.csv:2:4: found \"y\" in depth_in; expected a number, or nothing if unknown\n"
        "t.csv:2:18: found \"hot\" in season; expected one of cool, warm\n"
        "t.csv:2:22: found \"0\" in count; expected a whole number from 1 to 9");
  CHECK(refused(header + "a,11,100,-1,0.2,0.5,warm,\n") ==
        "t.csv:2:3: found 11 in size_l; expected 0.5 to 10\n"
        "t.csv:2:6: found 100 in depth_in; expected 1 to 50 cm (0.3937 to 19.69 as depth_in)\n"
        "t.csv:2:10: found -1 in leaf_m2; expected at least 0");
  CHECK(refused(header + "a,,,0.6,0.2,0.5,,\n") ==
        "t.csv:2:3: found nothing in size_l; expected a number\n"
        "t.csv:2:5: found 0.6 outside its range 0.2 to 0.5; expected a value within its range\n"
        "t.csv:2:17: found nothing in season; expected a value");
}

TEST_CASE("fields: a check is made where its cells are sound, and told of the first") {
  const std::string rest = ",,0.3,0.2,0.5,warm,\n";
  CHECK(refused(header + "big,4" + rest) ==
        "t.csv:2:5: found a small big one; expected more than 5");
  CHECK(refused(header + "big,40" + rest) == "t.csv:2:5: found 40 in size_l; expected 0.5 to 10");
  CHECK(read(header + "big,6" + rest).size() == 1);
  // Of one row only: the next one is judged afresh.
  CHECK(refused(header + "big,40" + rest + "big,4" + rest) ==
        "t.csv:2:5: found 40 in size_l; expected 0.5 to 10\n"
        "t.csv:3:5: found a small big one; expected more than 5");
}

TEST_CASE("fields: a range that may be left out is all there or not at all") {
  struct Limit {
    std::optional<Ranged> line;
  };
  const auto read_limit = [](const std::string& cells) {
    TableRows rows({"t.csv", "line,line_low,line_high,notes\n" + cells + ",\n"});
    Fields<Limit> limits;
    limits.ranged("line", "", &Limit::line, {0.0, 1.0});
    std::optional<Ranged> result;
    limits.read(rows, [&](const Limit& row) { result = row.line; });
    return result;
  };
  CHECK_FALSE(read_limit(",,").has_value());
  CHECK(read_limit("0.5,0.2,0.6").value() == Ranged{0.5, 0.2, 0.6});
  CHECK(refusal([&] { (void)read_limit("0.5,0.6,0.7"); }) ==
        "t.csv:2:1: found 0.5 outside its range 0.6 to 0.7; expected a value within its range");
  for (const std::string part : {"0.5,0.2,", "0.5,,", ",0.2,0.6", ",,0.6"}) {
    CAPTURE(part);
    CHECK(refusal([&] { (void)read_limit(part); }) ==
          "t.csv:2:1: found a value without its range, or a part of that; expected value, low and "
          "high, or none");
  }
}

TEST_CASE("fields: columns are judged before cells") {
  CHECK(refused("name,size_l,depth_in,depth_cm,leaf_m2,leaf_low_m2,seeson\nb,x,1,1,1,1,cool\n") ==
        "t.csv:1:1: found no column leaf_high_m2; expected that column\n"
        "t.csv:1:1: found no column season; expected that column\n"
        "t.csv:1:13: found both depth_cm and depth_in; expected one of them\n"
        "t.csv:1:51: found unknown column \"seeson\"; expected a known column; nearest: season");
}

TEST_CASE("fields: the same fields of a part of a row") {
  struct Whole {
    Row part;
    std::string notes;
  };
  TableRows rows({"t.csv", header + "big,4,,0.3,0.2,0.5,warm,\n"});
  CHECK(refusal([&] {
          fields().in(&Whole::part).read(rows, [](const Whole& whole) {
            CHECK(whole.part.name == "big");
          });
        }) == "t.csv:2:5: found a small big one; expected more than 5");
}

}  // namespace wiltline::test
