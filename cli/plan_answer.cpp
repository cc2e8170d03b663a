#include "plan_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <span>

#include "page/page.hpp"
#include "terminal.hpp"
#include "wiltline/tables/forecast_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using W = const PlannedWatering&;

/// When it must be looked at again, and how to water it. `hour`: how the hour of that is told.
std::string note_text(W one, const std::function<std::string(double)>& hour) {
  std::string note;
  if (one.wilts) {
    note = fmt::format("wilts from {} {}", date_in_words(one.wilts->date), hour(one.wilts->hour));
  }
  if (one.left_by_look) note += "; water it, moist or not";
  if (one.sheds) note += std::string(note.empty() ? "" : "; ") + "soak, wait, soak again";
  return note;
}

/// The same for people: no finer than the plant allows.
std::string spoken_note(W one) {
  return note_text(one, [](double hour) { return std::string(part_of_day(hour)); });
}

std::string visit_in_words(const Instant& visit) {
  constexpr std::string_view days[]{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  return fmt::format("{} {} {}", days[weekday_of(visit.date)], date_in_words(visit.date),
                     clock_string(visit.hour));
}

constexpr const char* nothing_wanted = "No pot wants water in these days.";

/// Between which it lies 8 times in 10.
std::string amount_range(W one, bool us) {
  const Spread& give = one.give_l;
  return give.p90 < one.least_l ? "-" : volume_range_text(give.p10, give.p90, us);
}

/// What the routine gives, in the unit of that range.
std::string amount_beside_range(W one, bool us) {
  const double litres = one.to_pour_l();
  return litres > 0.0 ? volume_text_beside(litres, one.give_l.p90, us) : "-";
}

/// A box to tick, unless there is nothing to do but to know of it.
std::string_view box(W one) {
  return one.give_l.p90 >= one.least_l || one.feed_due || one.left_by_look ? "[ ]" : "";
}

/// `12 L in all, 2 trips`.
std::string load_text(double total_l, const PlanLayout& layout) {
  if (total_l <= 0.0) return "likely nothing to give";
  std::string text = volume_text(total_l, layout.us) + " in all";
  if (layout.can_l) {
    const double trips = std::ceil(total_l / *layout.can_l - 1e-9);
    text += ", " + counted(static_cast<int>(trips), "trip");
  }
  return text;
}

/// The rows of one visit.
using AtOneVisit = std::span<const PlannedWatering>;

std::vector<AtOneVisit> by_visit(const PlanResult& result) {
  std::vector<AtOneVisit> visits;
  const AtOneVisit all = result.waterings;
  for (std::size_t first = 0, end = 0; first < all.size(); first = end) {
    while (end < all.size() && all[end].visit == all[first].visit &&
           all[end].by_helper == all[first].by_helper) {
      ++end;
    }
    visits.push_back(all.subspan(first, end - first));
  }
  return visits;
}

double total_l(AtOneVisit rows) {
  double litres = 0.0;
  for (W one : rows) litres += one.to_pour_l() * one.planting->count;
  return litres;
}

std::string heading_of(AtOneVisit rows, const PlanLayout& layout) {
  return fmt::format("{}{}: {}", visit_in_words(rows.front().visit),
                     rows.front().by_helper ? ", helper" : "", load_text(total_l(rows), layout)) +
         (total_l(rows) <= 0.0 && std::ranges::any_of(rows, &PlannedWatering::left_by_look)
              ? " by the look"
              : "");
}

/// A visit without a table.
std::string compact_text(AtOneVisit rows, const PlanLayout& layout) {
  std::vector<std::string> pots;
  for (W one : rows) {
    const double litres = one.to_pour_l();
    pots.push_back(fmt::format("{}{}{}{}", shown_name(*one.planting),
                               litres > 0.0 ? ' ' + volume_text(litres, layout.us) : "",
                               one.left_by_look      ? " (water it, moist or not)!"
                               : one.lasts_to_next() ? ""
                                                     : "!",
                               one.feed_due ? " + feed" : ""));
  }
  const bool to_do = std::ranges::any_of(rows, [](W one) { return !box(one).empty(); });
  const std::string text = fmt::format("{}; {}.", heading_of(rows, layout), fmt::join(pots, ", "));
  return (to_do ? "[ ] " : "    ") + wrapped(text, page_width(), 4, 4) + '\n';
}

std::string visit_table(AtOneVisit rows, const PlanLayout& layout) {
  using enum Side;
  const std::vector<TextColumn<PlannedWatering>> columns{
      {"", left, [](W one) { return std::string(box(one)); }},
      {"planting", left, [](W one) { return shown_name(*one.planting); }},
      {"give", right, [&](W one) { return amount_beside_range(one, layout.us); }},
      {"8 in 10\ntimes", right, [&](W one) { return amount_range(one, layout.us); }},
      {"lasts to\nthe next", right, [](W one) { return yes_no(one.lasts_to_next()); }},
      {"feed", right, [](W one) { return one.feed_due ? "yes" : "-"; }},
      {"note", left, spoken_note}};
  return fmt::format("\n{}\n", heading_of(rows, layout)) +
         text_table(columns, std::vector<PlannedWatering>(rows.begin(), rows.end()));
}

std::string names_of(const std::vector<const Planting*>& plantings) {
  std::vector<std::string> names;
  for (const Planting* planting : plantings) names.push_back(printable(planting->name));
  return fmt::format("{}", fmt::join(names, ", "));
}

std::string warning_text(const WeatherWarning& warning, bool us) {
  return fmt::format(
      "{} on {} ({:.0f} {}): {} {}.", warning.frost ? "Frost" : "Heat", date_in_words(warning.date),
      in_units(temperature_c, warning.temperature_c, us), unit_text(temperature_c, us),
      warning.frost ? "cover or take in" : "shade the pots of", names_of(warning.plantings));
}

}  // namespace

