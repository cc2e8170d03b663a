// The text of one of our own files, and the way back from it.
#include "wiltline/weather/own_text.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

OwnText two_days() {
  OwnText own(7, "Datum");
  own.add_column("tmin_c", "Low");
  own.add_column("tmax_c", "High");
  for (unsigned day = 1; day <= 2; ++day) {
    own.begin_day(make_date(2014, 6, day), {10 + day, 1});
    own.add_cell("8", {10 + day, 5});
    own.add_cell(day == 1 ? "21" : "", {10 + day, 9});
  }
  return own;
}

}  // namespace

TEST_CASE("columns, and a day a line") {
  CHECK(two_days().text() == "date,tmin_c,tmax_c\n2014-06-01,8,21\n2014-06-02,8,\n");
  CHECK(is_own_format(two_days().text()));
}

TEST_CASE("a problem of a line and column is told of where it stood") {
  const OwnText own = two_days();
  const auto stood = [&](std::size_t line, std::size_t column) {
    return own.where_it_stood({"w.csv", line, column, "this", "that"}).text();
  };
  CHECK(stood(1, 6) == "w.csv:7: found this; expected that");
  CHECK(stood(2, 1) == "w.csv:11:1: found this; expected that");
  CHECK(stood(2, 12) == "w.csv:11:5: found this (Low); expected that");
  CHECK(stood(3, 14) == "w.csv:12:9: found this (High); expected that");
  CHECK(stood(3, 0) == "w.csv:12: found this; expected that");
  CHECK(stood(4, 1) == "w.csv:4: found this; expected that");
}

TEST_CASE("every column of ours is one that the reader of our own files knows") {
  for (const OwnColumn& column : own_columns) {
    CAPTURE(column.name());
    const auto& known = weather_columns();
    CHECK(std::find(known.begin(), known.end(), column.name()) != known.end());
    const bool temperature =
        column.quantity == WeatherQuantity::tmin || column.quantity == WeatherQuantity::tmax;
    CHECK((column.element == nullptr) == temperature);
  }
}

TEST_CASE("our own files are known by their names and their first date") {
  CHECK(is_own_format("# a comment\n\ndate,tmin_c,tmax_c\n2014-06-01,8,21\n"));
  CHECK(
      is_own_format("\xEF\xBB\xBF"
                    "rain_mm,tmax_f,date\r\n0,70,2014-06-01\r\n"));
  CHECK(is_own_format("date,tmin_c,rainmm\nyesterday,8,0\n"));  // slips are its reader's to tell
  CHECK_FALSE(is_own_format("date,tmin_c,tmax_c\n01.06.2014,8,21\n"));
  CHECK_FALSE(is_own_format("date;tmin_c;tmax_c\n2014-06-01;8;21\n"));
  CHECK_FALSE(is_own_format("DATE,TMIN,TMAX\n"));
  CHECK_FALSE(is_own_format(""));
}

}  // namespace wiltline::test
