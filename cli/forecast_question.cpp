#include "forecast_question.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <unordered_map>

#include "diary.hpp"
#include "notes.hpp"
#include "progress.hpp"
#include "reading_options.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "weather_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/log_and_state.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int default_members = 200;
constexpr int most_members = 10000;
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
    refuse("--now: found {}; expected a date and hour that exist, as 2024-07-15T09:00",
           in_quotes(*text));
  }
  const Date latest = known.last() + std::chrono::days(1);
  if (now->date < known.first() || now->date > latest) {
    refuse("--now: found {}; expected {} to {}, the day after the weather", to_string(*now),
           to_string(known.first()), to_string(latest));
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

/// The day within the days asked, after now's, on which a planting is planted.
std::optional<Date> planted_within(const Planting& planting, const ForecastOptions& options) {
  for (int day = 1; day <= options.horizon_days; ++day) {
    const Date date = options.now.date + std::chrono::days(day);
    if (falls_on(planting.planted, date)) return date;
  }
  return std::nullopt;
}

void add_not_growing_notes(const ForecastResult& result, const ForecastOptions& options,
                           Report& report) {
  std::vector<std::string> resting;
  std::map<Date, std::vector<std::string>> to_plant;
  for (const Planting* planting : result.not_growing) {
    const auto planted = planted_within(*planting, options);
    (planted ? to_plant[*planted] : resting).push_back(planting->name);
  }
  if (!resting.empty()) {
    report.notes.push_back(fmt::format(
        "not growing on {}: {}", full_date_in_words(options.now.date), fmt::join(resting, "; ")));
  }
  for (const auto& [date, names] : to_plant) {
    report.notes.push_back(
        fmt::format("planted {}, within the days asked, but not in this answer: {}",
                    date_in_words(date), fmt::join(names, "; ")));
  }
}

void add_notes(const ForecastResult& result, const std::vector<ForecastPlanting>& inputs,
               const ForecastOptions& options, Report& report) {
  add_not_growing_notes(result, options, report);
  std::size_t logged = 0;
  bool weighed = false;
  for (const ForecastPlanting& input : inputs) {
    const bool refilled = std::ranges::any_of(
        input.readings, [](const Reading& one) { return one.kind == ReadingKind::weighed_after; });
    if (input.log.complete_from || refilled) ++logged;
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

/// How far off a reading was that did not fit, and what became of it.
std::string doubtful_text(const Planting& planting, const DoubtfulReading& one, bool us) {
  const std::string at =
      fmt::format("{}, {}", shown_name(planting), instant_in_words(one.reading.when));
  const std::string misfit = misfit_text(one.reading.kind, one.off_kg, us);
  if (one.believed) {
    return fmt::format("{}: {}, as the weighing before; taken as true of the pot", at, misfit);
  }
  return fmt::format("{}: {}; left out{}", at, misfit,
                     one.reading.weighed() ? fmt::format(": {}", weight_causes(one.off_kg)) : "");
}

void add_learned_notes(const ForecastResult& result, bool us, Report& report) {
  bool doubts = false;
  for (const PlantingForecast& pot : result.pots) {
    if (!pot.update) continue;
    const PotUpdate& update = *pot.update;
    const std::string before = update.readings > 0 ? fmt::format("; {:.2f} before the {} new",
                                                                 update.use_before, update.readings)
                                                   : "";
    report.notes.push_back(fmt::format(
        "{} drinks {:.2f} times the table, from {} reading{} (9 in 10: {:.2f} to {:.2f}{})",
        shown_name(*pot.planting), update.use.value, update.readings_all,
        update.readings_all == 1 ? "" : "s", update.use.low, update.use.high, before));
    for (const DoubtfulReading& one : update.doubtful) {
      report.notes.push_back(doubtful_text(*pot.planting, one, us));
      doubts = true;
    }
  }
  if (doubts) {
    report.notes.emplace_back(
        "a reading is doubted here by those before it alone, and only if it is far off; calibrate "
        "looks at all of them together and names more");
  }
}

}  // namespace

ForecastOptions forecast_options(const Arguments& arguments, int default_days) {
  ForecastOptions options;
  options.growth = growth_clock(arguments);
  options.horizon_days = whole_number(arguments, "days", 1, most_days).value_or(default_days);
  const auto draws = draws_option(arguments, 1);
  const auto members = whole_number(arguments, "members", 1, most_members);
  if (draws && members) {
    refuse("found both --members and --uncertain; expected one of them (each draw is a member)");
  }
  options.uncertain = draws.has_value();
  options.members = draws.value_or(static_cast<std::size_t>(members.value_or(default_members)));
  options.seed = seed_option(arguments);
  return options;
}

ForecastQuestion forecast_question(const Arguments& arguments, const ForecastOptions& how,
                                   Report& report) {
  ForecastOptions options = how;
  const MissingDataOptions missing = missing_data_options(arguments);
  Catalogue catalogue = load_catalogue(arguments, report.notes);
  WeatherRecord observed = load_weather_of_one_place(arguments);
  const WeatherRecord known = with_forecast(arguments, observed);
  Garden garden = load_garden(arguments, catalogue);
  take_time_away(arguments, garden);
  options.now = now_option(arguments, observed, known, report);
  options.known_last = known.last();
  options.observed_last = observed.last();

  Diary diary(garden, catalogue.parameters, options.now);
  std::vector<LogEntry> log;
  if (const auto file = arguments.text("log")) {
    log = read_watering_log(read_file(*file), garden.plantings, options.now);
    diary.add_log(log);
  }
  diary.add_watered(arguments);
  diary.add_weights(arguments);
  diary.add_tops(arguments);
  std::vector<PotReadings> readings = load_readings(arguments,
                                                    {.garden = garden.plantings,
                                                     .model = &catalogue.parameters,
                                                     .weather = &known,
                                                     .growth = options.growth,
                                                     .now = options.now},
                                                    report.notes);
  // What drained tells of the pot; a watering alone does not.
  std::erase_if(log, [](const LogEntry& one) { return !one.drained_l.has_value(); });
  add_log(readings, log);
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
  std::size_t learned_before = 0;
  std::size_t unknown_before = 0;
  std::ptrdiff_t learned_twice = 0;
  for (std::size_t i = 0; i < garden.plantings.size(); ++i) {
    ForecastPlanting input{.planting = &garden.plantings[i], .log = {}, .saved = {}};
    const auto state = saved_of.find(garden.plantings[i].name);
    if (state != saved_of.end()) input.saved = *state->second;
    const auto planted = input.saved ? std::optional(input.saved->planted)
                                     : growing_since(garden.plantings[i], options.now.date,
                                                     known.first(), options.growth);
    if (!planted) without_effect += diary.events(i).size() + readings[i].readings.size();
    if (planted) {
      MergedLog merged = merge_log(diary.events(i), *planted, input.saved);
      input.log = std::move(merged.log);
      counted_before += merged.counted_before;
      without_effect += merged.before_planting;
      MergedReadings read = merge_readings(readings[i].readings, *planted, input.saved);
      input.readings = std::move(read.readings);
      learned_before += read.counted_before;
      unknown_before += read.unknown_before;
      without_effect += read.before_planting;
      const std::optional<Instant>& until = garden.plantings[i].learned.until;
      learned_twice += std::ranges::count_if(
          input.readings, [&](const Reading& one) { return until && one.when <= *until; });
    }
    inputs.push_back(std::move(input));
  }
  check_starts(garden, inputs, known, options);
  if (counted_before > 0) {
    report.notes.push_back(fmt::format(
        "waterings before the saved state, taken as counted in it: {}", counted_before));
  }
  if (learned_before > 0) {
    report.notes.push_back(fmt::format(
        "readings before the saved state, taken as learned from in it: {}", learned_before));
  }
  if (learned_twice > 0) {
    report.notes.push_back(
        fmt::format("readings up to the garden's calibrated_until, learned from a second time: {}; "
                    "leave them out, or take the garden of before",
                    learned_twice));
  }
  if (unknown_before > 0) {
    report.notes.push_back(
        fmt::format("readings without effect, because they are before a saved state that was made "
                    "without them: {}",
                    unknown_before));
  }
  if (without_effect > 0) {
    report.notes.push_back(
        fmt::format("entries of the log, readings or options without effect, because nothing was "
                    "planted then: {}",
                    without_effect));
  }

  Place place(known, catalogue.parameters, missing);
  options.done = [all = inputs.size(), progress = std::make_shared<Progress>(
                                           std::chrono::seconds(1))](std::size_t done) {
    if (done == all) return progress->clear();
    progress->show(fmt::format("planting {} of {}", done + 1, all));
  };
  return {.catalogue = std::move(catalogue),
          .garden = std::move(garden),
          .observed = std::move(observed),
          .place = std::move(place),
          .options = options,
          .inputs = std::move(inputs)};
}

void check_and_note(const ForecastQuestion& question, const ForecastResult& result, bool us,
                    Report& report) {
  const ForecastOptions& options = question.options;
  if (result.last_day < options.now.date) {
    refuse(
        "found no weather for {}: {} has no days of other years around it; expected a longer "
        "record or a --forecast",
        full_date_in_words(options.now.date), question.observed.name());
  }
  if (result.pots.empty()) {
    refuse(
        "found no planting of {} that grows on {}; expected one at least, or another day: --to, "
        "--now",
        question.garden.file, full_date_in_words(options.now.date));
  }
  add_weather_notes({question.place}, report);
  add_learned_notes(result, us, report);
  add_notes(result, question.inputs, options, report);
  add_holes_note(question.garden.plantings, report);
  report.caution = caution_text("you water");
}

}  // namespace wiltline::cli
