// wiltline compare: pots, mixes, walls, spots and plants side by side on the same weather.

#include "wiltline/questions/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "choices.hpp"
#include "command.hpp"
#include "planting_options.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr std::string_view usual_routine = "daily 07:00";
constexpr int fewest_summers = 3;  // fewer say little

std::string summers_text(int summers) {
  return fmt::format("{} past summer{}", summers, summers == 1 ? "" : "s");
}

/// True if it wilts only while its roots have not filled the pot yet.
bool only_young(const ComparedChoice& choice) {
  return !choice.enough() && choice.wilting_days_rooted == 0;
}

/// What a choice that wilts while it settles in needs until then; empty for others.
std::string first_weeks_text(const ComparedChoice& choice) {
  if (choice.wilting_days_settling == 0) return "";
  return "; " + first_weeks(choice.settled);
}

/// Why a choice is enough or not. `weather`: also says in which record.
std::string reason_text(const ComparedChoice& choice, bool weather) {
  if (choice.enough()) {
    return fmt::format("stayed above wilting in {} of {}{}", choice.summers_above_wilting,
                       summers_text(choice.summers), first_weeks_text(choice));
  }
  const SeasonSummary& s = choice.worst.summary;
  std::string text = fmt::format("wilts on {} in the worst summer", days_in_words(s.wilting_days));
  if (choice.first_wilting) {
    text += fmt::format(", first on {}", full_date_in_words(*choice.first_wilting));
    const auto age = static_cast<int>((*choice.first_wilting - choice.worst.first).count());
    if (only_young(choice)) text += fmt::format(", {} after planting", days_in_words(age));
  }
  if (weather) text += fmt::format(" ({})", choice.worst_record->name());
  if (s.dry_days > 0) text += fmt::format("; goes dry on {} of them", s.dry_days);
  if (only_young(choice)) text += "; on none once its roots fill the pot";
  if (choice.summers > 1) {
    text += fmt::format("; stayed above wilting in {} of {}", choice.summers_above_wilting,
                        summers_text(choice.summers));
  }
  return text + first_weeks_text(choice);
}

std::vector<Cell> row_of(const ComparedChoice& choice, bool of_garden, bool weather) {
  const Planting& planting = *choice.planting;
  const SeasonSummary& worst = choice.worst.summary;
  return {planting.crop.name,
          static_cast<long>(planting.plants),
          planting.pot.name,
          planting.mix.name,
          planting.pot.wall.name,
          planting.spot.name,
          worst.mix_l,
          worst.available_l,
          choice.peak_use_l_day,
          choice.waterings_week_peak,
          choice.longest_safe_gap_days ? Cell(*choice.longest_safe_gap_days) : Cell(),
          choice.watered_l,
          static_cast<long>(worst.stressed_days),
          static_cast<long>(worst.wilting_days),
          static_cast<long>(worst.dry_days),
          choice.enough() ? "yes" : "no",
          choice.longest_gap_days,
          planting.routine.text,
          static_cast<long>(choice.summers),
          static_cast<long>(choice.summers_above_wilting),
          to_string(choice.worst.first),
          choice.worst_record->name(),
          choice.first_wilting ? Cell(to_string(*choice.first_wilting)) : Cell(),
          static_cast<long>(choice.wilting_days_rooted),
          reason_text(choice, weather),
          of_garden ? Cell(planting.name) : Cell()};
}

/// Under compare_settling_columns().
void add_settling_cells(const ComparedChoice& choice, std::vector<Cell>& row) {
  if (choice.settled) {
    row.emplace_back(to_string(*choice.settled));
  } else {
    row.emplace_back();
  }
  row.emplace_back(static_cast<long>(choice.wilting_days_settling));
}

