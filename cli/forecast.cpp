// wiltline forecast: when each pot will want water, and which go dry before the next visit.

#include "wiltline/questions/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "command.hpp"
#include "diary.hpp"
#include "forecast_answer.hpp"
#include "shared_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/forecast_files.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int alarm_exit_code = 10;
constexpr int default_members = 200;
constexpr int most_members = 10000;
constexpr int default_days = 14;
constexpr int most_days = 60;

Instant now_option(const Arguments& arguments, const WeatherRecord& observed,
                   const WeatherRecord& known, Report& report) {
  const auto text = arguments.text("now");
  if (!text) {
    const Instant now{observed.last() + std::chrono::days(1), 0.0};
    report.notes.push_back(
        fmt::format("now is taken as {}, when the weather record ends; --now says otherwise",
                    instant_in_words(now)));
    return now;
  }
  const auto now = parse_instant(*text);
  if (!now) {
    throw RequestError(
        fmt::format("--now: found {}; expected a date and hour that exist, as 2024-07-15T09:00",
                    in_quotes(*text)));
  }
  const Date latest = known.last() + std::chrono::days(1);
  if (now->date < known.first() || now->date > latest) {
    throw RequestError(fmt::format(
        "--now: found {}; expected a day from {} to {}, the day after the known weather ends",
        to_string(*now), to_string(known.first()), to_string(latest)));
  }
  return *now;
}

/// A planting that is neither saved nor planted within the record has nowhere to start from.
void check_starts(const Garden& garden, const std::vector<ForecastPlanting>& inputs,
                  const WeatherRecord& record, const ForecastOptions& options) {
  ProblemList problems;
  for (const ForecastPlanting& input : inputs) {
    if (input.saved) continue;
    const auto planted =
        growing_since(*input.planting, options.now.date, record.first(), options.growth);
    if (!planted || record.contains(*planted)) continue;
    problems.add(
        {garden.file, input.planting->line, 0,
         fmt::format("{} planted {}", in_quotes(input.planting->name), to_string(*planted)),
         fmt::format("a day within the weather, {} to {}, or a saved state of it",
                     to_string(record.first()), to_string(record.last()))});
  }
  problems.throw_if_any();
}

void add_notes(const ForecastResult& result, const std::vector<ForecastPlanting>& inputs,
               const ForecastOptions& options, Report& report) {
  std::vector<std::string> resting;
  for (const Planting* planting : result.not_growing) resting.push_back(planting->name);
  if (!resting.empty()) {
    report.notes.push_back(fmt::format(
        "not growing on {}: {}", full_date_in_words(options.now.date), fmt::join(resting, "; ")));
  }
  std::size_t logged = 0;
  bool weighed = false;
  for (const ForecastPlanting& input : inputs) {
    if (input.log.complete_from) ++logged;
    for (const PotEvent& event : input.log.events) {
      weighed = weighed || event.kind == PotEventKind::weighed;
    }
  }
  report.notes.push_back(
      logged == 0
          ? "watering until now: as each routine says"
          : fmt::format("watering until now: as the routine says for {} of {} plantings, as "
                        "logged from the first entry on for the others",
                        inputs.size() - logged, inputs.size()));
  if (weighed) {
    report.notes.emplace_back(
        "weighed pots: water is the weight less tare and dry mix; the plant's own weight counts as "
        "water unless the tare holds it");
  }
  const long known = std::max<long>(0, (options.known_last - options.now.date).count() + 1);
  if (result.last_day > options.known_last) {
    const std::string first =
        known == 0 ? "" : fmt::format("{} {} as given, then ", known, known == 1 ? "day" : "days");
    report.notes.push_back(fmt::format(
        "weather to come: {}the weather of {} other {} at the same time of year (seed {})", first,
        result.pooled_years, result.pooled_years == 1 ? "year" : "years", options.seed));
  }
  if (result.cut_short) {
    report.notes.push_back(
        fmt::format("nothing is said after {}: the record has no such days of other years",
                    full_date_in_words(result.last_day)));
  }
}

