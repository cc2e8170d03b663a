// One reading a line.
#include "wiltline/weather/table_lines.hpp"

#include <doctest/doctest.h>

#include "weather/opened.hpp"

namespace wiltline::test {

TEST_CASE("readings of any order become days, each cell with the line it stood on") {
  OpenTable open = opened(
      "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"
      "X,20140602,TMAX,200,,,W,\nX,20140601,TMIN,80,,,W,\nX,20140601,SNWD,5,,,W,\n"
      "X,20140601,TMAX,210,,,W,\n",
      "ghcn-lines");
  const auto meanings = of_layout(builtin_column_meanings(), "ghcn-lines");
  Readings readings(open);
  const TableTimes times = read_times(open, std::nullopt);
  const TableLines lines = read_lines(open, readings, times, meanings);
  CHECK(open.problems.empty());
  CHECK(open.said.left_out == std::vector<std::string>{"SNWD"});
  REQUIRE(lines.columns.size() == 2);
  CHECK(lines.columns[0].second == "TMIN");
  OwnText own(1, "date");
  write_days_of_lines(lines, lines.places.at(0), own);
  CHECK(own.text() == "date,tmin_c,tmax_c\n2014-06-01,8,21\n2014-06-02,,20\n");
  CHECK(own.where_it_stood({"w.csv", 2, 12, "this", "that"}).line == 3);
  CHECK(own.where_it_stood({"w.csv", 2, 14, "this", "that"}).line == 5);
}

}  // namespace wiltline::test
