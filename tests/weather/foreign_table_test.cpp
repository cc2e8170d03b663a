// Tables of other people: header, second header row, numbers.
#include "wiltline/weather/foreign_table.hpp"

#include <doctest/doctest.h>

#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

ForeignTable open(const std::string& text) {
  return ForeignTable::open({"w.csv", text}, builtin_column_meanings()).value();
}

std::string sign_of(const std::string& rows) {
  ForeignTable table = open("date;tmin;tmax\n" + rows);
  const auto columns = table.columns_under(of_layout(builtin_column_meanings(), ""));
  ProblemList problems;
  table.find_decimal_sign(columns, problems);
  const std::string refused = refusal([&] { problems.throw_if_any(); });
  return refused != "nothing refused" ? refused : table.decimal_comma() ? "comma" : "point";
}

}  // namespace

TEST_CASE("a header, a row of units, and lines above that name a place at length") {
  const ForeignTable table = open(
      "Station,Latitude,Longitude,Elevation,Name\nX,45,16,100,Somewhere\n"
      "Date,Low,High\n,°C,°C\n2014-06-01, 8 ,+21\n");
  CHECK(table.header() == std::vector<std::string>{"Date", "Low", "High"});
  CHECK(table.begin_row() == 1);
  CHECK(table.end_row() == 2);
  const auto meanings = of_layout(builtin_column_meanings(), "");
  const auto columns = table.columns_under(meanings);
  REQUIRE(columns.size() == 3);
  CHECK(columns[1].unit->text() == "°C");
  CHECK(table.cell(1, 1) == "8");
  CHECK(table.number(1, 2)->value == 21.0);
  CHECK(table.number(1, 2)->plain == "21");
  CHECK_FALSE(table.number(1, 0));
  CHECK(table.problem_at(1, 2, "this", "that").text() == "w.csv:5:16: found this; expected that");
}

TEST_CASE("what is no table of weather") {
  CHECK_FALSE(ForeignTable::open({"w.csv", "name,crop\nit,basil\n"}, builtin_column_meanings()));
  CHECK_FALSE(ForeignTable::open({"w.csv", ""}, builtin_column_meanings()));
  // As many cells as one reading a line has, but no date among them.
  CHECK_FALSE(ForeignTable::open({"g.csv",
                                  "name,crop,pot,mix,plants,planted,spot,routine\n"
                                  "it,basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00\n"},
                                 builtin_column_meanings()));
}

TEST_CASE("the decimal sign") {
  CHECK(sign_of("2014-06-01;8.5;21\n") == "point");
  CHECK(sign_of("2014-06-01;8,5;21\n") == "comma");
  CHECK(sign_of("2014-06-01;8;21\n") == "point");
  CHECK(sign_of("2014-06-01;1,250;21\n2014-06-02;1,2;21\n") == "comma");
  CHECK(sign_of("2014-06-01;1,250;2,100\n").find("can part thousands or decimals") !=
        std::string::npos);
  CHECK(sign_of("2014-06-01;8,5;21.5\n") ==
        "w.csv:2:16: found \"21.5\"; expected one decimal sign in all of the file; line 2 has "
        "\"8,5\"");
}

}  // namespace wiltline::test
