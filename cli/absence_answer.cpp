#include "absence_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "absence_options.hpp"
#include "remedies.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/base/numbers.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// How a pot that passed is spoken of.
std::string_view passed_words(Line line) {
  switch (line) {
    case Line::stressed:
      return "stayed unstressed";
    case Line::dry:
      return "stayed above dry";
    default:
      return "stayed above wilting";
  }
}

std::vector<Cell> row_of(const AbsenceAnswer& asked, std::size_t index) {
  const AbsencePot& pot = asked.result.pots[index];
  const Planting& planting = *pot.planting;
  const bool own = asked.own != nullptr && index == 0;
  return {planting.crop.name,
          planting.pot.name,
          pot.mix_l,
          static_cast<long>(pot.windows),
          static_cast<long>(pot.passed),
          pot.windows > 0 ? Cell(pot.share()) : Cell(),
          asked.result.smallest == index ? Cell("yes") : Cell(),
          asked.own != nullptr ? Cell(planting.name) : Cell(),
          own ? Cell("yes") : Cell(),
          planting.mix.name,
          static_cast<long>(planting.plants),
          planting.spot.name,
          static_cast<long>(asked.result.lives.size()),
          pot.failed.empty() ? Cell() : Cell(to_string(pot.failed.front()))};
}

std::string count_text(const AbsencePot& pot) {
  return fmt::format("{} of {}", pot.passed, pot.windows);
}

std::string share_text(const AbsencePot& pot) {
  // Rounded down: 100 % means all.
  return pot.windows == 0 ? "-" : fmt::format("{:.0f} %", std::floor(100.0 * pot.share() + 1e-9));
}

std::string mix_text(double litres, bool us) {
  return fmt::format("{} {}", rough(in_units(Quantity::litres, litres, us)),
                     unit_text(Quantity::litres, us));
}

std::string heading(const AbsenceOptions& options) {
  return fmt::format(
      "Away {}, leaving at {} and back at {}{}; leaving on every day of {}{}.",
      away_text(options.away_h), clock_string(options.leave_h), clock_string(options.return_h()),
      options.days_to_return() == 0   ? " the same day"
      : options.days_to_return() == 1 ? " the next day"
                                      : fmt::format(" {} days later", options.days_to_return()),
      months_text(options), options.rain_counts ? "" : ", without rain");
}

std::string share_asked_text(double share) {
  return fmt::format("{} %", shortest(std::round(share * 1e4) / 100.0));
}

/// The pots of a table, by mix: all, or those around the one that answers.
std::vector<std::size_t> shown_pots(const AbsenceResult& result) {
  constexpr std::size_t few = 24;
  constexpr std::size_t around = 8;
  std::vector<std::size_t> order(result.pots.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return result.pots[a].mix_l < result.pots[b].mix_l;
  });
  if (order.size() <= few) return order;
  const auto middle =
      result.smallest ? std::find(order.begin(), order.end(), *result.smallest) : order.end() - 1;
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
  return fmt::format("{} is less mix than the {} that bulletins accept at least for {}.",
                     mix_text(pot.mix_l, us), mix_text(planting.crop.min_l, us),
                     printable(planting.crop.name));
}