std::string comparison_text(const std::vector<ComparedChoice>& choices, const Differences& differ,
                            bool us) {
  const std::string litre(unit_text(Quantity::litres, us));
  const auto volume = [us](double value) { return in_units(Quantity::litres, value, us); };
  std::vector<TextTable::Heading> headings = choice_headings(differ);
  for (const TextTable::Heading& heading :
       std::vector<TextTable::Heading>{{"\nmix,\n" + litre},
                                       {"usable\nwater,\n" + litre},
                                       {"busiest\nweek,\n" + litre + " a day"},
                                       {"a week\nat\npeak"},
                                       {"lasts\nat peak,\ndays"},
                                       {"longest\ngap,\ndays"},
                                       {"given\na summer,\n" + litre},
                                       {"days\nstres-\nsed"},
                                       {"days\nwilt-\ning"},
                                       {"\ndays\ndry"},
                                       {"\n\nenough"}}) {
    headings.push_back(heading);
  }
  TextTable table(std::move(headings));
  for (const ComparedChoice& choice : choices) {
    const SeasonSummary& s = choice.worst.summary;
    std::vector<std::string> row = choice_cells(*choice.planting, differ);
    for (std::string& cell : std::vector<std::string>{
             rough(volume(s.mix_l)), rough(volume(s.available_l)),
             rough_range(volume(choice.peak_use_l_day)), rough(choice.waterings_week_peak),
             choice.longest_safe_gap_days ? rough(*choice.longest_safe_gap_days) : "-",
             fmt::format("{:.1f}", choice.longest_gap_days), rough(volume(choice.watered_l)),
             count_or_dash(s.stressed_days), count_or_dash(s.wilting_days),
             count_or_dash(s.dry_days), choice.enough() ? "yes" : "no"}) {
      row.push_back(std::move(cell));
    }
    table.add(std::move(row));
  }
  return table.text();
}

/// The least mix among those of a planting for which `belongs` is true.
template <typename Belongs>
const ComparedChoice* smallest(const std::vector<ComparedChoice>& choices, std::string_view name,
                               const Belongs& belongs) {
  const ComparedChoice* found = nullptr;
  for (const ComparedChoice& choice : choices) {
    if (choice.planting->name != name || !belongs(choice)) continue;
    if (found == nullptr || choice.worst.summary.mix_l < found->worst.summary.mix_l) {
      found = &choice;
    }
  }
  return found;
}

std::string smallest_text(const std::vector<ComparedChoice>& choices, const Planting& planting,
                          const Differences& differ, bool us) {
  const std::string routine = printable(planting.routine.text);
  const auto named = [&](const ComparedChoice& choice) {
    return fmt::format("{}, {} {} of mix", choice_text(*choice.planting, differ),
                       rough(in_units(Quantity::litres, choice.worst.summary.mix_l, us)),
                       unit_text(Quantity::litres, us));
  };
  const auto* const enough = smallest(choices, planting.name,
                                      [](const ComparedChoice& choice) { return choice.enough(); });
  std::string text =
      enough == nullptr
          ? fmt::format("{}None is enough with {}.",
                        differ.name ? printable(planting.name) + ": " : "", routine)
          : fmt::format(
                "Smallest that is enough with {}: {}. In {} of {} it stayed above wilting, "
                "if the plant is the size given.",
                routine, named(*enough), enough->summers_above_wilting,
                summers_text(enough->summers));
  if (enough != nullptr && enough->wilting_days_settling > 0) {
    text += fmt::format(" It counts from when roots hold half the mix: {}.",
                        first_weeks(enough->settled));
  }
  const auto* const later = smallest(choices, planting.name, only_young);
  if (later != nullptr &&
      (enough == nullptr || later->worst.summary.mix_l < enough->worst.summary.mix_l)) {
    text += fmt::format(
        " Smallest that wilts only while its roots are still small, so that it needs more care in "
        "its first weeks: {}.",
        named(*later));
  }
  return text;
}

