#include "forecast_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "page/page.hpp"
#include "uncertain.hpp"
#include "wiltline/questions/range_of_use.hpp"
#include "wiltline/tables/forecast_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using P = const PlantingForecast&;

std::string day_in_words(Date date, Date today) {
  return date == today ? "today" : date_in_words(date);
}

/// A time for people: no finer than the plant allows.
std::string time_in_words(const std::optional<Instant>& at, const Instant& now) {
  if (!at) return "later";
  if (*at <= now) return "now";
  return fmt::format("{} {}", day_in_words(at->date, now.date), part_of_day(at->hour));
}

std::string range_in_words(const TimeSpread& spread, const Instant& now) {
  const auto day = [&](const std::optional<Instant>& at) {
    if (!at) return std::string("later");
    return *at <= now ? "now" : date_in_words(at->date);
  };
  std::string first = day(spread.p10);
  const std::string last = day(spread.p90);
  if (first == last) return first;
  const bool same_month = spread.p10 && spread.p90 && *spread.p10 > now &&
                          month_of(spread.p10->date) == month_of(spread.p90->date);
  return same_month ? fmt::format("{}–{}", first.substr(0, first.find(' ')), last)
                    : fmt::format("{} – {}", first, last);
}

std::string visit_in_words(const std::optional<Instant>& visit, const Instant& now) {
  if (!visit) return "-";
  return fmt::format("{} {}", day_in_words(visit->date, now.date), clock_string(visit->hour));
}

/// What it takes at its next visit (as needed: when it asks); empty if that is nothing or not
/// known.
std::optional<Ranged> give_range(P pot, const ForecastOptions& options) {
  if (!pot.give_at_visit_l || pot.give_at_visit_l->p50 < least_given_l) return std::nullopt;
  const Spread& give = *pot.give_at_visit_l;
  constexpr double eight_in_ten = 1.2815515655446004;  // normal standard errors to either side
  if (options.uncertain) return Ranged{give.p50, give.p10, give.p90};
  // The spread is the weather's alone. How the pot itself differs has nothing to do with it, so
  // that the two together reach as far as the root of the sum of their squares.
  Ranged pot_alone = range_of_use(give.p50);
  if (pot.give_error_l) {
    const double error_l = eight_in_ten * *pot.give_error_l;
    pot_alone = {give.p50, give.p50 - error_l, give.p50 + error_l};
  }
  return Ranged{give.p50,
                std::max(give.p50 - std::hypot(give.p50 - give.p10, give.p50 - pot_alone.low), 0.0),
                give.p50 + std::hypot(give.p90 - give.p50, pot_alone.high - give.p50)};
}

/// True if it is watered at a later visit than the next: what it takes then is not known.
bool waits_for_other_visit(P pot) {
  return pot.next_visit && pot.next_visit != pot.water_at;
}

}  // namespace

Table<PlantingForecast> forecast_table(bool uncertain, bool learned) {
  Table<PlantingForecast> table;
  table.add({tables::of_planting::name, tables::of_planting::pot}, &PlantingForecast::planting);
  table.add(tables::forecast_columns);
  table.section("Appended by --uncertain");
  if (uncertain) table.add(tables::forecast_unsure_columns);
  table.section("Appended behind them");
  table.add(tables::forecast_visit_columns);
  table.section("Appended last where readings are given or in the state");
  if (learned) table.add(tables::forecast_learned_columns);
  return table;
}

std::vector<CalendarLine> forecast_calendar(const ForecastResult& result,
                                            const ForecastOptions& options, bool us) {
  std::vector<CalendarLine> lines;
  const auto dry_note = [&](P pot) {
    return pot.dry.p50 ? fmt::format("dry {} {} if nobody waters", date_in_words(pot.dry.p50->date),
                                     part_of_day(pot.dry.p50->hour))
                       : std::string{};
  };
  for (const PlantingForecast& pot : result.pots) {
    if (pot.dry_before_visit.value_or(false)) {
      lines.push_back({.planting = pot.planting,
                       .when = options.now,
                       .at_once = true,
                       .give_l = pot.give_now_l,
                       .give = volume_text(pot.give_now_l, us),
                       .feeding = pot.feed_due,
                       .note = "dry before the next visit"});
    } else if (pot.water_at) {
      const auto give = waits_for_other_visit(pot) ? std::nullopt : give_range(pot, options);
      lines.push_back({.planting = pot.planting,
                       .when = *pot.water_at,
                       .at_once = false,
                       .by_helper = pot.planting->routine.helper_on(pot.water_at->date) != nullptr,
                       .give_l = give ? std::optional(give->value) : std::nullopt,
                       .give = give ? volume_range_text(give->low, give->high, us) : "",
                       .feeding = pot.feed_due,
                       .note = dry_note(pot)});
    }
  }
  std::ranges::stable_sort(lines, {}, &CalendarLine::when);
  return lines;
}

