// What is said of a file that was understood.
#include "wiltline/weather/understanding.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {

TEST_CASE("what was understood, in one line") {
  Understanding said;
  said.file = "w.csv";
  said.separator = ';';
  said.decimal_comma = true;
  said.dates = "day, month, year";
  said.taken = {{"Low", "tmin °C"}};
  said.left_out = {"snow"};
  said.missing = {{"-9999", 2}};
  said.zero_marks = 1;
  said.failed = 3;
  said.remarks = {"a remark"};
  CHECK(said.summary() ==
        "w.csv: layout by the names of its columns; separated by semicolons, decimal commas; "
        "dates: day, month, year; Low is tmin °C; left out: snow; \"-9999\" stands for no reading, "
        "2 times; marks taken as none: 1; readings that failed their own checks, left out: 3; a "
        "remark");
  said.own = true;
  CHECK(said.summary() == "w.csv: our own layout");
}

TEST_CASE("hints: none, or any") {
  CHECK_FALSE(FileHints{}.any());
  FileHints hints;
  hints.dates = DateOrder::dmy;
  CHECK(hints.any());
}

}  // namespace wiltline::test