int run_forecast_command(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  ForecastOptions options;
  options.growth = growth_clock(arguments);
  options.horizon_days = whole_number(arguments, "days", 1, most_days).value_or(default_days);
  const auto draws = whole_number(arguments, "uncertain", 1, most_members);
  const auto members = whole_number(arguments, "members", 1, most_members);
  if (draws && members) {
    throw RequestError(
        "found both --members and --uncertain; expected one of them (each draw is a member)");
  }
  options.uncertain = draws.has_value();
  options.members = static_cast<std::size_t>(draws.value_or(members.value_or(default_members)));
  constexpr int largest_seed = 2147483647;
  options.seed =
      static_cast<std::uint64_t>(whole_number(arguments, "seed", 0, largest_seed).value_or(1));
  if (arguments.texts("weather").size() > 1) {
    throw RequestError("found --weather more than once; expected the one record of the place");
  }
  const auto save_to = arguments.text("save-state");
  if (save_to && (*save_to == "-" || same_file(*save_to, arguments.text("output").value_or("-")))) {
    throw RequestError(
        fmt::format("--save-state: found {}; expected a file of its own", in_quotes(*save_to)));
  }
  Output output = open_output(arguments);
  std::optional<Output> state_output;
  if (save_to) {
    // The state of yesterday may be replaced by today's: that is what it is for.
    refuse_overwriting(arguments, "save-state", *save_to, "state");
    state_output.emplace(*save_to);
  }

  Report report("forecast", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const WeatherRecord observed = load_weather(arguments, true).front();
  const WeatherRecord known = with_forecast(arguments, observed);
  const Garden garden = load_garden(arguments, catalogue);
  options.now = now_option(arguments, observed, known, report);
  options.known_last = known.last();
  options.observed_last = observed.last();

  Diary diary(garden, catalogue.parameters, options.now);
  if (const auto file = arguments.text("log")) {
    diary.add_log(read_watering_log(read_file(*file), garden.plantings, options.now));
  }
  diary.add_watered(arguments);
  diary.add_weights(arguments);
  diary.add_tops(arguments);
  std::vector<SavedPlanting> saved;
  if (const auto file = arguments.text("state")) {
    saved =
        read_state(read_file(*file), catalogue.parameters,
                   {.plantings = garden.plantings,
                    .growth = options.growth,
                    .first = known.first(),
                    .last = std::min(options.now.date, observed.last() + std::chrono::days(1))});
  }
  std::unordered_map<std::string_view, const SavedPlanting*> saved_of;
  for (const SavedPlanting& one : saved) saved_of.emplace(one.name, &one);
  std::vector<ForecastPlanting> inputs;
  int counted_before = 0;
  std::size_t without_effect = 0;
  for (std::size_t i = 0; i < garden.plantings.size(); ++i) {
    ForecastPlanting input{.planting = &garden.plantings[i], .log = {}, .saved = {}};
    const auto state = saved_of.find(garden.plantings[i].name);
    if (state != saved_of.end()) input.saved = *state->second;
    const auto planted = input.saved ? std::optional(input.saved->planted)
                                     : growing_since(garden.plantings[i], options.now.date,
                                                     known.first(), options.growth);
    if (!planted) without_effect += diary.events(i).size();
    if (planted) {
      MergedLog merged = merge_log(diary.events(i), *planted, input.saved);
      input.log = std::move(merged.log);
      counted_before += merged.counted_before;
      without_effect += merged.before_planting;
    }
    inputs.push_back(std::move(input));
  }
  check_starts(garden, inputs, known, options);
  if (counted_before > 0) {
    report.notes.push_back(fmt::format(
        "waterings before the saved state, taken as counted in it: {}", counted_before));
  }

  if (without_effect > 0) {
    report.notes.push_back(fmt::format(
        "entries of the log or options without effect, because nothing was planted then: {}",
        without_effect));
  }

  const Place place(known, catalogue.parameters, missing);
  const ForecastResult result = forecast(inputs, place, catalogue, options);
  if (result.last_day < options.now.date) {
    throw RequestError(fmt::format(
        "found no weather for {}: {} has no days of other years around it; expected a longer "
        "record or a --forecast",
        full_date_in_words(options.now.date), observed.name()));
  }
  if (result.pots.empty()) {
    throw RequestError(
        fmt::format("found no planting of {} that grows on {}; expected one at least", garden.file,
                    full_date_in_words(options.now.date)));
  }
  add_weather_notes({place}, report);
  add_notes(result, inputs, options, report);
  add_holes_note(garden.plantings, report);
  report.caution = caution_text("you water");
  report.fill(forecast_table(options.uncertain), result.pots);
  if (state_output) {
    std::vector<SavedPlanting> states;
    for (const PlantingForecast& pot : result.pots) states.push_back(pot.saved);
    state_output->write(state_csv(states));
  }
  deliver(report, how, output,
          [&] { return forecast_table_text(result, options, report, how.us_units); });
  const bool any_dry =
      std::any_of(result.pots.begin(), result.pots.end(),
                  [](const PlantingForecast& pot) { return pot.dry_before_visit.value_or(false); });
  return arguments.flag("alarm") && any_dry ? alarm_exit_code : 0;
}

po::options_description own_options() {
  po::options_description own("Forecast");
  own.add_options()("now", text_value("TIME"),
                    "date and hour, 2022-07-15T09:00; without it: when the record ends")(
      "forecast", text_value("FILE"), "weather to come, CSV as --weather, joined to the record")(
      "log", text_value("FILE"), "waterings, CSV: when, name, given_l (blank: until it drained)")(
      "watered", texts_value("NAME[@TIME]"),
      "watered until it drained, now or then; all: every planting")(
      "weight", texts_value("NAME=KG"), "what a pot weighs now (or NAME=LBlb); needs tare_kg")(
      "top", texts_value("NAME=HOW"), "the top of the mix feels dry, or moist, now")(
      "days", text_value("N"), "how far to look (default 14)")(
      "members", text_value("N"), "how many courses of the weather to come (default 200)")(
      "uncertain", text_value("N"),
      "N of them, each with plant, mix, spot and model varied within their likely ranges too")(
      "seed", text_value("N"), "which random numbers (default 1)")(
      "alarm", "exit with 10 if a pot is likelier than not to go dry before its next visit")(
      "state", text_value("FILE"), "go on from what --save-state wrote")(
      "save-state", text_value("FILE"), "save where each pot stands, to go on tomorrow")(
      "growth", text_value("BY"), "days (default) or degree-days");
  return own;
}

}  // namespace