void add_forecast_picture(const ForecastResult& result, const ForecastOptions& options,
                          Report& report) {
  const auto day = [&](const std::optional<Instant>& at) -> std::optional<double> {
    if (!at) return std::nullopt;
    return static_cast<double>((at->date - options.now.date).count()) +
           at->hour / units::hours_per_day;
  };
  std::vector<RangeRow> rows;
  int dry = 0;
  for (P pot : result.pots) {
    dry += pot.dry_before_visit.value_or(false) ? 1 : 0;
    RangeRow row{.label = shown_name(*pot.planting),
                 .value = day(pot.refill.p50),
                 .low = day(pot.refill.p10),
                 .high = day(pot.refill.p90),
                 .text = time_in_words(pot.refill.p50, options.now)};
    if (const auto at = day(pot.dry.p50)) row.marks.emplace_back(*at, "dry");
    if (const auto at = day(pot.next_visit)) row.marks.emplace_back(*at, "visit");
    rows.push_back(std::move(row));
  }
  report.title = "The coming days";
  report.answer = fmt::format(
      "From {}: {} of {} pots {} likelier than not to be dry now or before the next visit.",
      instant_in_words(options.now), dry == 0 ? "none" : std::to_string(dry), result.pots.size(),
      dry == 1 ? "is" : "are");
  report.pictures.push_back(ranges_picture(
      {"When each pot wants water",
       "If nobody waters. Dot: when the plant starts to run short, by the median; bar: 8 in 10 "
       "times, open where that ends later; square: dry, by the median; upright line: the next "
       "visit."},
      "", rows, options.now.date));
}

