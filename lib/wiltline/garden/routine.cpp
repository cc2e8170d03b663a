#include "wiltline/garden/routine.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

constexpr std::array<std::string_view, 7> weekday_names{"mon", "tue", "wed", "thu",
                                                        "fri", "sat", "sun"};
constexpr int longest_interval_days = 60;
constexpr std::size_t most_visits_a_day = 24;

std::optional<std::size_t> weekday(std::string_view word) {
  const auto found = std::ranges::find(weekday_names, folded(word));
  if (found == weekday_names.end()) return std::nullopt;
  return static_cast<std::size_t>(found - weekday_names.begin());
}

/// Order of days within a year, for comparing MonthDays.
unsigned order(const MonthDay& day) {
  return day.month * 100 + day.day;
}

/// Takes words off the front as the grammar asks for them.
class RoutineParser {
 public:
  explicit RoutineParser(std::string_view text) : words_(words(text)) {
    routine_.text = trim(text);
  }

  Result<Routine> parse() {
    if (words_.empty()) return Fault{"an empty routine", std::string(grammar)};
    if (!parse_visits()) return fault_;
    while (!next().empty()) {
      if (accept("soak")) {
        into_->soaks = true;
        continue;
      }
      if (!(peek("give") ? parse_amount() : accept("helper") ? parse_helper() : parse_away())) {
        return fault_;
      }
    }
    for (Helper& helper : routine_.helpers) helper.routine.text = written(helper.routine);
    return std::move(routine_);
  }

 private:
  static constexpr std::string_view grammar =
      "as-needed, daily 07:00, every 2 days 07:00, mon fri 18:30, or one of these after check or "
      "check top";

  bool parse_visits() {
    if (accept("as-needed") || accept("as_needed") ||
        (peek("as") && peek("needed", 1) && skip(2))) {
      into_->as_needed = true;
      return true;
    }
    return parse_rule() && parse_days() && parse_hours();
  }

  bool parse_rule() {
    if (!accept("check")) return true;
    into_->rule = accept("top") ? VisitRule::check_top : VisitRule::check;
    return true;
  }

  bool parse_days() {
    if (accept("daily")) return true;
    if (accept("every")) {
      into_->days = VisitDays::every_n;
      const auto n = parse_integer(next());
      if (!n || *n < 1 || *n > longest_interval_days) {
        return refuse_next("nothing after every",
                           fmt::format("a number of days from 1 to {}", longest_interval_days));
      }
      into_->every_n_days = *n;
      skip(1);
      return accept("days") || accept("day") || refuse_next("nothing after the number", "days");
    }
    into_->days = VisitDays::weekdays;
    const std::size_t begin = at_;
    while (const auto day = weekday(next())) {
      into_->on_weekday[*day] = true;
      skip(1);
    }
    return at_ > begin || refuse_next("no days", std::string(grammar));
  }

  bool parse_hours() {
    std::vector<double>& hours = into_->visit_hours;
    while (!next().empty() && !peek("give") && !peek("away") && !peek("soak") && !peek("helper")) {
      const auto hour = parse_clock(next());
      if (!hour || *hour >= 24.0) {
        return problem(in_quotes(next()), "a time of day such as 07:00");
      }
      hours.push_back(*hour);
      skip(1);
    }
    if (hours.empty()) return problem("no time of day", "a time such as 07:00");
    std::ranges::sort(hours);
    hours.erase(std::unique(hours.begin(), hours.end()), hours.end());
    if (hours.size() > most_visits_a_day) {
      return problem(fmt::format("{} visits a day", hours.size()), "at most 24");
    }
    return true;
  }

  bool parse_amount() {
    skip(1);
    const std::string_view number = next();
    const std::string_view unit = next(1);
    if (unit.empty()) return problem("give without an amount", "an amount such as give 2 l");
    const auto amount = parse_number(number);
    if (!amount || *amount <= 0.0) return problem(in_quotes(number), "an amount above nothing");
    if (!peek("l", 1) && !peek("gal", 1)) return problem(in_quotes(unit), "l or gal");
    if (into_->give_l) return problem("give a second time", "it once");
    const double litres = peek("l", 1) ? *amount : *amount * units::litres_per_us_gallon;
    if (litres < least_given_l || litres > most_given_l) {
      return problem(fmt::format("give {} {}", number, unit),
                     fmt::format("{} to {} litres a watering", least_given_l, most_given_l));
    }
    into_->give_l = litres;
    skip(2);
    return true;
  }

  bool parse_away() {
    if (!accept("away")) {
      return problem(in_quotes(next()), "give, soak, away, helper or nothing more");
    }
    const auto away = parse_stretch("away");
    if (!away) return false;
    routine_.days_away.push_back(*away);
    into_ = &routine_;
    return true;
  }

  /// What follows up to the next helper or days away is the helper's.
  bool parse_helper() {
    const auto days = parse_stretch("helper");
    if (!days) return false;
    into_ = &routine_.helpers.emplace_back(Helper{*days, {}}).routine;
    return parse_visits();
  }

  std::optional<DaysAway> parse_stretch(std::string_view of) {
    const auto days = parse_days_away(next());
    if (days) {
      skip(1);
    } else {
      refuse_next(fmt::format("{} without days", of), std::string(days_away_example));
    }
    return days;
  }