std::string unforeseen_text(const PlanResult& result, const ForecastOptions& options) {
  const Date end = options.now.date + std::chrono::days(options.horizon_days);
  if (options.known_last >= end) return "";
  const std::string text = options.known_last < options.now.date
                               ? "No forecast is given, so frost and heat are not foreseen."
                               : fmt::format("Frost and heat are foreseen up to {} alone.",
                                             date_in_words(options.known_last));
  const PastNights& nights = result.past_nights;
  if (nights.years == 0) return text;
  if (nights.with_frost == 0) {
    return fmt::format("{} In {} no night at this time was too cold for these pots.", text,
                       counted(nights.years, "past year"));
  }
  return fmt::format("{} In {} of {} a night at this time was too cold for: {}.", text,
                     nights.with_frost, counted(nights.years, "past year"),
                     names_of(nights.plantings));
}

Table<PlannedWatering> plan_table() {
  Table<PlannedWatering> table;
  table.add(tables::plan_visit_columns);
  table.add({tables::of_planting::name, tables::of_planting::pot}, &PlannedWatering::planting);
  table.add(tables::plan_columns);
  table.add({{"note", "from when it wilts, or how to water it",
              [](W one) { return note_text(one, clock_string); }}});
  return table;
}

std::vector<CalendarLine> plan_calendar(const PlanResult& result, bool us) {
  std::vector<CalendarLine> lines;
  for (W one : result.waterings) {
    const Spread& give = one.give_l;
    std::string amount;
    if (one.to_pour_l() > 0.0) {
      amount = volume_text_beside(give.p50, give.p90, us);
      const std::string range = volume_range_text(give.p10, give.p90, us);
      if (range != amount) amount += fmt::format(" (8 in 10 times {})", range);
    }
    lines.push_back({.planting = one.planting,
                     .when = one.visit,
                     .at_once = one.at_once,
                     .by_helper = one.by_helper,
                     .give_l = one.left_by_look ? std::nullopt : std::optional(one.to_pour_l()),
                     .give = std::move(amount),
                     .feeding = one.feed_due,
                     .note = spoken_note(one)});
  }
  return lines;
}

std::string days_text(const PlanResult& result, const ForecastOptions& options,
                      const PlanLayout& layout) {
  const auto days = static_cast<std::size_t>(options.horizon_days) + 1;
  struct Line {
    std::vector<double> give_l;
    std::vector<bool> fails;
  };
  std::map<std::string, Line> lines;
  for (W one : result.waterings) {
    const auto day = static_cast<std::size_t>((one.visit.date - options.now.date).count());
    Line& line = lines[shown_name(*one.planting)];
    line.give_l.resize(days);
    line.fails.resize(days);
    if (day >= days) continue;
    line.give_l[day] += one.to_pour_l();
    line.fails[day] = line.fails[day] || !one.lasts_to_next();
  }
  if (lines.empty()) return {};
  constexpr std::size_t most_days = 8;  // beside a name on 80 columns
  const std::size_t shown = std::min(days, most_days);
  std::vector<TextTable::Heading> headings{{"each day", Side::left}};
  for (std::size_t day = 0; day < shown; ++day) {
    headings.push_back({date_in_words(options.now.date + std::chrono::days(day)), Side::right});
  }
  TextTable table(std::move(headings));
  for (const auto& [name, line] : lines) {
    std::vector<std::string> cells{name};
    for (std::size_t day = 0; day < shown; ++day) {
      const double litres = line.give_l[day];
      cells.push_back((litres > 0.0 ? volume_text(litres, layout.us) : "-") +
                      (line.fails[day] ? "!" : ""));
    }
    table.add(std::move(cells));
  }
  return '\n' + table.text() +
         paragraph(std::string("!: will not last to the next visit.") +
                   (shown < days ? " Later days are in the lists above." : ""));
}

