#include "wiltline/weather/dates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

constexpr int first_year = 1700;
constexpr int last_year = 2200;

bool digit(char c) {
  return c >= '0' && c <= '9';
}

/// Takes the digits a text begins with, at most `most`.
std::string_view take_digits(std::string_view& text, std::size_t most) {
  std::size_t size = 0;
  while (size < text.size() && size < most && digit(text[size])) ++size;
  const std::string_view taken = text.substr(0, size);
  text.remove_prefix(size);
  return taken;
}

bool take(std::string_view& text, std::string_view word) {
  if (text.size() < word.size()) return false;
  for (std::size_t i = 0; i < word.size(); ++i) {
    if (std::toupper(static_cast<unsigned char>(text[i])) != word[i]) return false;
  }
  text.remove_prefix(word.size());
  return true;
}

int number(std::string_view digits) {
  return parse_integer(digits).value_or(-1);
}

std::optional<Date> day_of(int year, int month, int day) {
  if (year < first_year || year > last_year || month < 1 || day < 1) return std::nullopt;
  return MonthDay{static_cast<unsigned>(month), static_cast<unsigned>(day)}.in_year(year);
}

std::optional<Date> ordinal_day(int year, int day) {
  if (year < first_year || year > last_year || day < 1 || day > days_in_year(year)) {
    return std::nullopt;
  }
  return make_date(year, 1, 1) + std::chrono::days(day - 1);
}

/// Hours of a time; what remains of the text is what follows it.
std::optional<double> take_clock(std::string_view& text) {
  const std::string_view first = take_digits(text, 6);
  int hour = 0;
  int minute = 0;
  int second = 0;
  if (!text.empty() && text.front() == ':') {
    if (first.empty() || first.size() > 2) return std::nullopt;
    hour = number(first);
    text.remove_prefix(1);
    const std::string_view minutes = take_digits(text, 2);
    if (minutes.size() != 2) return std::nullopt;
    minute = number(minutes);
    if (!text.empty() && text.front() == ':') {
      text.remove_prefix(1);
      const std::string_view seconds = take_digits(text, 2);
      if (seconds.size() != 2) return std::nullopt;
      second = number(seconds);
      if (!text.empty() && text.front() == '.') {
        text.remove_prefix(1);
        (void)take_digits(text, 9);
      }
    }
  } else if (first.size() == 1 || first.size() == 2) {
    hour = number(first);
  } else if (first.size() == 3 || first.size() == 4 || first.size() == 6) {
    const std::size_t hours = first.size() == 3 ? 1 : 2;
    hour = number(first.substr(0, hours));
    minute = number(first.substr(hours, 2));
    second = first.size() == 6 ? number(first.substr(4)) : 0;
  } else {
    return std::nullopt;
  }
  text = trim(text);
  const bool pm = take(text, "PM");
  if (pm || take(text, "AM")) {
    if (hour < 1 || hour > 12) return std::nullopt;
    hour = hour % 12 + (pm ? 12 : 0);
  }
  const double hours = hour + minute / 60.0 + second / 3600.0;
  if (minute > 59 || second > 59 || hours > 24.0) return std::nullopt;
  return hours;
}

/// An offset at the end of a text, if there is one. False if something else is left.
bool take_offset(std::string_view text, std::optional<double>& offset_h) {
  text = trim(text);
  const bool utc = take(text, "UTC") || take(text, "GMT") || take(text, "Z");
  if (utc) offset_h = 0.0;
  if (text.empty()) return true;
  const bool west = text.front() == '-';
  if (!west && text.front() != '+') return false;
  text.remove_prefix(1);
  const std::string_view hours = take_digits(text, 2);
  if (hours.empty()) return false;
  if (!text.empty() && text.front() == ':') text.remove_prefix(1);
  const std::string_view minutes = take_digits(text, 2);
  const double size = number(hours) + (minutes.empty() ? 0 : number(minutes)) / 60.0;
  offset_h = west ? -size : size;
  return text.empty();
}