std::string table_text(const std::vector<ComparedChoice>& choices, const Differences& differ,
                       const Report& report, bool weather, bool us) {
  const Planting& first = *choices.front().planting;
  std::string out = common_text(first, differ, true);
  if (!out.empty()) out += '\n';
  if (!differ.name) {
    out += fmt::format("watered {}, {}\n", printable(first.routine.text),
                       summers_text(choices.front().summers));
  }
  out += (out.empty() ? "" : "\n") + comparison_text(choices, differ, us) + '\n';
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };

  std::set<std::string> told;
  const bool tried_others = choices.size() > 1;
  for (const ComparedChoice& choice : choices) {
    const std::string& name = choice.planting->name;
    const auto rows = std::count_if(choices.begin(), choices.end(), [&](const auto& other) {
      return other.planting->name == name;
    });
    if (!tried_others || (differ.name && rows == 1) || !told.insert(name).second) continue;
    say(smallest_text(choices, *choice.planting, differ, us));
  }

  constexpr std::size_t most_reasons = 12;
  const auto failed = static_cast<std::size_t>(std::count_if(
      choices.begin(), choices.end(), [](const auto& choice) { return !choice.enough(); }));
  if (failed > 0) {
    out += "Not enough:\n";
    std::size_t shown = 0;
    for (const ComparedChoice& choice : choices) {
      if (choice.enough()) continue;
      if (shown++ == most_reasons) break;
      const std::string routine =
          differ.name ? fmt::format(", {}", printable(choice.planting->routine.text)) : "";
      out += "  " +
             wrapped(fmt::format("{}{}: {}.", choice_text(*choice.planting, differ), routine,
                                 printable(reason_text(choice, weather))),
                     100, 4, 2) +
             '\n';
    }
    if (failed > most_reasons) {
      out += fmt::format("  … and {} more (--format csv has all)\n", failed - most_reasons);
    }
  }
  out += '\n';
  say("Enough: with this routine no wilting day in any of the summers once roots hold half the "
      "mix, "
      "if the plant is the size given. Wilting: leaves droop by day and usually recover. Stressed: "
      "growth slows. Dry: "
      "expect damage. Days are those of the worst summer, amounts those of one pot.");
  say("Lasts at peak: from watered until it drains to wilting, in the worst of the four busiest "
      "weeks, without rain; - is not before the season ends. Longest gap: between refills, as "
      "seen. A bigger pot grows a bigger plant, which drinks more. Use in the busiest week is a "
      "range because plant size, shelter and mix vary; a past summer is no promise for the next.");
  for (const std::string& note : report.notes) say(printable(note));
  say(caution_text("you water"));
  return out;
}

void set_routine(const Arguments& arguments, ChosenPlantings& chosen) {
  const auto text = arguments.text("routine");
  if (!text && chosen.of_garden) return;
  const RoutineOrProblem routine = parse_routine(text.value_or(std::string(usual_routine)));
  if (!routine.found.empty()) {
    throw RequestError(
        fmt::format("--routine: found {}; expected {}", routine.found, routine.expected));
  }
  for (Planting& planting : chosen.plantings) planting.routine = routine.routine;
}

void add_compare_notes(const std::vector<ComparedChoice>& choices, Report& report) {
  std::set<std::string> cut;
  int fewest = choices.front().summers;
  for (const ComparedChoice& choice : choices) {
    fewest = std::min(fewest, choice.summers);
    if (choice.summers_cut_by_record > 0) {
      cut.insert(fmt::format("{} ({} of {})", choice.planting->name, choice.summers_cut_by_record,
                             summers_text(choice.summers)));
    }
  }
  if (!cut.empty()) {
    report.notes.push_back(
        fmt::format("the weather ends before the crop does: {}", fmt::join(cut, ", ")));
  }
  if (fewest < fewest_summers) {
    report.notes.push_back(
        fmt::format("caution: {} summer{} only; a longer record may hold worse ones", fewest,
                    fewest == 1 ? "" : "s"));
  }
}

