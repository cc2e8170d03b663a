#include "absence_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "absence_options.hpp"
#include "remedies.hpp"
#include "uncertain.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/tables/absence_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// How a pot that passed is spoken of.
std::string_view passed_words(Line line) {
  switch (line) {
    case Line::stressed:
      return "without stress";
    case Line::dry:
      return "without going dry";
    default:
      return "without wilting";
  }
}

/// Yes or nothing.
std::optional<std::string_view> yes_if(bool holds) {
  return holds ? std::optional<std::string_view>("yes") : std::nullopt;
}

std::string count_text(const AbsencePot& pot) {
  return fmt::format("{} of {}", pot.passed, pot.windows);
}

std::string share_text(const AbsencePot& pot) {
  // Rounded down: 100 % means all.
  const auto share = pot.share();
  return share ? fmt::format("{:.0f} %", std::floor(100.0 * *share + 1e-9)) : "-";
}

/// Days after that of leaving: `the 3rd and 5th day`.
std::string visit_days_text(const std::vector<TripHelper::Visit>& visits) {
  std::vector<std::string> days;
  for (const TripHelper::Visit& visit : visits) {
    const std::string day = fmt::format("{}", visit.day);
    if (days.empty() || days.back() != day) days.push_back(day);
  }
  std::string text = days.size() == 1 ? "day " : "days ";
  for (std::size_t i = 0; i < days.size(); ++i) {
    text += (i == 0 ? "" : i + 1 == days.size() ? " and " : ", ") + days[i];
  }
  return text;
}

std::string helper_text(const TripHelper& helper, bool us) {
  if (helper.visits.empty()) return "";
  return fmt::format(" A helper comes on {} after that of leaving, {}, and {}.",
                     visit_days_text(helper.visits),
                     counted(static_cast<int>(helper.visits.size()), "time"),
                     helper.give_l ? "gives " + volume_text(*helper.give_l, us)
                                   : std::string("waters until it drains"));
}

std::string heading(const AbsenceOptions& options, bool us) {
  return fmt::format(
      "Away {}: leaving at {} on {}{} and back {} at {}{}.{}", away_text(options.away_h),
      clock_string(options.leave_h), options.start_day ? "" : "any day of ", months_text(options),
      options.days_to_return() == 0   ? "the same day"
      : options.days_to_return() == 1 ? "the next day"
                                      : fmt::format("{} days later", options.days_to_return()),
      clock_string(options.return_h()), options.rain_counts ? "" : ", without rain",
      helper_text(options.helper, us));
}

std::string share_asked_text(double share) {
  return fmt::format("{} %", shortest(std::round(share * 1e4) / 100.0));
}

/// The pots of a table, by mix: all, or those around the one that answers.
std::vector<AbsencePot> shown_pots(const AbsenceResult& result) {
  constexpr std::size_t few = 24;
  constexpr std::size_t around = 8;
  std::vector<AbsencePot> order = result.pots;
  std::ranges::stable_sort(order, {}, &AbsencePot::mix_l);
  if (order.size() <= few) return order;
  const auto middle =
      result.smallest
          ? std::ranges::find(order, result.pots[*result.smallest].planting, &AbsencePot::planting)
          : order.end() - 1;
  const std::size_t at = static_cast<std::size_t>(middle - order.begin());
  const std::size_t first = std::min(at > around ? at - around : 0, order.size() - 2 * around - 1);
  order.erase(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(first));
  order.resize(2 * around + 1);
  return order;
}

/// Less mix than the crop's literature accepts.
bool is_small(const AbsencePot& pot) {
  return pot.mix_l < pot.planting->crop.min_l;
}

std::string size_caution(const AbsencePot& pot, bool us) {
  const Planting& planting = *pot.planting;
  return fmt::format("{} is less mix than the {} that growing guides accept at least for {}.",
                     volume_text(pot.mix_l, us), volume_text(planting.crop.min_l, us),
                     crop_in_words(planting.crop.name));
}

