#include "forecast_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "shared_options.hpp"
#include "uncertain.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

Cell instant_cell(const std::optional<Instant>& at) {
  return at ? Cell(to_string(*at)) : Cell();
}

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

std::string listed(const std::vector<std::string>& names) {
  return names.empty() ? "nothing" : fmt::format("{}", fmt::join(names, ", "));
}

}  // namespace

std::vector<Cell> forecast_row(const PlantingForecast& pot, bool uncertain) {
  std::vector<Cell> row{pot.planting->name,
                        pot.planting->pot.name,
                        pot.depletion_l,
                        pot.refill_at_l,
                        instant_cell(pot.refill.p10),
                        instant_cell(pot.refill.p50),
                        instant_cell(pot.refill.p90),
                        instant_cell(pot.dry.p10),
                        instant_cell(pot.dry.p50),
                        instant_cell(pot.dry.p90),
                        instant_cell(pot.next_visit),
                        pot.dry_before_visit ? Cell(yes_no(*pot.dry_before_visit)) : Cell(),
                        pot.give_now_l,
                        yes_no(pot.feed_due)};
  if (uncertain) add_cells(pot.moves_most, row);
  return row;
}

std::string forecast_table_text(const ForecastResult& result, const ForecastOptions& options,
                                const Report& report, bool us) {
  const std::string litre(unit_text(Quantity::litres, us));
  const Instant& now = options.now;
  const auto amount = [&](double litres) {
    return litres < 0.005 ? std::string("-") : rough_range(in_units(Quantity::litres, litres, us));
  };
  std::vector<std::string> today;
  std::vector<std::string> tomorrow;
  std::vector<std::string> dry;
  std::vector<std::string> feed;
  TextTable table({{"\n\nplanting", true},
                   {"wants water\nif nobody\nwaters", true},
                   {"\n8 in 10\nfutures", true},
                   {"\n\ndry", true},
                   {"\n8 in 10\nfutures", true},
                   {"\nnext\nvisit", true},
                   {"dry\nbefore\nvisit"},
                   {"to give\nnow,\n" + litre}});
  for (const PlantingForecast& pot : result.pots) {
    const std::string name = shown_name(*pot.planting);
    if (pot.refill.p50 && pot.refill.p50->date == now.date) {
      today.push_back(fmt::format("{} ({} {})", name, amount(pot.give_now_l), litre));
    } else if (pot.refill.p50 && pot.refill.p50->date == now.date + std::chrono::days(1)) {
      tomorrow.push_back(name);
    }
    if (pot.dry_before_visit.value_or(false)) dry.push_back(name);
    if (pot.feed_due) feed.push_back(name);
    table.add({name, time_in_words(pot.refill.p50, now), range_in_words(pot.refill, now),
               time_in_words(pot.dry.p50, now), range_in_words(pot.dry, now),
               visit_in_words(pot.next_visit, now),
               pot.dry_before_visit ? yes_no(*pot.dry_before_visit) : "?", amount(pot.give_now_l)});
  }
  std::string out;
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };
  say(fmt::format("Water today: {}; tomorrow: {}.", listed(today), listed(tomorrow)));
  if (!dry.empty()) {
    say(fmt::format("Dry before the next visit if nothing is done: {}.", listed(dry)));
  }
  out += fmt::format("\nNow: {}. Most urgent first.\n\n", to_string(now)) + table.text() + '\n';
  if (!feed.empty()) {
    say(fmt::format("Soluble feed is due: {}. The label comes first.", listed(feed)));
  }
  if (options.uncertain) {
    std::set<std::string> inputs;
    for (const PlantingForecast& pot : result.pots) {
      if (pot.moves_most) {
        inputs.insert(fmt::format("{} ({})", input_in_words(pot.moves_most->name),
                                  shown_name(*pot.planting)));
      }
    }
    if (!inputs.empty()) {
      say(fmt::format("What moves the time most, of all that is not known exactly: {}.",
                      fmt::join(inputs, "; ")));
    }
  }
  const int shown_days =
      static_cast<int>((result.last_day - now.date).count()) + (now.hour > 0.0 ? 0 : 1);
  say(fmt::format(
      "Wants water: the refill threshold, beyond which growth slows. Dry: roots cannot "
      "draw enough, expect damage. Times are medians over {} futures if nobody waters; "
      "later: not within {} days; 8 in 10 futures lie in the range beside it, {}.",
      options.members, std::min(options.horizon_days, shown_days),
      options.uncertain ? "weather and what is not known exactly of plant, mix and spot"
                        : "the spread of weather alone, if plant, mix and spot are as given"));
  say("To give: until it drains, for one pot of each row; a range because plant size, shelter and "
      "mix vary.");
  for (const std::string& note : report.notes) say(printable(note));
  say(caution_text("you water"));
  return out;
}

}  // namespace wiltline::cli