void add_plan_sheet(const PlanResult& result, const ForecastOptions& options,
                    const PlanLayout& layout, Report& report) {
  std::vector<SheetGroup> groups;
  double all_l = 0.0;
  for (const AtOneVisit& rows : by_visit(result)) {
    SheetGroup group{heading_of(rows, layout), {}};
    all_l += total_l(rows);
    for (W one : rows) {
      std::string line = shown_name(*one.planting);
      if (one.give_l.p90 >= one.least_l) {
        line += fmt::format(": {} ({})", amount_beside_range(one, layout.us),
                            amount_range(one, layout.us));
      }
      if (one.feed_due) line += ", with feed";
      if (!one.lasts_to_next()) line += "; will not last to the next visit";
      if (const std::string note = spoken_note(one); !note.empty()) line += "; " + note;
      group.lines.push_back(std::move(line));
    }
    groups.push_back(std::move(group));
  }
  const auto short_lived =
      std::ranges::count_if(result.waterings, [](W one) { return !one.lasts_to_next(); });
  report.title = fmt::format("The visits from {}", full_date_in_words(options.now.date));
  if (groups.empty()) {
    report.answer = nothing_wanted;
    return;
  }
  report.answer = fmt::format(
      "{} in {}, about {} in all; {}.", counted(static_cast<int>(groups.size()), "visit"),
      days_in_words(options.horizon_days), volume_text(all_l, layout.us),
      short_lived == 0 ? "every pot lasts from each to the next"
                       : fmt::format("{} times a pot will not last to the next", short_lived));
  report.pictures.push_back(sheet_picture(
      {"For the shed door", "Amounts are for one pot; in brackets what is enough 8 times in 10."},
      groups));
}

std::string plan_text(const PlanResult& result, const ForecastOptions& options,
                      const PlanLayout& layout, const Report& report) {
  std::string out =
      fmt::format("From {}, {}, for {}\n", full_date_in_words(options.now.date),
                  clock_string(options.now.hour), days_in_words(options.horizon_days));
  for (const WeatherWarning& warning : result.warnings) {
    out += paragraph(warning_text(warning, layout.us));
  }
  if (const std::string text = unforeseen_text(result, options); !text.empty()) {
    out += paragraph(text);
  }
  if (layout.compact) out += '\n';
  for (const AtOneVisit& rows : by_visit(result)) {
    out += layout.compact ? compact_text(rows, layout) : visit_table(rows, layout);
  }
  if (result.waterings.empty()) out += paragraph(nothing_wanted);
  out += '\n';
  const std::string_view amounts = layout.compact ? "Amounts" : "Give";
  const std::string_view band =
      layout.compact ? "" : "; 8 in 10 times it lies between the two figures";
  const std::string trips = layout.can_l
                                ? fmt::format("; trips with a can of {} {}",
                                              rough(in_units(litres, *layout.can_l, layout.us)),
                                              unit_text(litres, layout.us))
                                : "";
  out += paragraph(fmt::format(
      "{}: for one pot, what the routine gives (until it drains, or what it says), in the middle "
      "of {} courses of the weather to come{}. In all: every pot of the visit{}.",
      amounts, options.members, band, trips));
  const bool some_fail =
      std::ranges::any_of(result.waterings, [](W one) { return !one.lasts_to_next(); });
  const std::string_view mark = layout.compact ? "!: it is" : "Lasts to the next: no if it is";
  const std::string fails =
      layout.compact && !some_fail
          ? ""
          : fmt::format("{} likelier than not to wilt before somebody comes again. ", mark);
  out += paragraph(
      fails +
      "Pots to look at again the same day come first; one that wilts before anybody comes is "
      "listed now, with what it takes. A pot that is checked is watered when its routine's rule "
      "says so, which can be a visit later than forecast advises. Soluble feed: the label comes "
      "first.");
  return out + notes_text(report);
}

}  // namespace wiltline::cli
