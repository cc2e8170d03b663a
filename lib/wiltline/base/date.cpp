#include "wiltline/base/date.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace wiltline {
namespace {

/// Two numbers of two digits each, as in 05-10 or 07:00; empty for anything else.
std::optional<std::pair<unsigned, unsigned>> two_numbers(std::string_view text, char between) {
  if (text.size() != 5 || text[2] != between) return std::nullopt;
  const auto digit = [&](std::size_t at) {
    return static_cast<unsigned char>(text[at]) - unsigned{'0'};
  };
  for (const std::size_t at : {0U, 1U, 3U, 4U}) {
    if (digit(at) > 9) return std::nullopt;
  }
  return std::pair(10 * digit(0) + digit(1), 10 * digit(3) + digit(4));
}

std::chrono::year_month_day civil(Date date) {
  return std::chrono::year_month_day{date};
}

}  // namespace

Date make_date(int year, unsigned month, unsigned day) {
  return std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day};
}

std::optional<Date> MonthDay::in_year(int year) const {
  const std::chrono::year_month_day candidate{std::chrono::year{year}, std::chrono::month{month},
                                              std::chrono::day{day}};
  if (!candidate.ok()) return std::nullopt;
  return Date{candidate};
}

Date MonthDay::nearest_in_year(int year) const {
  return in_year(year).value_or(make_date(year, 2, 28));
}

std::optional<Date> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  // Without a branch a digit: long tables have a date a row.
  unsigned largest = 0;
  const auto digit = [&](std::size_t at) {
    const unsigned value = static_cast<unsigned char>(text[at]) - unsigned{'0'};
    largest = std::max(largest, value);  // of another character it is beyond 9
    return value;
  };
  const unsigned year = 1000 * digit(0) + 100 * digit(1) + 10 * digit(2) + digit(3);
  const unsigned month = 10 * digit(5) + digit(6);
  const unsigned day = 10 * digit(8) + digit(9);
  if (largest > 9) return std::nullopt;
  return MonthDay{month, day}.in_year(static_cast<int>(year));
}

std::optional<MonthDay> parse_month_day(std::string_view text) {
  const auto numbers = two_numbers(text, '-');
  if (!numbers) return std::nullopt;
  const MonthDay result{numbers->first, numbers->second};
  constexpr int some_leap_year = 2000;
  if (!result.in_year(some_leap_year)) return std::nullopt;
  return result;
}

MonthDay month_day_of(Date date) {
  const std::chrono::year_month_day civil{date};
  return {static_cast<unsigned>(civil.month()), static_cast<unsigned>(civil.day())};
}

std::string to_string(Date date) {
  const auto ymd = civil(date);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()),
                     static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()));
}

std::string to_string(const MonthDay& day) {
  return fmt::format("{:02}-{:02}", day.month, day.day);
}

int year_of(Date date) {
  return static_cast<int>(civil(date).year());
}

unsigned month_of(Date date) {
  return static_cast<unsigned>(civil(date).month());
}

int day_of_year(Date date) {
  return static_cast<int>((date - make_date(year_of(date), 1, 1)).count()) + 1;
}

unsigned weekday_of(Date date) {
  return std::chrono::weekday{date}.iso_encoding() - 1;
}

std::optional<double> parse_clock(std::string_view text) {
  const auto numbers = two_numbers(text, ':');
  if (!numbers) return std::nullopt;
  const auto [hour, minute] = *numbers;
  if (minute > 59 || hour > 24 || (hour == 24 && minute > 0)) return std::nullopt;
  return hour + minute / 60.0;
}

int minute_of_day(double hours) {
  // The hundredth of a second keeps 07:00, reached through x, from printing as 06:59.
  constexpr double slack_minutes = 0.01 / 60.0;
  return std::clamp(static_cast<int>(std::floor(hours * 60.0 + slack_minutes)), 0, 24 * 60);
}

std::string clock_string(double hours) {
  const int minutes = minute_of_day(hours);
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

std::optional<Instant> parse_instant(std::string_view text) {
  constexpr std::size_t date_size = 10;
  if (text.size() <= date_size || (text[date_size] != 'T' && text[date_size] != ' ')) {
    return std::nullopt;
  }
  const auto date = parse_date(text.substr(0, date_size));
  const auto hour = parse_clock(text.substr(date_size + 1));
  if (!date || !hour || *hour >= 24.0) return std::nullopt;
  return Instant{*date, *hour};
}

std::string to_string(const Instant& instant) {
  return fmt::format("{}T{}", to_string(instant.date), clock_string(instant.hour));
}

}  // namespace wiltline