/// The date a text begins with; what remains is the time. `together`: digits that follow it at
/// once.
std::optional<Date> take_date(std::string_view& text, DateOrder order, std::string_view& together) {
  const std::string_view first = take_digits(text, 14);
  if (text.empty() || (text.front() != '-' && text.front() != '/' && text.front() != '.')) {
    if (order != DateOrder::ymd) return std::nullopt;
    if (first.size() == 7) return ordinal_day(number(first.substr(0, 4)), number(first.substr(4)));
    if (first.size() < 8) return std::nullopt;
    together = first.substr(8);
    if (together.size() % 2 != 0) return std::nullopt;
    return day_of(number(first.substr(0, 4)), number(first.substr(4, 2)),
                  number(first.substr(6, 2)));
  }
  const char mark = text.front();
  text.remove_prefix(1);
  const std::string_view second = take_digits(text, 4);
  const bool year_first = first.size() == 4;
  if (text.empty() || text.front() != mark) {
    if (order != DateOrder::ymd || !year_first || second.size() != 3) return std::nullopt;
    return ordinal_day(number(first), number(second));
  }
  text.remove_prefix(1);
  const std::string_view third = take_digits(text, 4);
  const auto short_number = [](std::string_view part) {
    return part.size() == 1 || part.size() == 2;
  };
  if (!short_number(second)) return std::nullopt;
  if (order == DateOrder::ymd) {
    if (!year_first || !short_number(third)) return std::nullopt;
    return day_of(number(first), number(second), number(third));
  }
  if (!short_number(first) || third.size() != 4) return std::nullopt;
  return order == DateOrder::dmy ? day_of(number(third), number(second), number(first))
                                 : day_of(number(third), number(first), number(second));
}

}  // namespace

std::string_view describe(DateOrder order) {
  constexpr std::array<std::string_view, 3> words{"year, month, day", "day, month, year",
                                                  "month, day, year"};
  return words[static_cast<std::size_t>(order)];
}

std::optional<WrittenDate> parse_written_date(std::string_view text, DateOrder order) {
  text = trim(text);
  std::string_view together;
  const auto date = take_date(text, order, together);
  if (!date) return std::nullopt;
  WrittenDate result{*date, std::nullopt, std::nullopt};
  if (!together.empty()) {
    result.hour = take_clock(together);
    if (!result.hour) return std::nullopt;
  } else if (!text.empty()) {
    const bool parted = text.front() == 'T' || text.front() == ' ' || text.front() == '\t';
    if (!parted) return std::nullopt;
    text.remove_prefix(1);
    text = trim(text);
    result.hour = take_clock(text);
    if (!result.hour) return std::nullopt;
  }
  if (!take_offset(text, result.utc_offset_h)) return std::nullopt;
  return result;
}

std::optional<double> parse_written_clock(std::string_view text) {
  text = trim(text);
  const auto hour = take_clock(text);
  return text.empty() ? hour : std::nullopt;
}

Result<DateOrder> find_date_order(std::span<const std::string_view> texts, WrongDate& wrong) {
  constexpr std::array<DateOrder, 3> orders{DateOrder::ymd, DateOrder::dmy, DateOrder::mdy};
  std::array<std::size_t, 3> fitting{};
  std::array<std::size_t, 3> first_wrong{};
  std::size_t dates = 0;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    if (texts[i].empty()) continue;
    ++dates;
    for (std::size_t k = 0; k < orders.size(); ++k) {
      if (parse_written_date(texts[i], orders[k])) {
        ++fitting[k];
      } else if (fitting[k] + 1 == dates) {
        first_wrong[k] = i;
      }
    }
  }
  const auto whole = static_cast<std::size_t>(std::count(fitting.begin(), fitting.end(), dates));
  if (whole == 1)
    return orders[static_cast<std::size_t>(std::find(fitting.begin(), fitting.end(), dates) -
                                           fitting.begin())];
  constexpr std::string_view any_date = "a date that exists, as 2024-05-31";
  if (dates == 0) return Fault{"no date", std::string(any_date)};
  if (whole > 1) {
    const auto first = std::find_if(texts.begin(), texts.end(),
                                    [](std::string_view text) { return !text.empty(); });
    wrong = {static_cast<std::size_t>(first - texts.begin()), true};
    return Fault{fmt::format("{}, which can be {} or {}", in_quotes(*first),
                             describe(DateOrder::dmy), describe(DateOrder::mdy)),
                 "a file whose dates read one way only"};
  }
  const std::size_t best =
      static_cast<std::size_t>(std::max_element(fitting.begin(), fitting.end()) - fitting.begin());
  wrong.text = first_wrong[best];
  return Fault{in_quotes(texts[wrong.text]),
               fitting[best] == 0
                   ? std::string(any_date)
                   : fmt::format("a date that exists as {}, as {} of the {} dates here are",
                                 describe(orders[best]), fitting[best], dates)};
}

}  // namespace wiltline
