#include "forecast_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "shared_columns.hpp"
#include "shared_options.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using P = const PlantingForecast&;

constexpr Column<PlantingForecast> forecast_list[]{
    {"name", text, 0, "planting", [](P pot) { return pot.planting->name; }},
    {"pot", text, 0, "pot", [](P pot) { return pot.planting->pot.name; }},
    {"depletion_l", litres, 3, "root-zone depletion now; below zero: a saucer holds water",
     [](P pot) { return pot.depletion_l; }},
    {"refill_at_l", litres, 3, "refill threshold: depletion at which to water",
     [](P pot) { return pot.refill_at_l; }},
    {"refill_p10", text, 0,
     "time at which the threshold is reached if nobody waters, earliest tenth of the "
     "futures; empty if not within the horizon",
     [](P pot) { return pot.refill.p10; }},
    {"refill_p50", text, 0, "the same, median", [](P pot) { return pot.refill.p50; }},
    {"refill_p90", text, 0, "the same, nine tenths", [](P pot) { return pot.refill.p90; }},
    {"dry_p10", text, 0, "time at which the pot goes dry if nobody waters, earliest tenth",
     [](P pot) { return pot.dry.p10; }},
    {"dry_p50", text, 0, "the same, median", [](P pot) { return pot.dry.p50; }},
    {"dry_p90", text, 0, "the same, nine tenths", [](P pot) { return pot.dry.p90; }},
    {"next_visit", text, 0, "next visit of the routine after now; empty if there is none",
     [](P pot) { return pot.next_visit; }},
    {"dry_before_visit", text, 0,
     "yes if by the median it goes dry before that, else no; empty if not known",
     [](P pot) { return pot.dry_before_visit; }},
    {"give_now_l", litres, 2, "what it takes now, until it drains",
     [](P pot) { return pot.give_now_l; }},
    {"feed_due", text, 0, "yes if soluble feed is due today", [](P pot) { return pot.feed_due; }},
};

constexpr Column<PlantingForecast> uncertain_list[]{
    {"moves_most", text, 0,
     "the input that moves the time of the threshold most; empty if none stands out",
     [](P pot) { return name_of(pot.moves_most); }},
    {"moves_most_rank_correlation", number, 2,
     "rank correlation of the two; below zero: more of it means sooner",
     [](P pot) { return correlation_of(pot.moves_most); }},
};

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

Table<PlantingForecast> forecast_table(bool uncertain) {
  Table<PlantingForecast> table;
  table.add(forecast_list);
  if (uncertain) table.add(uncertain_list);
  return table;
}

std::vector<std::pair<std::string_view, std::vector<ColumnHead>>> forecast_heads() {
  return {{"Columns of CSV and JSON", heads(forecast_list)},
          {"Appended by --uncertain", heads(uncertain_list)}};
}

std::string forecast_table_text(const ForecastResult& result, const ForecastOptions& options,
                                const Report& report, bool us) {
  const std::string litre(unit_text(Quantity::litres, us));
  const Instant& now = options.now;
  const auto amount = [&](double litres) {
    return litres < 0.005 ? std::string("-") : rough_volume_range(litres, us);
  };
  std::vector<std::string> today;
  std::vector<std::string> tomorrow;
  std::vector<std::string> dry;
  std::vector<std::string> feed;
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
      {"to give\nnow,\n" + litre, right, [&](P pot) { return amount(pot.give_now_l); }}};
  for (const PlantingForecast& pot : result.pots) {
    const std::string name = shown_name(*pot.planting);
    if (pot.refill.p50 && pot.refill.p50->date == now.date) {
      today.push_back(fmt::format("{} ({})", name, volume_range_text(pot.give_now_l, us)));
    } else if (pot.refill.p50 && pot.refill.p50->date == now.date + std::chrono::days(1)) {
      tomorrow.push_back(name);
    }
    if (pot.dry_before_visit.value_or(false)) dry.push_back(name);
    if (pot.feed_due) feed.push_back(name);
  }
  std::string out;
  const auto say = [&out](const std::string& sentence) { out += paragraph(sentence); };
  say(fmt::format("Water today: {}; tomorrow: {}.", listed(today), listed(tomorrow)));
  if (!dry.empty()) {
    say(fmt::format("Dry before the next visit if nothing is done: {}.", listed(dry)));
  }
  out += fmt::format("\nNow: {}, {}. Most urgent first.\n\n", full_date_in_words(now.date),
                     clock_string(now.hour)) +
         text_table(columns, result.pots) + '\n';
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
      say(fmt::format("What matters most for the time, of all that is not known exactly: {}.",
                      fmt::join(inputs, "; ")));
    }
  }
  const int shown_days =
      static_cast<int>((result.last_day - now.date).count()) + (now.hour > 0.0 ? 0 : 1);
  say(fmt::format(
      "Wants water: beyond that growth slows. Dry: roots cannot draw enough, expect damage. Times "
      "are the middle of {} courses of the weather to come, if nobody waters; later: not within {} "
      "days. 8 in 10 times it falls between the two days beside it, {}.",
      options.members, std::min(options.horizon_days, shown_days),
      options.uncertain ? "by the weather and by what is not known exactly of plant, mix and spot"
                        : "by the weather alone, if plant, mix and spot are as given"));
  say("To give: until it drains, for one pot of each row; 8 in 10 such pots lie between the two "
      "figures.");
  return out + notes_text(report);
}

}  // namespace wiltline::cli
