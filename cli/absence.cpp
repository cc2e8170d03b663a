// wiltline absence: the smallest pot that carries a crop through days away.

#include "wiltline/questions/absence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "absence_options.hpp"
#include "command.hpp"
#include "planting_options.hpp"
#include "remedies.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int fewest_summers = 3;  // fewer say little of a share

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

/// `2 days`, `2 days 2 hours`, `9 hours`.
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

/// A question asked: a planting, the pots it was tried in and what came of it.
struct Asked {
  const Planting* own = nullptr;     // of a garden, with its own pot; else null
  std::vector<Planting> candidates;  // the own pot first, if there is one
  AbsenceResult result;
  std::vector<std::size_t> shown{};       // places of the pots that get a row
  std::vector<AbsenceSpread> spreads{};   // of those, with --uncertain
  std::vector<AbsenceRemedy> remedies{};  // of a garden's planting that passed too few windows

  [[nodiscard]] const AbsencePot* smallest() const {
    return result.smallest ? &result.pots[*result.smallest] : nullptr;
  }
  [[nodiscard]] int windows() const { return result.pots.front().windows; }
};

std::vector<Cell> row_of(const Asked& asked, std::size_t index) {
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
          static_cast<long>(asked.result.summers),
          pot.failed.empty() ? Cell() : Cell(to_string(pot.failed.front()))};
}

void add_rows(const Asked& asked, Report& report) {
  for (std::size_t k = 0; k < asked.shown.size(); ++k) {
    report.rows.push_back(row_of(asked, asked.shown[k]));
    if (!asked.spreads.empty()) add_cells(asked.spreads[k], report.rows.back());
  }
}

