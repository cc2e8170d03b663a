// wiltline compare: pots, mixes, walls, spots and plants side by side on the same weather.

#include "wiltline/questions/compare.hpp"

#include <fmt/format.h>

#include "choices.hpp"
#include "command.hpp"
#include "compare_answer.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "notes.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "weather_options.hpp"
#include "what_matters.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr std::string_view usual_routine = "daily 07:00";

void set_routine(const Arguments& arguments, ChosenPlantings& chosen) {
  const auto text = arguments.text("routine");
  if (!text && chosen.of_garden) return;
  const Routine routine =
      accepted("routine", parse_routine(text.value_or(std::string(usual_routine))));
  for (Planting& planting : chosen.plantings) planting.routine = routine;
}

void add_compare_notes(const std::vector<ComparedChoice>& choices, Report& report) {
  std::vector<SummersOf> all;
  for (const ComparedChoice& choice : choices) all.push_back({choice.planting->name, &choice});
  add_summers_notes(all, report);
}

void run_compare(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const SeasonOptions options{.growth = growth_clock(arguments),
                              .threads = thread_count(arguments)};
  const std::optional<DrawOptions> draws = draw_options(arguments);
  const auto matters = matters_options(arguments);
  Output output = open_output(arguments);
  Report report("compare", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const std::vector<WeatherRecord> records = load_weather(arguments, true);
  const std::vector<Place> places = places_of(records, catalogue.parameters, missing);
  ChosenPlantings chosen = chosen_plantings(arguments, catalogue, places, true, report.notes);
  set_routine(arguments, chosen);

  if (matters) {
    const MattersResult result =
        season_what_matters(chosen.plantings, places, catalogue, options, *matters);
    const Differences differ = differences(chosen.plantings, chosen.of_garden);
    add_weather_notes(places, report);
    add_holes_note(chosen.plantings, report);
    report.caution = caution_text("you water");
    return deliver_what_matters(
        result, *matters, [&](const Planting& one) { return choice_text(one, differ); }, report,
        how, output);
  }
  const std::vector<ComparedChoice> choices = compare(chosen.plantings, places, options);
  const auto spreads = draws ? choice_spreads(chosen.plantings, places, catalogue, options, *draws)
                             : std::vector<std::optional<ChoiceSpread>>{};
  const auto spread_of_choice = [&](const ComparedChoice& choice) -> const ChoiceSpread* {
    if (!draws) return nullptr;
    const auto& spread =
        spreads[static_cast<std::size_t>(choice.planting - chosen.plantings.data())];
    return spread ? &*spread : nullptr;
  };
  const Differences differ = differences(chosen.plantings, chosen.of_garden);
  if (chosen.of_garden) {
    add_without_effect(chosen.plantings, places, options.growth, report);
  }
  add_weather_notes(places, report);
  add_compare_notes(choices, report);
  add_holes_note(chosen.plantings, report);
  add_shade_note(chosen.plantings, report);
  report.caution = caution_text("you water");
  const bool weather = records.size() > 1;
  std::vector<CompareRow> rows;
  for (const ComparedChoice& choice : choices) {
    rows.push_back({&choice, chosen.of_garden, weather, spread_of_choice(choice)});
  }
  report.fill(compare_table(draws.has_value()), rows);
  if (how.page) add_compare_picture(choices, differ, report);
  deliver(report, how, output, [&] {
    std::string out = compare_text(choices, differ, report, weather, how.us_units);
    if (!draws) return out;
    out += '\n' + paragraph(draws_text(*draws));
    for (const CompareRow& row : rows) {
      out += paragraph(fmt::format("{}: {}.", choice_text(row.planting(), differ),
                                   spread_text(*row.spread, *draws, how.us_units)));
    }
    return out;
  });
}

}  // namespace

Command compare_command() {
  return described("compare", run_compare, sections_of(compare_table(true), matters_table()));
}

}  // namespace wiltline::cli