Command forecast_command() {
  Command command;
  command.name = "forecast";
  command.purpose = "when each pot will want water, and which go dry before the next visit";
  command.usage = "--garden FILE --weather FILE [options]";
  command.explanation =
      "Runs each planting to now over the weather observed, and from there on, as if nobody "
      "watered, over many courses that the weather may take: the days of a forecast if one is "
      "given, then the weather of other years at the same time of year (within ten days of the "
      "date, in blocks of five so that hot and wet spells stay together). The same seed gives the "
      "same answer. The record should hold several years; it ends yesterday or today.\n"
      "\n"
      "Until now each pot was watered as its routine says. A log or --watered says better: from a "
      "planting's first entry on, the log is taken as complete. The log is CSV:\n"
      "  when,name,given_l\n"
      "  2022-07-10 18:30,broccoli,\n"
      "  2022-07-12 07:15,broccoli,1.5\n"
      "blank in given_l (or given_gal): until it drained. A pot with tare_kg in the garden may be "
      "weighed: its water is the weight less tare and dry mix.\n"
      "\n"
      "--save-state writes where every pot stands at the end of the observed weather, and what was "
      "done since; tomorrow --state goes on from there, with the same answer as without a stop.\n"
      "\n"
      "Exit code 10 with --alarm: a pot is likelier than not to go dry before its next visit. The "
      "answer is written even so.\n"
      "\n"
      "Times in CSV and JSON are to the minute, as the model has them; no plant is so exact.";
  command.examples = {{"this morning, from a record of four years that ends yesterday",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-14 --now 2024-07-15T09:00"},
                      {"the basil was watered just now; how sure is that, plant and mix included",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-14 --now 2024-07-15T09:00 "
                       "--watered \"basil on the sill\" --uncertain 200"},
                      {"for a script: CSV, the state kept for tomorrow, exit code 10 on alarm",
                       "wiltline forecast --garden models/gardens/courtyard.csv --weather "
                       "weather-samples/tolvenau.csv --to 2024-07-14 --format csv --alarm "
                       "--save-state state.csv"}};
  command.columns = forecast_heads();
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own_options());
  command.option_groups.push_back(output_options());
  command.run = run_forecast_command;
  return command;
}

}  // namespace wiltline::cli