std::string forecast_table_text(const ForecastResult& result, const ForecastOptions& options,
                                const Report& report, bool us) {
  const Instant& now = options.now;
  const auto to_give = [&](P pot) {
    const auto give = give_range(pot, options);
    return give ? volume_range_text(give->low, give->high, us) : std::string("-");
  };
  std::vector<std::string> dry_now;
  std::vector<std::string> water_now;
  std::vector<std::string> today;
  std::vector<std::string> tomorrow;
  std::vector<std::string> thirsty;
  std::vector<std::string> dry;
  using enum Side;
  const std::vector<TextColumn<PlantingForecast>> columns{
      {"planting", left, [](P pot) { return shown_name(*pot.planting); }},
      {"wants water\nif nobody\nwaters", left,
       [&](P pot) { return time_in_words(pot.refill.p50, now); }},
      {"8 in 10\ntimes", left, [&](P pot) { return range_in_words(pot.refill, now); }},
      {"goes\ndry", left, [&](P pot) { return time_in_words(pot.dry.p50, now); }},
      {"8 in 10\ntimes", left, [&](P pot) { return range_in_words(pot.dry, now); }},
      {"next\nvisit", left, [&](P pot) { return visit_in_words(pot.next_visit, now); }},
      {"dry\nbefore\nvisit", right,
       [](P pot) { return pot.dry_before_visit ? yes_no(*pot.dry_before_visit) : "?"; }},
      {"to give at\nthe visit", right, to_give}};
  for (const PlantingForecast& pot : result.pots) {
    const std::string name = shown_name(*pot.planting);
    const bool is_dry = pot.dry.p50 && *pot.dry.p50 <= now;
    if (is_dry) {
      dry_now.push_back(fmt::format("{} ({})", name, volume_text(pot.give_now_l, us)));
    } else if (pot.water_at && pot.water_at->date <= now.date + std::chrono::days(1)) {
      const auto give = give_range(pot, options);
      (pot.water_at->date == now.date ? today : tomorrow)
          .push_back(
              waits_for_other_visit(pot) || !give
                  ? name
                  : fmt::format("{} ({})", name, volume_range_text(give->low, give->high, us)));
    }
    const bool wants_now = pot.refill.p50 && *pot.refill.p50 <= now;
    if (is_dry) continue;
    if (pot.dry_before_visit.value_or(false) && wants_now) {
      water_now.push_back(fmt::format("{} ({})", name, volume_text(pot.give_now_l, us)));
    } else if (pot.dry_before_visit.value_or(false)) {
      dry.push_back(pot.give_now_l < least_given_l
                        ? name
                        : fmt::format("{} (takes {} now)", name, volume_text(pot.give_now_l, us)));
    } else if (pot.next_visit && pot.next_visit->date > now.date && pot.refill.p50 &&
               *pot.refill.p50 < *pot.next_visit) {
      thirsty.push_back(name);
    }
  }
  std::string out;
  const auto say = [&out](const std::string& sentence) { out += paragraph(sentence); };
  out += paragraph_of("Dry now, water at once", dry_now, ", ");
  out += paragraph_of("Water now, for these go dry before the next visit", water_now, ", ");
  out += paragraph_of("Dry before the next visit if nothing is done", dry, ", ");
  const bool others = !dry_now.empty() || !water_now.empty();
  if (!others || !today.empty() || !tomorrow.empty()) {
    say(fmt::format("Water at visits today: {}; tomorrow: {}.", joined_or("nothing", today, ", "),
                    joined_or("nothing", tomorrow, ", ")));
  }
  out += paragraph_of("Short of water before the next visit, but not dry by then", thirsty, ", ");
  out += fmt::format("\nNow: {}. Most urgent first.\n\n", instant_in_words(now)) +
         text_table(columns, result.pots) + '\n';
  const std::vector<std::string> feed = names_where(
      result.pots, [](P pot) { return pot.feed_due; },
      [](P pot) { return shown_name(*pot.planting); });
  if (!feed.empty()) {
    say(fmt::format("Soluble feed is due: {}. The label comes first.", fmt::join(feed, ", ")));
  }
  if (options.uncertain) {
    std::set<std::string> inputs;
    for (const PlantingForecast& pot : result.pots) {
      if (pot.moves_most) {
        inputs.insert(
            fmt::format("{} ({})", term_in_words(pot.moves_most->name), shown_name(*pot.planting)));
      }
    }
    out += paragraph_of("What matters most for the time, of all that is not known exactly",
                        {inputs.begin(), inputs.end()});
    for (const PlantingForecast& pot : result.pots) {
      if (pot.waterless_members == 0) continue;
      say(fmt::format("{}: {}.", shown_name(*pot.planting),
                      left_out_text(pot.waterless_members, options.members)));
    }
  }
  const int shown_days =
      static_cast<int>((result.last_day - now.date).count()) + (now.hour > 0.0 ? 0 : 1);
  say(fmt::format(
      "Wants water: beyond that growth slows. Dry: roots cannot draw enough, expect damage. Times "
      "are the middle of {} courses of the weather to come, if nobody waters; later: not within "
      "{}. 8 in 10 times it falls between the two days beside it, {}.",
      options.members, days_in_words(std::min(options.horizon_days, shown_days)),
      options.uncertain ? "by the weather and by what is not known exactly of plant, mix and spot"
                        : "by the weather alone, if plant, mix and spot are as given"));
  say(fmt::format(
      "Today and tomorrow: pots with a visit then, the last before they want water. To give: at "
      "the next visit, until it drains, if nobody waters before, for one pot of each row; 8 in 10 "
      "times it lies between the two figures{}.",
      options.uncertain ? ""
                        : ", by the weather and as plant size, shelter and mix differ (CSV has the "
                          "weather's part alone)"));
  const bool learned =
      std::ranges::any_of(result.pots, [](P pot) { return pot.give_error_l.has_value(); });
  if (learned && !options.uncertain) {
    say("Of a pot with readings the figures differ by the weather and by what the readings leave "
        "unsure.");
  }
  return out + notes_text(report);
}

}  // namespace wiltline::cli
