// A table while it is read. (Whole files: translation_test, wrong_files_test.)
#include "wiltline/weather/open_table.hpp"

#include <doctest/doctest.h>

#include "support/refusal.hpp"
#include "weather/opened.hpp"

namespace wiltline::test {

TEST_CASE("columns by what they hold, and whether they make a date") {
  const OpenTable open = opened("date,low,high\n2014-06-01,8,21\n");
  CHECK(open.column_of(WeatherQuantity::tmax)->column == 2);
  CHECK(open.column_of(WeatherQuantity::rain) == nullptr);
  CHECK(open.date_column().column == 0);
  CHECK(open.has_date());
  CHECK_FALSE(open.date_says("utc"));
  CHECK(opened("year,doy,low\n2014,152,8\n").has_date());
  CHECK(opened("year,doy,low\n2014,152,8\n").date_column().name == "year");
  CHECK_FALSE(opened("year,month,low\n2014,6,8\n").has_date());
  CHECK(opened("numer_sta,date,t,td,u,ff,rr1\n1,20140601000000,280,275,80,2,0\n", "synop-hours")
            .date_says("utc"));
}

TEST_CASE("complaints stand at their cell") {
  OpenTable open = opened("date,low,high\n2014-06-01,8,21\n");
  open.complain(0, 2, "this", "that");
  open.complain_of_header(1, "a name", "another");
  CHECK(refusal([&] { open.problems.throw_if_any(); }) ==
        "w.csv:1:6: found a name; expected another\nw.csv:2:14: found this; expected that");
}

}  // namespace wiltline::test
