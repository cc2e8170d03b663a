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
  std::array<std::string_view, 3> part{first};  // hour, minute, second
  if (text.starts_with(':')) {
    if (first.empty() || first.size() > 2) return std::nullopt;
    for (std::size_t k = 1; k < part.size() && take(text, ":"); ++k) {
      part[k] = take_digits(text, 2);
      if (part[k].size() != 2) return std::nullopt;
    }
    if (!part[2].empty() && take(text, ".")) (void)take_digits(text, 9);
  } else if (first.empty() || first.size() == 5) {
    return std::nullopt;
  } else if (first.size() > 2) {
    const std::size_t hours = first.size() == 3 ? 1 : 2;
    part = {first.substr(0, hours), first.substr(hours, 2), first.substr(hours + 2)};
  }
  int hour = number(part[0]);
  const int minute = part[1].empty() ? 0 : number(part[1]);
  const int second = part[2].empty() ? 0 : number(part[2]);
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
  std::array<std::string_view, 3> part{take_digits(text, 14)};
  std::size_t parts = 1;
  const std::string_view mark = text.substr(0, 1);
  if (mark == "-" || mark == "/" || mark == ".") {
    while (parts < part.size() && take(text, mark)) part[parts++] = take_digits(text, 4);
  }
  // How many digits its parts have; one will do for two.
  const auto sized = [&](std::size_t first, std::size_t second, std::size_t third) {
    const std::array<std::size_t, 3> sizes{first, second, third};
    return std::equal(part.begin(), part.end(), sizes.begin(), [](auto digits, std::size_t size) {
      return digits.size() == size || (size == 2 && digits.size() == 1);
    });
  };
  const auto day = [&](std::size_t year, std::size_t month, std::size_t of_month) {
    return day_of(number(part[year]), number(part[month]), number(part[of_month]));
  };
  if (order == DateOrder::dmy) return sized(2, 2, 4) ? day(2, 1, 0) : std::nullopt;
  if (order == DateOrder::mdy) return sized(2, 2, 4) ? day(2, 0, 1) : std::nullopt;
  if (sized(4, 2, 2)) return day(0, 1, 2);
  if (parts == 2 && sized(4, 3, 0)) return ordinal_day(number(part[0]), number(part[1]));
  const std::string_view run = part[0];
  if (parts > 1 || run.size() < 7) return std::nullopt;
  const int year = number(run.substr(0, 4));
  if (run.size() == 7) return ordinal_day(year, number(run.substr(4)));
  together = run.substr(8);
  if (together.size() % 2 != 0) return std::nullopt;
  return day_of(year, number(run.substr(4, 2)), number(run.substr(6, 2)));
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
  const auto whole = static_cast<std::size_t>(std::ranges::count(fitting, dates));
  if (whole == 1)
    return orders[static_cast<std::size_t>(std::ranges::find(fitting, dates) - fitting.begin())];
  constexpr std::string_view any_date = "a date that exists, as 2024-05-31";
  if (dates == 0) return Fault{"no date", std::string(any_date)};
  if (whole > 1) {
    const auto first =
        std::ranges::find_if(texts, [](std::string_view text) { return !text.empty(); });
    wrong = {static_cast<std::size_t>(first - texts.begin()), true};
    return Fault{fmt::format("{}, which can be {} or {}", in_quotes(*first),
                             describe(DateOrder::dmy), describe(DateOrder::mdy)),
                 "a file whose dates read one way only"};
  }
  const std::size_t best =
      static_cast<std::size_t>(std::ranges::max_element(fitting) - fitting.begin());
  wrong.text = first_wrong[best];
  return Fault{in_quotes(texts[wrong.text]),
               fitting[best] == 0
                   ? std::string(any_date)
                   : fmt::format("a date that exists as {}, as {} of the {} dates here are",
                                 describe(orders[best]), fitting[best], dates)};
}

}  // namespace wiltline