void run_compare(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const SeasonOptions options{.growth = growth_clock(arguments),
                              .threads = thread_count(arguments)};
  const std::optional<DrawOptions> draws = draw_options(arguments);
  Output output(arguments.text("output").value_or("-"));
  Report report("compare", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const std::vector<WeatherRecord> records = load_weather(arguments, true);
  std::vector<PreparedWeather> weathers = prepared(records, missing);
  ChosenPlantings chosen = chosen_plantings(arguments, catalogue, weathers, true);
  set_routine(arguments, chosen);

  const std::vector<ComparedChoice> choices =
      compare(chosen.plantings, weathers, catalogue.parameters, options);
  const auto spreads = draws
                           ? choice_spreads(chosen.plantings, weathers, catalogue, options, *draws)
                           : std::vector<std::optional<ChoiceSpread>>{};
  const auto spread_of_choice = [&](const ComparedChoice& choice) -> const auto& {
    return spreads[static_cast<std::size_t>(choice.planting - chosen.plantings.data())];
  };
  const Differences differ = differences(chosen.plantings, chosen.of_garden);
  add_weather_notes(weathers, report);
  add_compare_notes(choices, report);
  report.add_columns(compare_columns());
  report.add_columns(compare_more_columns());
  if (draws) report.add_columns(choice_spread_columns());
  report.add_columns(compare_settling_columns());
  const bool weather = records.size() > 1;
  for (const ComparedChoice& choice : choices) {
    report.rows.push_back(row_of(choice, chosen.of_garden, weather));
    std::vector<Cell>& row = report.rows.back();
    if (draws) add_cells(spread_of_choice(choice), row);
    add_settling_cells(choice, row);
  }
  deliver(report, how, output, [&] {
    std::string out = table_text(choices, differ, report, weather, how.us_units);
    if (!draws) return out;
    out += '\n' + wrapped(draws_text(*draws), 100, 2) + '\n';
    for (const ComparedChoice& choice : choices) {
      const std::string spread = spread_text(*spread_of_choice(choice), *draws, how.us_units);
      out +=
          wrapped(fmt::format("{}: {}.", choice_text(*choice.planting, differ), spread), 100, 2) +
          '\n';
    }
    return out;
  });
}

}  // namespace

Command compare_command() {
  Command command;
  command.name = "compare";
  command.purpose = "one crop in several pots, mixes, walls, spots: which is enough";
  command.usage = "(--crop NAME | --garden FILE) --weather FILE [options]";
  command.explanation =
      "Runs a crop, or each planting of a garden, in every combination of the pots, mixes, walls, "
      "spots and numbers of plants listed, in every year of the weather, and puts them side by "
      "side. Lists that are not given leave a garden's rows as they are; with a garden and no list "
      "its rows are compared with each other. A listed pot stands as wiltline list pots has it.\n"
      "\n"
      "A choice is enough if the routine leaves no wilting day in any of the summers once roots "
      "hold "
      "half of the mix; the first weeks until then are counted apart. Those that "
      "are enough come first, then the fewest dry, wilting and stressed days, then the least "
      "mix.\n"
      "\n"
      "How long a pot lasts at its peak is the time from watered until it drains to wilting, "
      "without rain, in the worst of the four busiest weeks. Set it beside the longest gap "
      "seen.\n"
      "\n"
      "--routine is the watering you can keep (wiltline season --help lists how to write it); "
      "daily 07:00 if nothing is said, a garden's own if it has one.";
  command.examples = {
      {"a tomato in three pots, watered every morning",
       "wiltline compare --crop tomato --pots \"nursery 11 l,nursery 21 l,fabric 36 l\" --weather "
       "weather-samples/tolvenau.csv"},
      {"the same in two mixes and at two spots, watered every second day",
       "wiltline compare --crop tomato --pots \"nursery 21 l,nursery 37 l\" --mixes \"potting "
       "mix,coir mix\" --spots \"patio,morning sun\" --routine \"every 2 days 07:00\" --weather "
       "weather-samples/tolvenau.csv"},
      {"one plant or two, in plastic or clay",
       "wiltline compare --crop pepper --pots \"nursery 21 l\" --plants 1,2 --walls plastic,clay "
       "--planted 05-20 --weather weather-samples/tolvenau.csv"},
      {"the plantings of a garden with each other",
       "wiltline compare --garden models/gardens/courtyard.csv --weather "
       "weather-samples/tolvenau.csv"}};
  command.columns = {{"Columns of CSV and JSON", compare_columns()},
                     {"Appended", compare_more_columns()},
                     {"Appended by --uncertain", choice_spread_columns()},
                     {"Appended last", compare_settling_columns()}};
  po::options_description own("Comparison");
  own.add_options()("routine", text_value("ROUTINE"),
                    "the watering to judge by; else daily 07:00, or each garden row's own")(
      "growth", text_value("BY"), "days (default) or degree-days");
  add_threads_option(own);
  command.option_groups.push_back(choice_options());
  command.option_groups.push_back(own);
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(uncertain_options());
  command.option_groups.push_back(output_options());
  command.run = run_compare;
  return command;
}

}  // namespace wiltline::cli