/// Why pots of one planting that are shown have different numbers of trips; nothing unless they do.
std::string trips_text(bool differ) {
  return differ
             ? paragraph(
                   "A bigger pot can have fewer past trips: they count from when roots hold half "
                   "its mix, which takes longer there.")
             : "";
}

void say_answer(const AbsenceAnswer& asked, const AbsenceOptions& options, bool us,
                const std::function<void(const std::string&)>& say) {
  if (const AbsencePot* const best = asked.smallest()) {
    say(fmt::format("The smallest of them: {}, {} of mix.", printable(best->planting->pot.name),
                    volume_text(best->mix_l, us)));
    say(fmt::format(
        "A plant of the usual size, or of the size you gave, came through {} past trips "
        "in it {}.",
        count_text(*best), passed_words(options.line)));
    if (is_small(*best)) say(size_caution(*best, us));
    return;
  }
  const auto& pots = asked.result.pots;
  const auto best = std::ranges::max_element(pots, {}, &AbsencePot::passed);
  say(fmt::format(
      "No pot of these brought the plant through {} of the past trips {}. The best, {}: {}.",
      share_asked_text(options.share), passed_words(options.line),
      printable(best->planting->pot.name), count_text(*best)));
}

}  // namespace

std::string away_text(double away_h) {
  const double days = std::floor(away_h / 24.0);
  const double hours = away_h - 24.0 * days;
  std::string text;
  if (days > 0.0) text = fmt::format("{:.0f} day{}", days, days == 1.0 ? "" : "s");
  if (hours > 0.0) {
    text += fmt::format("{}{:.3g} hour{}", text.empty() ? "" : " ", hours, hours == 1.0 ? "" : "s");
  }
  return text;
}

Table<AbsenceRow> absence_table(bool spreads) {
  namespace of_planting = tables::of_planting;
  Table<AbsenceRow> table;
  table.add({of_planting::crop, of_planting::pot}, &AbsenceRow::planting);
  table.add(tables::absence_columns, &AbsenceRow::pot);
  table.add(
      {{"smallest", "yes on the pot of least mix whose share is at least that asked; else empty",
        [](auto& row) { return yes_if(row.asked->result.smallest == row.place); }}});
  table.section("Appended");
  table.add({{"name", "planting of the garden; empty without one",
              [](auto& row) {
                return row.of_garden() ? std::optional(row.planting().name) : std::nullopt;
              }},
             {"own", "yes if it is that planting's own pot; else empty",
              [](auto& row) { return yes_if(row.of_garden() && row.place == 0); }}});
  table.add({of_planting::mix, of_planting::plants, of_planting::spot}, &AbsenceRow::planting);
  table.add(tables::absence_more_columns, &AbsenceRow::pot);
  table.section("Appended by --uncertain");
  if (spreads) table.add(tables::absence_spread_columns, &AbsenceRow::spread);
  table.section("Appended last, of a garden's own pots");
  table.add(tables::absence_help_columns, &AbsenceRow::help);
  return table;
}

void fill(const std::vector<AbsenceAnswer>& all, bool spreads, Report& report) {
  std::vector<AbsenceRow> rows;
  for (const AbsenceAnswer& asked : all) {
    for (std::size_t k = 0; k < asked.shown.size(); ++k) {
      rows.push_back(
          {&asked, asked.shown[k], spreads && asked.spreads[k] ? &*asked.spreads[k] : nullptr});
    }
  }
  report.fill(absence_table(spreads), rows);
}

std::string answer_sentence(const std::vector<AbsenceAnswer>& all, const AbsenceOptions& options) {
  const std::string asked = fmt::format("{:.0f} % of past trips", 100.0 * options.share);
  if (all.front().own == nullptr) {
    const AbsencePot* const pot = all.front().smallest();
    return pot == nullptr
               ? fmt::format("No pot tried survived {}.", asked)
               : fmt::format("The smallest pot that survived at least {} is {}: {} trips.", asked,
                             printable(pot->planting->pot.name), count_text(*pot));
  }
  const auto enough = std::ranges::count_if(all, [&](const AbsenceAnswer& one) {
    return passes(one.result.pots.front(), options.share);
  });
  return fmt::format("{} of {} plantings survived at least {} in the pot they have.", enough,
                     all.size(), asked);
}