/// Asks again, for draws, about the pots that get a row.
void add_spreads(Asked& asked, const std::vector<PreparedWeather>& weathers,
                 const Catalogue& catalogue, const AbsenceOptions& options,
                 const DrawOptions& draws) {
  std::vector<Planting> shown;
  for (const std::size_t i : asked.shown) shown.push_back(asked.candidates[i]);
  asked.spreads = absence_spreads(shown, weathers, catalogue, options, draws);
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

void say_answer(const Asked& asked, const AbsenceOptions& options, bool us,
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

std::string one_crop_text(const Asked& asked, const AbsenceOptions& options, bool us) {
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

std::string garden_text(const std::vector<Asked>& all, const AbsenceOptions& options, bool us) {
  std::string out = heading(options) + "\n\n";
  TextTable table({{"\nplanting", true},
                   {"\npot", true},
                   {fmt::format("\nmix, {}", unit_text(Quantity::litres, us))},
                   {"windows\npassed"},
                   {"\nshare"},
                   {"smallest\nthat would do", true},
                   {fmt::format("\nmix, {}", unit_text(Quantity::litres, us))},
                   {"windows\npassed"}});
  for (const Asked& asked : all) {
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
  for (const Asked& asked : all) {
    const AbsencePot* const best = asked.smallest();
    if (best != nullptr && is_small(*best)) small.push_back(printable(asked.own->name));
  }
  if (!small.empty()) {
    say(fmt::format("Less mix than bulletins accept at least for the crop, the smallest for: {}.",
                    fmt::join(small, ", ")));
  }
  bool others = false;
  for (const Asked& asked : all) {
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
  for (const Asked& asked : all) {
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

/// The own pots of a garden; else the smallest pot that would do, or all if there is none.
std::string spreads_text(const std::vector<Asked>& all, const AbsenceOptions& options,
                         const DrawOptions& draws) {
  std::string out = '\n' + wrapped(draws_text(draws), 100, 2) + '\n';
  for (const Asked& asked : all) {
    for (std::size_t k = 0; k < asked.shown.size(); ++k) {
      const std::size_t place = asked.shown[k];
      const bool own = asked.own != nullptr;
      if (own ? place != 0 : asked.result.smallest && asked.result.smallest != place) continue;
      const Planting& planting = asked.candidates[place];
      out += wrapped(
                 fmt::format("  {}: {}.", printable(own ? planting.name : planting.pot.name),
                             spread_text(asked.spreads[k], draws, share_asked_text(options.share))),
                 100, 4) +
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
  say("These are estimates: check the mix by hand before you leave, and follow local water rules.");
  return out;
}

/// One planting's candidates, run. `own`: of a garden.
Asked ask(const Planting& planting, bool own, const std::vector<Pot>& pots,
          std::vector<PreparedWeather>& weathers, const ModelParameters& model,
          const AbsenceOptions& options) {
  Asked asked;
  if (own) {
    asked.own = &planting;
    asked.candidates.push_back(planting);
  }
  for (Planting& candidate : in_pots(planting, pots, model)) {
    // The own pot once.
    const bool same = own && candidate.pot.name == planting.pot.name &&
                      candidate.pot.mix_l() == planting.pot.mix_l() &&
                      candidate.pot.wall.name == planting.pot.wall.name;
    if (!same) asked.candidates.push_back(std::move(candidate));
  }
  if (asked.candidates.empty()) {
    throw RequestError(
        fmt::format("--mix: found {}, which holds no water that plants can use in any of the pots; "
                    "expected a mix that holds water",
                    in_quotes(planting.mix.name)));
  }
  asked.result = absence(asked.candidates, weathers, model, options);
  for (std::size_t i = 0; i < asked.result.pots.size(); ++i) {
    // Of a garden's planting: its own pot and the smallest that passes.
    if (!own || i == 0 || asked.result.smallest == i) asked.shown.push_back(i);
  }
  return asked;
}

/// An absence longer than every record.
void check_length(const std::vector<WeatherRecord>& records, const Arguments& arguments,
                  const AbsenceOptions& options) {
  const auto longest =
      std::max_element(records.begin(), records.end(),
                       [](const auto& a, const auto& b) { return a.size() < b.size(); });
  if (options.leave_h + options.away_h <= 24.0 * static_cast<double>(longest->size())) return;
  throw RequestError(
      fmt::format("--days: found {}, longer than the record, {} days of {}; expected "
                  "an absence that fits in",
                  in_quotes(*arguments.text("days")), longest->size(), longest->name()));
}

/// No window at all: the months hold no day of the planting, or the absence is too long for it.
[[noreturn]] void refuse(const Asked& asked, std::vector<PreparedWeather>& weathers,
                         const ModelParameters& model, const AbsenceOptions& options) {
  const Planting& planting = asked.candidates.front();
  const WeatherRecord& record = weathers.front().record();
  const std::string weather =
      fmt::format("the weather, {} to {}", to_string(record.first()), to_string(record.last()));
  const std::string life =
      fmt::format("{}, planted {}", in_quotes(planting.name), planted_text(planting.planted));
  AbsenceOptions shortest = options;
  shortest.leave_h = 0.0;
  shortest.away_h = 1.0;
  const std::span one(&planting, 1);
  if (absence(one, weathers, model, shortest).pots.front().windows == 0) {
    throw RequestError(
        fmt::format("--months: found {}, none of whose days lie both in {}, and in the life of {}; "
                    "expected months that hold some",
                    months_text(options), weather, life));
  }
  throw RequestError(fmt::format(
      "--days: found {}, which from no day of {} end within both {}, and the life of {}; "
      "expected a shorter absence",
      away_text(options.away_h), months_text(options), weather, life));
}

void refuse_without_windows(const std::vector<Asked>& all, std::vector<PreparedWeather>& weathers,
                            const ModelParameters& model, const AbsenceOptions& options,
                            Report& report) {
  std::vector<std::string> without;
  for (const Asked& asked : all) {
    if (asked.windows() == 0) without.push_back(asked.candidates.front().name);
  }
  if (without.size() == all.size()) refuse(all.front(), weathers, model, options);
  if (!without.empty()) {
    report.notes.push_back(
        fmt::format("no window in these months while it grows: {}", fmt::join(without, ", ")));
  }
}

void add_summers_note(const std::vector<Asked>& all, Report& report) {
  int fewest = all.front().result.summers;
  for (const Asked& asked : all) {
    if (asked.windows() > 0) fewest = std::min(fewest, asked.result.summers);
  }
  if (fewest == 0 || fewest >= fewest_summers) return;
  report.notes.push_back(
      fmt::format("caution: {} summer{} only; a share needs more summers to mean much", fewest,
                  fewest == 1 ? "" : "s"));
}

void run_absence(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const AbsenceOptions options = absence_options(arguments);
  const std::optional<DrawOptions> draws = draw_options(arguments);
  for (const char* option : {"crop", "mix", "spot", "plants", "planted"}) {
    refuse_together(arguments, "garden", option);
  }
  Output output(arguments.text("output").value_or("-"));
  Report report("absence", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const ModelParameters& model = catalogue.parameters;
  const std::vector<Pot> pots = pots_from_options(arguments, catalogue);
  const std::vector<WeatherRecord> records = load_weather(arguments, options.rain_counts);
  const bool of_garden = arguments.flag("garden");
  Garden garden;
  if (of_garden) {
    garden = load_garden(arguments, catalogue);
  } else {
    const bool south = records.front().site().latitude_deg < 0.0;
    garden.plantings.push_back(planting_from_options(arguments, catalogue, south));
  }
  check_length(records, arguments, options);
  std::vector<PreparedWeather> weathers;
  for (const WeatherRecord& record : records) weathers.emplace_back(record, missing);
  if (of_garden) {
    check_planting_days(garden, weathers);
  } else {
    check_planted(garden.plantings.front(), weathers);
  }

  std::vector<Asked> all;
  for (const Planting& planting : garden.plantings) {
    all.push_back(ask(planting, of_garden, pots, weathers, model, options));
    if (of_garden && how.format == Format::table) {
      all.back().remedies = absence_remedies(planting, weathers, model, catalogue, options,
                                             {.growth = options.growth});
    }
  }
  refuse_without_windows(all, weathers, model, options, report);
  if (draws) {
    for (Asked& asked : all) add_spreads(asked, weathers, catalogue, options, *draws);
  }
  add_summers_note(all, report);
  add_weather_notes(weathers, report);
  report.add_columns(absence_columns());
  report.add_columns(absence_more_columns());
  if (draws) report.add_columns(absence_spread_columns());
  for (const Asked& asked : all) add_rows(asked, report);
  deliver(report, how, output, [&] {
    return (of_garden ? garden_text(all, options, how.us_units)
                      : one_crop_text(all.front(), options, how.us_units)) +
           (draws ? spreads_text(all, options, *draws) : "") + closing(options, report);
  });
}

}  // namespace

Command absence_command() {
  Command command;
  command.name = "absence";
  command.purpose = "the smallest pot that carries a crop through days away";
  command.usage = "(--crop NAME | --garden FILE) --weather FILE --days N [options]";
  command.explanation =
      "Runs every pot through every past window of such an absence: leaving at the same hour on "
      "each "
      "day of the months asked, in every year of the weather. Before leaving, the pot has been "
      "watered daily at that hour until it drains, and once more on leaving; then nobody comes. A "
      "window is passed if the pot never went beyond the line in between. No pot is left out "
      "because "
      "a smaller one did well: a bigger pot grows a bigger plant.\n"
      "\n"
      "The smallest pot is that of least mix whose share of windows passed is at least --share. "
      "Windows that run beyond the weather or the planting's life are not counted.\n"
      "\n"
      "With --garden each planting is asked for its own pot, and for the smallest that would do; "
      "its "
      "routine does not matter here.\n"
      "\n"
      "Lines:\n"
      "  stressed   growth slows\n"
      "  wilting    leaves droop by day and usually recover\n"
      "  dry        roots cannot draw enough, expect damage\n"
      "\n"
      "--days is a number of days, 2 or 2.5, or a time, 2d2h or 50h: leaving on Friday at 18:00 "
      "and "
      "back on Sunday at 20:00 is --days 2d2h --leave 18:00.";
  command.examples = {
      {"a weekend away from a tomato, in nursery pots",
       "wiltline absence --crop tomato --kind nursery --days 2 --weather "
       "weather-samples/tolvenau.csv"},
      {"from Friday 18:00 to Sunday 20:00 in July, if it does not rain",
       "wiltline absence --crop pepper --mix \"coir mix\" --spot \"morning sun\" --days 2d2h "
       "--leave "
       "18:00 --months jul --no-rain --weather weather-samples/tolvenau.csv"},
      {"three days away from a whole garden, short of damage",
       "wiltline absence --garden models/gardens/courtyard.csv --days 3 --line dry --weather "
       "weather-samples/tolvenau.csv"}};
  command.columns = {{"Columns of CSV and JSON", absence_columns()},
                     {"Appended", absence_more_columns()},
                     {"Appended by --uncertain", absence_spread_columns()}};
  po::options_description own("Absence");
  own.add_options()("days", text_value("N"), "how long nobody comes: 2, 2.5, 2d2h or 50h")(
      "leave", text_value("HH:MM"), "hour of leaving; else 18:00")(
      "months", text_value("MONTHS"), "months to leave in, such as jun-aug (default), 12-2 or jul")(
      "line", text_value("LINE"), "not to be crossed: stressed, wilting (default) or dry")(
      "no-rain", "as if no rain fell")("share", text_value("SHARE"),
                                       "of windows to be passed; else 0.95")(
      "growth", text_value("BY"), "days (default) or degree-days");
  command.option_groups.push_back(own);
  command.option_groups.push_back(planting_options());
  command.option_groups.push_back(pot_options());
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(uncertain_options());
  command.option_groups.push_back(output_options());
  command.run = run_absence;
  return command;
}

}  // namespace wiltline::cli
