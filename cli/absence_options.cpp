#include "absence_options.hpp"

#include <fmt/format.h>

#include "garden_options.hpp"
#include "planting_options.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// `jul`, `July` or `7`.
std::optional<unsigned> parse_month(std::string_view text) {
  constexpr unsigned months = 12;
  constexpr std::size_t shortest_name = 3;
  const std::string word = folded(text);
  if (const auto number = parse_integer(word)) {
    return *number >= 1 && *number <= 12 ? std::optional(static_cast<unsigned>(*number))
                                         : std::nullopt;
  }
  if (word.size() < shortest_name) return std::nullopt;
  for (unsigned month = 1; month <= months; ++month) {
    if (folded(month_name(month)).starts_with(word)) return month;
  }
  return std::nullopt;
}

void set_months(const Arguments& arguments, AbsenceOptions& options) {
  const auto text = arguments.text("months");
  if (!text) return;
  const std::string_view months = *text;
  const std::size_t dash = months.find('-');
  const auto first = parse_month(months.substr(0, dash));
  const auto last = dash == std::string_view::npos ? first : parse_month(months.substr(dash + 1));
  if (!first || !last) {
    refuse("--months: found {}; expected months such as jun-aug, 6-8 or jul", in_quotes(months));
  }
  options.first_month = *first;
  options.last_month = *last;
}

/// Hours of `2`, `2.5` (days), `2d`, `2d2h` or `50h`.
std::optional<double> parse_away_h(std::string_view text) {
  if (const auto days = parse_number(text)) return 24.0 * *days;
  double hours = 0.0;
  bool any = false;
  for (const auto& [unit, hours_each] : {std::pair{'d', 24.0}, {'h', 1.0}}) {
    const std::size_t end = text.find(unit);
    if (end == std::string_view::npos) continue;
    const auto number = parse_number(trim(text.substr(0, end)));
    if (!number || *number < 0.0) return std::nullopt;
    hours += hours_each * *number;
    any = true;
    text.remove_prefix(end + 1);
  }
  return any && trim(text).empty() ? std::optional(hours) : std::nullopt;
}

constexpr int a_leap_year = 2024;

/// The days of a trip with dates.
std::optional<DaysAway> days_on(const Arguments& arguments) {
  const auto text = arguments.text("on");
  if (!text) return std::nullopt;
  auto days = parse_days_away(*text);
  if (!days) {
    refuse("--on: found {}; expected {}", in_quotes(*text), days_away_example);
  }
  return days;
}

/// --on, a trip with dates, or --days.
void set_length(const Arguments& arguments, AbsenceOptions& options) {
  constexpr double longest_away_h = 24.0 * 10000.0;
  if (const auto on = days_on(arguments)) {
    const Date first = on->first_date.value_or(on->first_day.nearest_in_year(a_leap_year));
    Date last = on->last_date.value_or(on->last_day.nearest_in_year(a_leap_year));
    if (last < first) last = on->last_day.nearest_in_year(a_leap_year + 1);
    options.start_day = on->first_date ? month_day_of(first) : on->first_day;
    options.away_h = 24.0 * static_cast<double>((last - first).count());
    return;
  }
  const auto days = arguments.text("days");
  if (!days) refuse("no absence; expected --days N or --on DATES");
  const auto away_h = parse_away_h(*days);
  if (!away_h || *away_h <= 0.0 || *away_h > longest_away_h) {
    refuse("--days: found {}; expected days such as 2 or 2.5, or a time such as 2d2h",
           in_quotes(*days));
  }
  options.away_h = *away_h;
}

/// The visits of a helper between leaving and return. Which weekday a day is follows from a trip
/// with a year alone.
TripHelper trip_helper(const Arguments& arguments, const AbsenceOptions& options) {
  const auto text = arguments.text("helper");
  if (!text) return {};
  const std::optional<DaysAway> on = days_on(arguments);
  Routine routine;
  if (text->substr(0, text->find(' ')).find('/') == std::string::npos) {
    routine = accepted("helper", parse_routine(*text));
  } else {
    Helper helper = accepted("helper", parse_helper(*text));
    if (!on || *on != helper.days) {
      refuse("--helper: found {}; expected {}", to_string(helper.days),
             on ? fmt::format("the days of --on, {}, or none", to_string(*on))
                : "days only beside --on, or none: every 2 days 18:00 give 2 l");
    }
    routine = std::move(helper.routine);
  }
  if (routine.as_needed || routine.rule != VisitRule::always || !routine.days_away.empty() ||
      !routine.helpers.empty()) {
    refuse("--helper: found {}; expected days and hours, as every 2 days 18:00 give 2 l",
           in_quotes(*text));
  }
  const bool weekdays = routine.days == VisitDays::weekdays;
  if (weekdays && !(on && on->first_date)) {
    refuse("--helper: found {}; expected daily or every N days, or --on with a year",
           in_quotes(*text));
  }
  TripHelper helper{.give_l = routine.give_l, .soaks = routine.soaks};
  const Date leaving = weekdays ? *on->first_date : Date{};
  for (int day = 1; day < options.days_to_return(); ++day) {
    if (!routine.visits_on(leaving + std::chrono::days(day), day)) continue;
    for (const double hour : routine.visit_hours) helper.visits.push_back({day, hour});
  }
  if (helper.visits.empty()) {
    refuse("--helper: found {}; expected a visit between leaving and return", in_quotes(*text));
  }
  return helper;
}

}  // namespace

AbsenceOptions absence_options(const Arguments& arguments) {
  AbsenceOptions options;
  for (const char* option : {"days", "months"}) refuse_together(arguments, "on", option);
  set_length(arguments, options);
  if (const auto leave = arguments.text("leave")) {
    const auto hour = parse_clock(*leave);
    if (!hour || *hour >= 24.0) {
      refuse("--leave: found {}; expected a time of day such as 18:00", in_quotes(*leave));
    }
    options.leave_h = *hour;
  }
  set_months(arguments, options);
  options.line = arguments.word<Line>(
      "line", "wilting",
      {{"stressed", Line::stressed}, {"wilting", Line::wilting}, {"dry", Line::dry}});
  options.rain_counts = !arguments.flag("no-rain");
  options.share = share_option(arguments).value_or(options.share);
  options.growth = growth_clock(arguments);
  options.helper = trip_helper(arguments, options);
  return options;
}

std::string months_text(const AbsenceOptions& options) {
  if (options.start_day) {
    return fmt::format("{} {}", options.start_day->day, month_name(options.start_day->month));
  }
  const std::string_view first = month_name(options.first_month);
  return options.first_month == options.last_month
             ? std::string(first)
             : fmt::format("{} to {}", first, month_name(options.last_month));
}

}  // namespace wiltline::cli