std::string one_crop_text(const AbsenceAnswer& asked, const AbsenceOptions& options, bool us) {
  const Planting& planting = asked.candidates.front();
  std::string out = paragraph(heading(options, us));
  out += fmt::format("{}, {} a pot, {}, {}, planted {}\n\n", crop_in_words(planting.crop.name),
                     counted(planting.plants, "plant"), printable(planting.mix.name),
                     printable(planting.spot.name), planted_in_words(planting.planted));
  using enum Side;
  using Shown = const AbsencePot&;
  const std::vector<TextColumn<AbsencePot>> columns{
      {"pot", left, [](Shown pot) { return printable(pot.planting->pot.name); }},
      {"mix", right, [us](Shown pot) { return volume_text(pot.mix_l, us); }},
      {"past trips\nsurvived", right, count_text},
      {"share", right, share_text},
      {"", left, [&asked](Shown pot) {
         return asked.smallest() != nullptr && pot.planting == asked.smallest()->planting
                    ? "smallest"
                    : "";
       }}};
  const std::vector<AbsencePot> shown = shown_pots(asked.result);
  out += text_table(columns, shown);
  if (shown.size() < asked.result.pots.size()) {
    out += fmt::format("({} of {} pots; --format csv has all)\n", shown.size(),
                       asked.result.pots.size());
  }
  out += '\n';
  say_answer(asked, options, us,
             [&out](const std::string& sentence) { out += paragraph(sentence); });
  return out + trips_text(std::ranges::any_of(shown, [&](const AbsencePot& pot) {
           return pot.windows != shown.front().windows;
         }));
}

std::string garden_text(const std::vector<AbsenceAnswer>& all, const AbsenceOptions& options,
                        bool us) {
  std::string out = paragraph(heading(options, us)) + '\n';
  using enum Side;
  using A = const AbsenceAnswer&;
  const auto own_pot = [](A asked) -> const AbsencePot& { return asked.result.pots.front(); };
  const auto volume = [us](double value) { return volume_text(value, us); };
  const std::vector<TextColumn<AbsenceAnswer>> columns{
      {"planting", left, [](A asked) { return printable(asked.own->name); }},
      {"pot", left, [&](A asked) { return printable(own_pot(asked).planting->pot.name); }},
      {"mix", right, [&](A asked) { return volume(own_pot(asked).mix_l); }},
      {"past trips\nsurvived", right,
       [&](A asked) { return asked.windows() > 0 ? count_text(own_pot(asked)) : "-"; }},
      {"share", right, [&](A asked) { return share_text(own_pot(asked)); }},
      {"smallest\nthat would do", left,
       [&](A asked) -> std::string {
         const AbsencePot* const best = asked.smallest();
         if (asked.result.pots.front().windows == 0) return "-";  // grows on none of the trips
         if (best == nullptr) return "none";
         return best == &own_pot(asked) ? "this one" : printable(best->planting->pot.name);
       }},
      {"mix", right,
       [&](A asked) { return asked.smallest() ? volume(asked.smallest()->mix_l) : "-"; }},
      {"past trips\nsurvived", right,
       [](A asked) { return asked.smallest() ? count_text(*asked.smallest()) : "-"; }}};
  out += text_table(columns, all) + '\n';
  const auto say = [&out](const std::string& sentence) { out += paragraph(sentence); };
  out += trips_text(std::ranges::any_of(all, [&](A asked) {
    return asked.smallest() && asked.smallest()->windows != own_pot(asked).windows;
  }));
  const auto names_if = [&](const auto& belongs) {
    return names_where(all, belongs, [](A asked) { return printable(asked.own->name); });
  };
  out += paragraph_of("The smallest pot is less than growing guides accept for the crop",
                      names_if([](A asked) {
                        const AbsencePot* const best = asked.smallest();
                        return best != nullptr && is_small(*best);
                      }));
  const auto passed = [&](A asked) {
    return own_pot(asked).windows > 0 && passes(own_pot(asked), options.share);
  };
  const auto failed = [&](A asked) { return own_pot(asked).windows > 0 && !passed(asked); };
  say(fmt::format("Through at least {} of the past trips {}, in the pot they have: {}. Not: {}.",
                  share_asked_text(options.share), passed_words(options.line),
                  joined_or("none", names_if(passed), "; "),
                  joined_or("none", names_if(failed), "; ")));
  if (std::ranges::any_of(all, failed)) {
    out +=
        "\nWhat would have helped on the same trips: the smallest change that is enough, and "
        "smaller ones.\n";
  }
  for (A asked : all) {
    if (failed(asked)) say_remedies(printable(asked.own->name), asked.remedies, us, say);
  }
  return out;
}

