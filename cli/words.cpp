#include "words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "wiltline/questions/range_of_use.hpp"

namespace wiltline::cli {

std::string rough(double value) {
  if (value <= 0.0) return "0";
  if (value >= 99.5) {
    const double step = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    return fmt::format("{:.0f}", std::round(value / step) * step);
  }
  const int digits = value >= 9.95 ? 0 : value >= 0.995 ? 1 : 2;
  return fmt::format("{:.{}f}", value, digits);
}

std::string rough_range(double value) {
  const Ranged range = range_of_use(value);
  return fmt::format("{}–{}", rough(range.low), rough(range.high));
}

std::string_view month_name(unsigned month) {
  static constexpr std::array<std::string_view, 12> names{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  return names[month - 1];
}

std::string date_in_words(Date date) {
  constexpr std::size_t short_name = 3;
  const std::chrono::year_month_day civil{date};
  return fmt::format("{} {}", static_cast<unsigned>(civil.day()),
                     month_name(month_of(date)).substr(0, short_name));
}

std::string full_date_in_words(Date date) {
  return fmt::format("{} {}", date_in_words(date), year_of(date));
}

std::string first_weeks(const std::optional<Date>& settled) {
  return settled ? fmt::format("in its first weeks water daily until {}", date_in_words(*settled))
                 : "water daily to the end: roots never hold half the mix";
}

std::string days_in_words(int days) {
  return fmt::format("{} day{}", days, days == 1 ? "" : "s");
}

std::string count_or_dash(int count) {
  return count == 0 ? "-" : fmt::format("{}", count);
}

std::string yes_no(bool yes) {
  return yes ? "yes" : "no";
}

std::string caution_text(std::string_view before) {
  return fmt::format(
      "These are estimates: check the mix by hand before {}, and follow local water rules.",
      before);
}

std::string_view part_of_day(double clock_h) {
  if (clock_h < 5.0 || clock_h >= 22.0) return "night";
  if (clock_h < 12.0) return "morning";
  return clock_h < 18.0 ? "afternoon" : "evening";
}

std::string input_in_words(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

}  // namespace wiltline::cli
