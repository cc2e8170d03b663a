// Dates: strict ISO 8601 text, and a calendar checked day by day against one written here.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/near.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline::test {
namespace {

/// The Gregorian rule (ISO 8601-1, 3.2.1): every fourth year, but of the centuries only every
/// fourth.
bool leap(int year) {
  return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

int days_in_month(int year, int month) {
  switch (month) {
    case 2:
      return leap(year) ? 29 : 28;
    case 4:
    case 6:
    case 9:
    case 11:
      return 30;
    default:
      return 31;
  }
}

/// Day number J as FAO Irrigation and Drainage Paper 56 (Annex 2, below table 2.5) gives it for
/// computers: INT(275 M/9 - 30 + D) - 2, plus 2 before March, plus 1 from March on in a leap year.
int fao56_day_number(int year, int month, int day) {
  int result = 275 * month / 9 - 30 + day - 2;
  if (month < 3) result += 2;
  if (month > 2 && leap(year)) result += 1;
  return result;
}

std::string padded(int number, std::size_t width) {
  const std::string digits = std::to_string(number);
  return std::string(width > digits.size() ? width - digits.size() : 0, '0') + digits;
}

}  // namespace

TEST_CASE("date: every day from 1890 to 2110, one after the other") {
  Date date = make_date(1890, 1, 1);
  // 1 January 1890 was a Wednesday: the civil calendar, from memory. Day 0 of POSIX time, 1 January
  // 1970, is a Thursday (POSIX.1-2017, 4.16: tm_wday), which the walk passes further down.
  unsigned weekday = 2;
  int walked = 0;
  for (int year = 1890; year <= 2110; ++year) {
    for (int month = 1; month <= 12; ++month) {
      for (int day = 1; day <= days_in_month(year, month); ++day) {
        const std::string text = padded(year, 4) + '-' + padded(month, 2) + '-' + padded(day, 2);
        CAPTURE(text);
        REQUIRE(to_string(date) == text);
        REQUIRE(to_string(month_day_of(date)) == text.substr(5));
        REQUIRE(parse_date(text) == date);
        REQUIRE(make_date(year, static_cast<unsigned>(month), static_cast<unsigned>(day)) == date);
        REQUIRE(year_of(date) == year);
        REQUIRE(month_of(date) == static_cast<unsigned>(month));
        REQUIRE(day_of_year(date) == fao56_day_number(year, month, day));
        REQUIRE(weekday_of(date) == weekday);
        date += std::chrono::days(1);
        weekday = (weekday + 1) % 7;
        ++walked;
      }
    }
  }
  CHECK(walked == 80718);  // 221 years of 365 days and 53 leap days
  CHECK(date == make_date(2111, 1, 1));
}

TEST_CASE("date: fixed points") {
  CHECK(make_date(1970, 1, 1).time_since_epoch().count() == 0);
  CHECK(weekday_of(make_date(1970, 1, 1)) == 3);  // Thursday, as above
  CHECK(weekday_of(make_date(2000, 1, 3)) == 0);  // a Monday, from memory
  CHECK(day_of_year(make_date(2024, 12, 31)) == 366);
  CHECK(day_of_year(make_date(2023, 12, 31)) == 365);
  // FAO-56 table 2.5: 1 March is day 60, in leap years 61.
  CHECK(day_of_year(make_date(2023, 3, 1)) == 60);
  CHECK(day_of_year(make_date(2024, 3, 1)) == 61);
}

TEST_CASE("date: anything but YYYY-MM-DD is no date") {
  const std::vector<std::string> texts{"",
                                       "2024",
                                       "2024-01",
                                       "2024-2-3",
                                       "2024-02-3",
                                       "2024-2-03",
                                       " 2024-01-01",
                                       "2024-01-01 ",
                                       "24-01-01",
                                       "02024-01-01",
                                       "+2024-01-01",
                                       "-024-01-01",
                                       "2024/01/01",
                                       "2024.01.01",
                                       "20240101",
                                       "01-02-2024",
                                       "2024-01-0l",
                                       "2024-O1-01",
                                       "2024-01-1 ",
                                       "2024- 1-01",
                                       "2024-+1-01",
                                       "2024-01--1",
                                       "2024-001-1",
                                       "2024-W01-1",
                                       "2024-01-01T00:00",
                                       "May 3 2024",
                                       "2024-\xE2\x80\x93"
                                       "1-01"};
  for (const std::string& text : texts) {
    CAPTURE(text);
    CHECK_FALSE(parse_date(text));
  }
}

TEST_CASE("date: any other character at any place is no date") {
  const std::string date = "2024-05-31";
  for (std::size_t at = 0; at < date.size(); ++at) {
    for (int c = 0; c < 256; ++c) {
      std::string text = date;
      text[at] = static_cast<char>(c);
      const bool digit = c >= '0' && c <= '9';
      if ((at == 4 || at == 7) ? c == '-' : digit) continue;
      CAPTURE(text);
      REQUIRE_FALSE(parse_date(text));
    }
  }
}

TEST_CASE("date: a day that never was is no date") {
  const std::vector<std::string> texts{"2023-02-29", "2023-02-30", "2024-02-30", "1900-02-29",
                                       "2100-02-29", "2024-04-31", "2024-06-31", "2024-09-31",
                                       "2024-11-31", "2024-01-32", "2024-01-00", "2024-00-01",
                                       "2024-13-01", "2024-99-99"};
  for (const std::string& text : texts) {
    CAPTURE(text);
    CHECK_FALSE(parse_date(text));
  }
  CHECK(parse_date("2000-02-29") == make_date(2000, 2, 29));
  CHECK(parse_date("2024-02-29") == make_date(2024, 2, 29));
}

TEST_CASE("month and day: read, and placed in a year") {
  CHECK(parse_month_day("05-10") == MonthDay{5, 10});
  CHECK(parse_month_day("12-31") == MonthDay{12, 31});
  CHECK(MonthDay{5, 10}.in_year(2023) == make_date(2023, 5, 10));

  const auto leap_day = parse_month_day("02-29");
  REQUIRE(leap_day);
  CHECK(*leap_day == MonthDay{2, 29});
  CHECK(leap_day->in_year(2024) == make_date(2024, 2, 29));
  CHECK(leap_day->in_year(2000) == make_date(2000, 2, 29));
  CHECK_FALSE(leap_day->in_year(2023));
  CHECK_FALSE(leap_day->in_year(1900));

  for (const char* text :
       {"", "5-10", "05-1", "05/10", "0510", " 05-10", "05-10 ", "5-010", "02-30", "04-31", "00-10",
        "13-01", "05-00", "05-32", "-5-10", "+5-10", "aa-bb", "2024-05-10"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_month_day(text));
  }
}

TEST_CASE("clock: every minute of the day reads and prints the same") {
  for (int minute = 0; minute <= 24 * 60; ++minute) {
    const std::string text = padded(minute / 60, 2) + ':' + padded(minute % 60, 2);
    CAPTURE(text);
    const auto hours = parse_clock(text);
    REQUIRE(hours);
    REQUIRE(near(*hours, minute / 60.0, 1e-12));
    REQUIRE(clock_string(*hours) == text);
    REQUIRE(minute_of_day(*hours) == minute);
  }
  CHECK(parse_clock("00:00") == 0.0);
  CHECK(parse_clock("18:30") == 18.5);
  CHECK(parse_clock("24:00") == 24.0);
}

TEST_CASE("clock: anything but HH:MM is no time of day") {
  for (const char* text :
       {"", "7:00", "07:0", "0700", "07.00", "07-00", "07:60", "24:01", "25:00", "99:99", "-7:00",
        "+7:00", " 7:00", "07:00 ", "07:00:00", "7am", "aa:bb"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_clock(text));
  }
}

TEST_CASE("clock: prints the minute that has begun, and stays within the day") {
  CHECK(clock_string(6.999) == "06:59");
  CHECK(clock_string(7.0 + 59.9 / 3600.0) == "07:00");
  CHECK(clock_string(7.0 - 1e-9) == "07:00");  // 07:00 reached through a rounding, not 06:59
  CHECK(clock_string(23.99) == "23:59");
  CHECK(clock_string(24.0) == "24:00");
  CHECK(clock_string(24.5) == "24:00");
  CHECK(clock_string(-0.5) == "00:00");
}

}  // namespace wiltline::test