std::string help_text(const TripHelp& help, const AbsenceOptions& options) {
  using P = const PotHelp&;
  const auto wants = [](P pot) { return pot.visits != 0 && pot.grows; };
  const auto in_shade = [&](P pot) { return wants(pot) && pot.passes_grouped_in_shade; };
  const auto name = [](P pot) { return printable(pot.planting->name); };
  const std::vector<std::string> shade = names_where(help.pots, in_shade, name);
  if (std::ranges::none_of(help.pots, wants)) return "";
  const auto visits_text = [&](int visits) {
    const auto spread = spread_visits(options, visits);
    const auto days = static_cast<int>(spread.size());
    if (days > 0 && days == options.days_to_return() - 1) return std::string("one every day");
    return spread.empty() ? std::string("none")
                          : fmt::format("{}, on {} after that of leaving",
                                        counted(static_cast<int>(spread.size()), "visit"),
                                        visit_days_text(spread));
  };
  std::string out = "\nA helper instead, who waters every pot until it drains:\n";
  if (help.visits > 0) {
    out +=
        paragraph(fmt::format("The fewest visits, spread evenly: {}.", visits_text(help.visits)));
    const std::vector<std::string> each = names_where(
        help.pots, [](P pot) { return pot.visits.value_or(0) != 0; },
        [&](P pot) { return fmt::format("{} {}", name(pot), *pot.visits); });
    if (each.size() > 1) out += paragraph_of("The fewest for each pot alone", each);
  }
  if (!shade.empty()) {
    out += paragraph(fmt::format(
        "No helper is needed by these if they stand in light shade, rim to rim in a group: {}. "
        "Visits to the others then: {}.",
        fmt::join(shade, "; "), visits_text(help.visits_for_the_rest)));
  }
  const auto beyond = [&](P pot) { return wants(pot) && !in_shade(pot) && !pot.visits; };
  return out +
         paragraph_of("Not even a daily visit is enough for", names_where(help.pots, beyond, name));
}

std::string spreads_text(const std::vector<AbsenceAnswer>& all, const AbsenceOptions& options,
                         const DrawOptions& draws) {
  std::string out = '\n' + paragraph(draws_text(draws));
  for (const AbsenceAnswer& asked : all) {
    for (std::size_t k = 0; k < asked.shown.size(); ++k) {
      const std::size_t place = asked.shown[k];
      const bool own = asked.own != nullptr;
      if (own ? place != 0 : asked.result.smallest && asked.result.smallest != place) continue;
      if (!asked.spreads[k]) continue;
      const Planting& planting = asked.candidates[place];
      out += paragraph(
          fmt::format("{}: {}.", printable(own ? planting.name : planting.pot.name),
                      spread_text(*asked.spreads[k], draws, share_asked_text(options.share))));
    }
  }
  return out;
}

std::string closing(const AbsenceOptions& options, const Report& report, bool us) {
  return '\n' +
         paragraph(fmt::format(
             "Until the day of leaving each pot is watered daily at {} until it drains, and once "
             "more on leaving. {}All is for a plant of the usual size, or of the size you gave; "
             "past weather is no promise for the next summer.",
             clock_string(options.leave_h),
             options.start_day ? ""
                               : "A trip begins on each day of these months, so that a hot week "
                                 "counts for several. ")) +
         paragraph(heavy_pots_text(us)) + paragraph(standing_water_text()) + notes_text(report);
}

}  // namespace wiltline::cli
