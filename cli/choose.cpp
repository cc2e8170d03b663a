// wiltline choose: the pot chart of a place, before anything is bought.

#include "wiltline/questions/choose.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "choose_answer.hpp"
#include "command.hpp"
#include "compare_answer.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "notes.hpp"
#include "planting_options.hpp"
#include "progress.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "weather_options.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/questions/planting_times.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// The crops that most beginners grow in pots (judged).
constexpr std::string_view common_crops =
    "tomato, tomato dwarf, pepper, cucumber, summer squash, bush bean, leaf lettuce, kale, chard, "
    "carrot, strawberry, basil";
constexpr std::string_view usual_routines =
    "mon thu 07:00,every 2 days 07:00,daily 07:00,daily 07:00 19:00";
constexpr std::string_view usual_kind = "nursery";

/// What is asked of every place.
struct ChartRequest {
  std::vector<Crop> crops;
  std::vector<std::optional<int>> plants;
  std::vector<PlantingDay> planted;  // none: as the climate allows
  std::vector<Routine> routines;
  std::vector<Pot> pots;
  Mix mix;
  Spot spot;
  double share = 0.95;
};

ChartRequest chart_request(const Arguments& arguments, const Catalogue& catalogue) {
  ChartRequest request{
      .crops = values_of("crops", "crop", arguments.text("crops", common_crops), catalogue.crops),
      .plants = {std::nullopt},
      .planted = {},
      .routines = {},
      .pots = pots_from_options(arguments, catalogue, usual_kind),
      .mix = known_mix("mix", arguments.text("mix", usual_mix), catalogue),
      .spot = known("spot", "spot", arguments.text("spot", usual_spot), catalogue.spots)};
  if (const auto text = arguments.text("plants")) {
    request.plants.clear();
    for (const std::string_view one : listed("plants", *text)) {
      const int plants = plants_number(one);
      if (std::ranges::find(request.plants, plants) != request.plants.end()) {
        refuse("--plants: found {} a second time; expected each once", in_quotes(one));
      }
      request.plants.emplace_back(plants);
    }
  }
  request.planted = each_listed(arguments, "plantings", [](std::string_view day) {
    return known_planting_day("plantings", day);
  });
  const std::string routines = arguments.text("routines", usual_routines);
  for (const std::string_view routine : listed("routines", routines)) {
    request.routines.push_back(accepted("routines", parse_routine(routine)));
  }
  request.share = share_option(arguments).value_or(request.share);
  return request;
}

std::vector<PlantingDay> planting_days(const Crop& crop, const ChartRequest& request,
                                       const Place& place) {
  if (!request.planted.empty()) return request.planted;
  const std::vector<MonthDay> times = planting_times(crop, place);
  return {times.begin(), times.end()};
}

PotChart chart_of(const Place& place, const ChartRequest& request, const Catalogue& catalogue) {
  PotChart chart{.place = &place};
  for (const Crop& crop : request.crops) {
    const std::vector<PlantingDay> days = planting_days(crop, request, place);
    if (days.empty()) chart.not_plantable.push_back(crop_in_words(crop.name));
    for (const std::optional<int>& plants : request.plants) {
      for (const PlantingDay& day : days) {
        Planting asked = planting_of(crop, day, request.mix, request.spot, catalogue);
        if (plants) asked.plants = *plants;
        check_planted(asked, place, "plantings");
        std::vector<Pot> roomy;
        const double least_l = least_mix_l(crop, asked.plants);
        std::ranges::copy_if(request.pots, std::back_inserter(roomy),
                             [&](const Pot& pot) { return pot.sold_mix_l.high >= least_l; });
        const std::vector<Planting> in_each = in_pots(asked, roomy, catalogue.parameters);
        for (const Routine& routine : request.routines) {
          asked.routine = routine;
          asked.name =
              fmt::format("{} {}, {}", asked.plants, planting_in_words(asked), routine.text);
          chart.asked.push_back(asked);
          for (Planting candidate : in_each) {
            candidate.routine = routine;
            candidate.name = asked.name;
            chart.candidates.push_back(std::move(candidate));
          }
        }
      }
    }
  }
  return chart;
}

void add_notes(const std::vector<ChartCell>& cells, Report& report) {
  std::vector<SummersOf> all;
  for (const ChartCell& cell : cells) {
    if (cell.found != nullptr) all.push_back({planting_in_words(*cell.asked), &cell.found->choice});
  }
  if (!all.empty()) add_summers_notes(all, report);
}

std::string tried_in_words(const Arguments& arguments) {
  if (arguments.flag("pots")) return "the pots listed";
  return arguments.text("kind", usual_kind) + " pots";
}

void run_choose(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const SeasonOptions options{.growth = growth_clock(arguments),
                              .threads = thread_count(arguments)};
  Output output = open_output(arguments);
  Report report("choose", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const ChartRequest request = chart_request(arguments, catalogue);
  const std::vector<WeatherRecord> records = load_weather(arguments, true);
  const std::vector<Place> places = places_of(records, catalogue.parameters, missing);

  std::vector<PotChart> charts;
  Progress progress(std::chrono::seconds(1));
  for (const Place& place : places) charts.push_back(chart_of(place, request, catalogue));
  std::vector<ChartCell> cells;
  for (PotChart& chart : charts) {
    progress.show(fmt::format("place {} of {}", &chart - charts.data() + 1, charts.size()));
    chart.cells = choose(chart.candidates, *chart.place, request.share, options);
    for (const ChartCell& cell : cells_of(chart)) cells.push_back(cell);
  }

  progress.clear();
  add_weather_notes(places, report);
  add_notes(cells, report);
  std::vector<Planting> found;
  for (const ChartCell& cell : cells) {
    if (cell.pot() != nullptr) found.push_back(*cell.pot()->planting);
  }
  add_holes_note(found, report);
  add_shade_note(found, report);
  report.caution = caution_text("you water");
  report.fill(choose_table(), cells);
  const ChartTerms terms{.routines = request.routines.size(),
                         .plants = arguments.flag("plants"),
                         .pots = tried_in_words(arguments),
                         .share = request.share};
  if (how.page) add_chart_pictures(charts, terms, how.us_units, report);
  deliver(report, how, output, [&] { return choose_text(charts, terms, report, how.us_units); });
}

}  // namespace

Command choose_command() {
  Command command = described("choose", run_choose, sections_of(choose_table()));
  constexpr std::string_view place = "{common crops}";
  command.explanation.replace(command.explanation.find(place), place.size(), common_crops);
  return command;
}

}  // namespace wiltline::cli
