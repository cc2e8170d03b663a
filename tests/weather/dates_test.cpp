// Dates as files write them, and when their order is proved.
#include "wiltline/weather/dates.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

namespace wiltline::test {
namespace {

std::string read(std::string_view text, DateOrder order) {
  const auto when = parse_written_date(text, order);
  if (!when) return "none";
  std::string said = to_string(when->date);
  if (when->hour) said += " " + clock_string(*when->hour);
  if (when->utc_offset_h) said += " " + std::to_string(static_cast<int>(*when->utc_offset_h));
  return said;
}

std::string order_of(const std::vector<std::string_view>& texts) {
  WrongDate wrong;
  const auto order = find_date_order(texts, wrong);
  if (order) return std::string(date_order_names[static_cast<std::size_t>(*order)]);
  return std::to_string(wrong.text) + (wrong.two_ways ? ", two ways: " : ": ") +
         order.fault().text();
}

}  // namespace

TEST_CASE("written dates") {
  using enum DateOrder;
  CHECK(read("2014-02-01", ymd) == "2014-02-01");
  CHECK(read("2014/2/1", ymd) == "2014-02-01");
  CHECK(read("20140201", ymd) == "2014-02-01");
  CHECK(read("2014020113", ymd) == "2014-02-01 13:00");
  CHECK(read("20140201133000", ymd) == "2014-02-01 13:30");
  CHECK(read("2014-032", ymd) == "2014-02-01");
  CHECK(read("2014032", ymd) == "2014-02-01");
  CHECK(read("2016366", ymd) == "2016-12-31");
  CHECK(read("01.02.2014", dmy) == "2014-02-01");
  CHECK(read("1/2/2014", dmy) == "2014-02-01");
  CHECK(read("1/2/2014", mdy) == "2014-01-02");
  CHECK(read("2014-02-01T13:00:00Z", ymd) == "2014-02-01 13:00 0");
  CHECK(read("2014-02-01 13:00:30.5+02:00", ymd) == "2014-02-01 13:00 2");
  CHECK(read("2014-02-01 13:00 -0700", ymd) == "2014-02-01 13:00 -7");
  CHECK(read("2/1/2014 1:05 PM", mdy) == "2014-02-01 13:05");
  CHECK(read("2/1/2014 12:05 AM", mdy) == "2014-02-01 00:05");
  CHECK(read("01.02.2014 24:00", dmy) == "2014-02-01 24:00");
  for (const std::string_view text :
       {"2014-02-30", "2014-13-01", "2014-366", "01.02.14", "2014-2", "20140201x",
        "2014-02-01 25:00", "2014-02-01 13:61", "2014-02-01x", "", "0001-01-01", "2014/2-1",
        "99999999", "2014-02-01 12:00 PM+x"}) {
    CAPTURE(text);
    CHECK(read(text, ymd) == "none");
  }
}

TEST_CASE("a clock alone") {
  CHECK(parse_written_clock("13:30") == 13.5);
  CHECK(parse_written_clock("1:30 pm") == 13.5);
  CHECK(parse_written_clock("1330") == 13.5);
  CHECK(parse_written_clock("7") == 7.0);
  CHECK(parse_written_clock("24:00") == 24.0);
  for (const std::string_view text : {"", "24:01", "13:5", "x", "13:00 pm", "12345"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_written_clock(text));
  }
}

TEST_CASE("an order is taken only if it is the only one that fits all") {
  CHECK(order_of({"2014-02-01", "", "2014-02-02"}) == "ymd");
  CHECK(order_of({"01.02.2014", "13.02.2014"}) == "dmy");
  CHECK(order_of({"2/1/2014", "2/13/2014"}) == "mdy");
  CHECK(order_of({"2/1/2014", "2/2/2014"}) ==
        "0, two ways: found \"2/1/2014\", which can be day, month, year or month, day, year; "
        "expected a file whose dates read one way only");
  CHECK(order_of({"", "2/1/2014", "2/2/2014"})
            .starts_with("1, two ways: found \"2/1/2014\", which can be"));
  CHECK(order_of({"", ""}) == "0: found no date; expected a date that exists, as 2024-05-31");
  CHECK(order_of({"2/1/2014", "2/13/2014", "14/2/2014"}) ==
        "1: found \"2/13/2014\"; expected a date that exists as day, month, year, as 2 of the 3 "
        "dates "
        "here are");
  CHECK(order_of({"yesterday", "today"}) ==
        "0: found \"yesterday\"; expected a date that exists, as 2024-05-31");
}

}  // namespace wiltline::test