  /// A word that is still to be taken; empty behind the last.
  [[nodiscard]] std::string_view next(std::size_t ahead = 0) const {
    return at_ + ahead < words_.size() ? words_[at_ + ahead] : std::string_view{};
  }
  [[nodiscard]] bool peek(std::string_view word, std::size_t ahead = 0) const {
    return folded(next(ahead)) == folded(word);
  }
  bool accept(std::string_view word) { return peek(word) && skip(1); }
  bool skip(std::size_t n) {
    at_ += n;
    return true;
  }
  bool problem(std::string found, std::string expected) {
    fault_ = {std::move(found), std::move(expected)};
    return false;
  }
  bool refuse_next(std::string_view if_none_is_left, std::string expected) {
    return problem(next().empty() ? std::string(if_none_is_left) : in_quotes(next()),
                   std::move(expected));
  }

  std::vector<std::string_view> words_;
  std::size_t at_ = 0;
  Routine routine_;
  Routine* into_ = &routine_;  // whose visits are read: the gardener's or a helper's
  Fault fault_;
};

}  // namespace

bool DaysAway::covers(Date date) const {
  if (first_date) return date > *first_date && date < *last_date;
  const unsigned day = order(month_day_of(date));
  const unsigned first = order(first_day);
  const unsigned last = order(last_day);
  // An absence over the new year wraps round.
  return first <= last ? day > first && day < last : day > first || day < last;
}

std::optional<DaysAway> parse_days_away(std::string_view text) {
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  const std::string_view from = text.substr(0, slash);
  const std::string_view to = text.substr(slash + 1);
  DaysAway away;
  away.first_date = parse_date(from);
  away.last_date = parse_date(to);
  if (away.first_date && away.last_date) {
    return *away.first_date < *away.last_date ? std::optional(away) : std::nullopt;
  }
  const auto first = parse_month_day(from);
  const auto last = parse_month_day(to);
  if (!first || !last || *first == *last) return std::nullopt;
  // Over the new year the later day comes first. Nobody means to be away for all but a few days of
  // every year: those are days in the wrong order, which dates are refused for too.
  constexpr long longest_over_new_year_days = 183;
  constexpr int a_leap_year = 2024;
  if (order(*last) < order(*first) &&
      (last->nearest_in_year(a_leap_year + 1) - first->nearest_in_year(a_leap_year)).count() >
          longest_over_new_year_days) {
    return std::nullopt;
  }
  return DaysAway{std::nullopt, std::nullopt, *first, *last};
}

std::string to_string(const DaysAway& away) {
  if (away.first_date) {
    return fmt::format("{}/{}", to_string(*away.first_date), to_string(*away.last_date));
  }
  return fmt::format("{}/{}", to_string(away.first_day), to_string(away.last_day));
}

Date DaysAway::begun_by(Date covered) const {
  if (first_date) return *first_date;
  const Date this_year = first_day.nearest_in_year(year_of(covered));
  return this_year < covered ? this_year : first_day.nearest_in_year(year_of(covered) - 1);
}

const Helper* Routine::helper_on(Date date) const {
  const auto last = std::find_if(helpers.rbegin(), helpers.rend(),
                                 [date](const Helper& helper) { return helper.days.covers(date); });
  return last == helpers.rend() ? nullptr : &*last;
}

const Routine* Routine::routine_on(Date date) const {
  if (helpers.empty() && days_away.empty()) return this;
  if (const Helper* const helper = helper_on(date)) return &helper->routine;
  const bool away = std::ranges::any_of(
      days_away, [date](const DaysAway& stretch) { return stretch.covers(date); });
  return away ? nullptr : this;
}

bool Routine::visits_on(Date date, long days_since_planting) const {
  const Routine* const routine = routine_on(date);
  if (routine == nullptr || routine->as_needed) return false;
  switch (routine->days) {
    case VisitDays::daily:
      return true;
    case VisitDays::every_n: {
      const Helper* const helper = helper_on(date);
      return (helper ? (date - helper->days.begun_by(date)).count() : days_since_planting) %
                 routine->every_n_days ==
             0;
    }
    case VisitDays::weekdays:
      return routine->on_weekday[weekday_of(date)];
  }
  return false;
}

Result<Routine> parse_routine(std::string_view text) {
  return RoutineParser(text).parse();
}

Result<Helper> parse_helper(std::string_view text) {
  Result<Routine> routine = parse_routine("as-needed helper " + std::string(text));
  if (!routine) return routine.fault();
  if (!routine->days_away.empty() || routine->helpers.size() > 1) {
    return Fault{in_quotes(trim(text)), "one helper's days and visits, without away or helper"};
  }
  return routine->helpers.front();
}

std::string written(const Routine& routine) {
  std::string text;
  if (routine.as_needed) {
    text = "as-needed";
  } else {
    if (routine.rule == VisitRule::check) text = "check ";
    if (routine.rule == VisitRule::check_top) text = "check top ";
    switch (routine.days) {
      case VisitDays::daily:
        text += "daily";
        break;
      case VisitDays::every_n:
        text += fmt::format("every {} days", routine.every_n_days);
        break;
      case VisitDays::weekdays: {
        std::vector<std::string_view> days;
        for (std::size_t i = 0; i < weekday_names.size(); ++i) {
          if (routine.on_weekday[i]) days.push_back(weekday_names[i]);
        }
        text += fmt::format("{}", fmt::join(days, " "));
        break;
      }
    }
    for (const double hour : routine.visit_hours) text += ' ' + clock_string(hour);
  }
  if (routine.give_l) text += fmt::format(" give {} l", shortest(*routine.give_l));
  if (routine.soaks) text += " soak";
  for (const DaysAway& away : routine.days_away) {
    text += " away " + to_string(away);
  }
  for (const Helper& helper : routine.helpers) {
    text += " helper " + to_string(helper.days) + ' ' + written(helper.routine);
  }
  return text;
}

}  // namespace wiltline