void say_answer(const AbsenceAnswer& asked, const AbsenceOptions& options, bool us,
                const std::function<void(const std::string&)>& say) {
  if (const AbsencePot* const best = asked.smallest()) {
    say(fmt::format("The smallest of them: {}, {} of mix.", printable(best->planting->pot.name),
                    mix_text(best->mix_l, us)));
    say(fmt::format("In {} past windows this pot {}, if the plant is the size given.",
                    count_text(*best), passed_words(options.line)));
    if (is_small(*best)) say(size_caution(*best, us));
    return;
  }
  const auto& pots = asked.result.pots;
  const auto best = std::max_element(
      pots.begin(), pots.end(), [](const auto& a, const auto& b) { return a.passed < b.passed; });
  say(fmt::format("None of these pots {} in {} of the windows. The best, {}, did in {}.",
                  passed_words(options.line), share_asked_text(options.share),
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

void add_rows(const AbsenceAnswer& asked, Report& report) {
  for (std::size_t k = 0; k < asked.shown.size(); ++k) {
    report.rows.push_back(row_of(asked, asked.shown[k]));
    if (!asked.spreads.empty()) add_cells(asked.spreads[k], report.rows.back());
  }
}

std::string one_crop_text(const AbsenceAnswer& asked, const AbsenceOptions& options, bool us) {
  const Planting& planting = asked.candidates.front();
  std::string out = heading(options) + '\n';
  out += fmt::format("{}, {} plant{} a pot, {}, {}, planted {}\n\n", printable(planting.crop.name),
                     planting.plants, planting.plants == 1 ? "" : "s", printable(planting.mix.name),
                     printable(planting.spot.name), planted_text(planting.planted));
  TextTable table({{"pot", true},
                   {fmt::format("mix, {}", unit_text(Quantity::litres, us))},
                   {"windows passed"},
                   {"share"},
                   {"", true}});
  const std::vector<std::size_t> shown = shown_pots(asked.result);
  for (const std::size_t i : shown) {
    const AbsencePot& pot = asked.result.pots[i];
    table.add({printable(pot.planting->pot.name), rough(in_units(Quantity::litres, pot.mix_l, us)),
               count_text(pot), share_text(pot), asked.result.smallest == i ? "smallest" : ""});
  }
  out += table.text();
  if (shown.size() < asked.result.pots.size()) {
    out += fmt::format("({} of {} pots; --format csv has all)\n", shown.size(),
                       asked.result.pots.size());
  }
  out += '\n';
  say_answer(asked, options, us,
             [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; });
  return out;
}

std::string garden_text(const std::vector<AbsenceAnswer>& all, const AbsenceOptions& options,
                        bool us) {
  std::string out = heading(options) + "\n\n";
  TextTable table({{"\nplanting", true},
                   {"\npot", true},
                   {fmt::format("\nmix, {}", unit_text(Quantity::litres, us))},
                   {"windows\npassed"},
                   {"\nshare"},
                   {"smallest\nthat would do", true},
                   {fmt::format("\nmix, {}", unit_text(Quantity::litres, us))},
                   {"windows\npassed"}});
  for (const AbsenceAnswer& asked : all) {
    const AbsencePot& own = asked.result.pots.front();
    const AbsencePot* const best = asked.smallest();
    const auto litres = [us](double value) { return rough(in_units(Quantity::litres, value, us)); };
    table.add({printable(asked.own->name), printable(own.planting->pot.name), litres(own.mix_l),
               own.windows > 0 ? count_text(own) : "-", share_text(own),
               best == nullptr ? "none"
               : best == &own  ? "this one"
                               : printable(best->planting->pot.name),
               best == nullptr ? "-" : litres(best->mix_l),
               best == nullptr ? "-" : count_text(*best)});
  }
  out += table.text() + '\n';
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };
  std::vector<std::string> small;
  for (const AbsenceAnswer& asked : all) {
    const AbsencePot* const best = asked.smallest();
    if (best != nullptr && is_small(*best)) small.push_back(printable(asked.own->name));
  }
  if (!small.empty()) {
    say(fmt::format("Less mix than bulletins accept at least for the crop, the smallest for: {}.",
                    fmt::join(small, ", ")));
  }
  bool others = false;
  for (const AbsenceAnswer& asked : all) {
    const AbsencePot& own = asked.result.pots.front();
    if (own.windows == 0) continue;
    if (passes(own, options.share)) {
      others = true;
      continue;
    }
    say(fmt::format("{}: in {} past windows this pot {}, if the plant is the size given.",
                    printable(asked.own->name), count_text(own), passed_words(options.line)));
  }
  if (others) {
    say(
        fmt::format("Pots with at least {} of past windows passed {} in those, if the plants are "
                    "the size given.",
                    share_asked_text(options.share), passed_words(options.line)));
  }
  bool any = false;
  for (const AbsenceAnswer& asked : all) {
    const AbsencePot& own = asked.result.pots.front();
    if (own.windows == 0 || passes(own, options.share)) continue;
    if (!any) {
      out += "\nSingle changes, each run again over the same windows, the smallest first:\n";
    }
    any = true;
    say_remedies(printable(asked.own->name), asked.remedies, say);
  }
  return out;
}

std::string spreads_text(const std::vector<AbsenceAnswer>& all, const AbsenceOptions& options,
                         const DrawOptions& draws) {
  std::string out = '\n' + wrapped(draws_text(draws), 100, 2) + '\n';
  for (const AbsenceAnswer& asked : all) {
    for (std::size_t k = 0; k < asked.shown.size(); ++k) {
      const std::size_t place = asked.shown[k];
      const bool own = asked.own != nullptr;
      if (own ? place != 0 : asked.result.smallest && asked.result.smallest != place) continue;
      const Planting& planting = asked.candidates[place];
      out += wrapped(
                 fmt::format("{}: {}.", printable(own ? planting.name : planting.pot.name),
                             spread_text(asked.spreads[k], draws, share_asked_text(options.share))),
                 100, 2) +
             '\n';
    }
  }
  return out;
}

std::string closing(const AbsenceOptions& options, const Report& report) {
  std::string out = "\n";
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };
  say(fmt::format(
      "Until the day of leaving each pot is watered daily at {}, until it drains, and so once more "
      "on leaving. Windows overlap: one begins on each day, so that a hot week counts for several. "
      "A share of past weather is no promise for the next summer.",
      clock_string(options.leave_h)));
  for (const std::string& note : report.notes) say(printable(note));
  say(caution_text("you leave"));
  return out;
}

}  // namespace wiltline::cli
