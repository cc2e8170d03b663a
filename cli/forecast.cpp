// wiltline forecast: when each pot will want water, and which go dry before the next visit.

#include "wiltline/questions/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "command.hpp"
#include "shared_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/measured.hpp"
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
        fmt::format("now is taken as {}, when the weather observed ends; --now says otherwise",
                    to_string(now)));
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

/// Splits NAME<sign>REST at the last sign; no sign: all is name.
std::pair<std::string, std::optional<std::string>> split_last(const std::string& text, char sign) {
  const std::size_t at = text.rfind(sign);
  if (at == std::string::npos) return {std::string(trim(text)), std::nullopt};
  return {std::string(trim(text.substr(0, at))), std::string(trim(text.substr(at + 1)))};
}

/// The planting an option names.
std::size_t named(const Garden& garden, const char* option, const std::string& name) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < garden.plantings.size(); ++i) {
    if (garden.plantings[i].name == name) return i;
    names.push_back(garden.plantings[i].name);
  }
  throw RequestError(fmt::format("--{}: found unknown planting {}; expected a name of {}{}", option,
                                 in_quotes(name), garden.file, nearest_hint(name, names)));
}

/// What options and files say was done to each planting, in the garden's order.
class Diary {
 public:
  Diary(const Garden& garden, const Instant& now) : garden_(garden), now_(now) {
    doings_.resize(garden.plantings.size());
  }

  void add_watered(const Arguments& arguments) {
    for (const std::string& text : arguments.texts("watered")) {
      const auto [name, time] = split_last(text, '@');
      Instant when = now_;
      if (time) {
        const auto parsed = parse_instant(*time);
        if (!parsed) {
          throw RequestError(
              fmt::format("--watered: found {}; expected NAME, or NAME@ and a date and hour, as "
                          "kale@2024-07-15T08:30",
                          in_quotes(text)));
        }
        if (*parsed > now_) {
          throw RequestError(fmt::format("--watered: found {}, after now; expected a time up to {}",
                                         to_string(*parsed), to_string(now_)));
        }
        when = *parsed;
      }
      const Doing doing{when, DoingKind::watered, std::nullopt};
      if (name == "all") {
        for (auto& list : doings_) list.push_back(doing);
      } else {
        doings_[named(garden_, "watered", name)].push_back(doing);
      }
    }
  }

  void add_weights(const Arguments& arguments) {
    for (const std::string& text : arguments.texts("weight")) {
      const auto [name, weight] = split_last(text, '=');
      const auto kg = weight ? kilograms(*weight) : std::nullopt;
      if (!kg) {
        throw RequestError(fmt::format(
            "--weight: found {}; expected NAME=KG or NAME=POUNDSlb, as kale=12.3 or kale=27lb",
            in_quotes(text)));
      }
      const std::size_t i = named(garden_, "weight", name);
      check_weight(garden_.plantings[i], *kg);
      add_once(i, "weight", {now_, DoingKind::weighed, kg});
    }
  }

  void add_tops(const Arguments& arguments) {
    for (const std::string& text : arguments.texts("top")) {
      const auto [name, how] = split_last(text, '=');
      if (!how || (*how != "dry" && *how != "moist")) {
        throw RequestError(
            fmt::format("--top: found {}; expected NAME=dry or NAME=moist", in_quotes(text)));
      }
      const std::size_t i = named(garden_, "top", name);
      add_once(i, "top",
               {now_, *how == "dry" ? DoingKind::top_felt_dry : DoingKind::top_felt_moist, {}});
    }
  }

  void add_log(const std::vector<LogEntry>& entries) {
    for (const LogEntry& entry : entries) {
      doings_[named(garden_, "log", entry.name)].push_back(entry.doing);
    }
  }

  /// The doings that still count for a planting, with what a saved state knew already.
  void put_into(ForecastPlanting& input, std::size_t i, Date planted, int& counted_before) const {
    std::vector<Doing> doings;
    std::optional<Instant> log_from;
    if (input.saved) {
      doings = input.saved->doings;
      log_from = input.saved->log_from;
    }
    for (const Doing& doing : doings_[i]) {
      if (doing.when.date < planted) continue;  // of an earlier planting
      if (doing.kind == DoingKind::watered && (!log_from || doing.when < *log_from)) {
        log_from = doing.when;
      }
      if (input.saved && doing.when.date < input.saved->run.date) {
        ++counted_before;
        continue;
      }
      doings.push_back(doing);
    }
    std::stable_sort(doings.begin(), doings.end(), [](const Doing& a, const Doing& b) {
      return std::pair(a.when, a.kind) < std::pair(b.when, b.kind);
    });
    // The log of today holds what the state of yesterday knew.
    doings.erase(std::unique(doings.begin(), doings.end()), doings.end());
    input.doings = std::move(doings);
    input.log_from = log_from;
  }

 private:
  static std::optional<double> kilograms(std::string_view text) {
    const bool pounds = text.ends_with("lb");
    if (pounds || text.ends_with("kg")) text = trim(text.substr(0, text.size() - 2));
    const auto number = parse_number(text);
    constexpr double most_kg = 1e5;
    if (!number) return std::nullopt;
    const double kg = pounds ? *number * units::kg_per_pound : *number;
    return kg > 0.0 && kg <= most_kg ? std::optional(kg) : std::nullopt;
  }

  void check_weight(const Planting& planting, double kg) const {
    if (!planting.tare_kg) {
      throw RequestError(
          fmt::format("--weight: found no tare_kg for {} in {}; expected what its empty pot weighs",
                      in_quotes(planting.name), garden_.file));
    }
    if (kg < *planting.tare_kg) {
      throw RequestError(
          fmt::format("--weight: found {} of {:.4g} kg, below its tare of {:.4g} kg; expected more",
                      in_quotes(planting.name), kg, *planting.tare_kg));
    }
    const double dry_kg = dry_mix_kg(planting.mix, planting.pot.mix_l());
    if (kg < *planting.tare_kg + dry_kg) {
      throw RequestError(fmt::format(
          "--weight: found {} of {:.4g} kg, below tare and dry mix together ({:.4g} and {:.4g} "
          "kg); expected more",
          in_quotes(planting.name), kg, *planting.tare_kg, dry_kg));
    }
  }

  void add_once(std::size_t i, const char* option, const Doing& doing) {
    const bool is_weight = doing.kind == DoingKind::weighed;
    for (const Doing& known : doings_[i]) {
      const bool known_is_weight = known.kind == DoingKind::weighed;
      if (known.kind == DoingKind::watered || known_is_weight != is_weight) continue;
      throw RequestError(fmt::format("--{}: found {} a second time; expected it once", option,
                                     in_quotes(garden_.plantings[i].name)));
    }
    doings_[i].push_back(doing);
  }

  const Garden& garden_;
  Instant now_;
  std::vector<std::vector<Doing>> doings_;
};

/// A planting that is neither saved nor planted within the record has nowhere to start from.
void check_starts(const Garden& garden, const std::vector<ForecastPlanting>& inputs,
                  const WeatherRecord& record, const ForecastOptions& options) {
  ProblemList problems;
  for (const ForecastPlanting& input : inputs) {
    if (input.saved) continue;
    const auto planted = growing_since(*input.planting, options.now.date, options.growth);
    if (!planted || record.contains(*planted)) continue;
    problems.add(
        {garden.file, input.planting->line, 0,
         fmt::format("{} planted {}", in_quotes(input.planting->name), to_string(*planted)),
         fmt::format("a day within the weather, {} to {}, or a saved state of it",
                     to_string(record.first()), to_string(record.last()))});
  }
  problems.throw_if_any();
}

Cell instant_cell(const std::optional<Instant>& at) {
  return at ? Cell(to_string(*at)) : Cell();
}

std::vector<Cell> row_of(const PlantingForecast& pot, bool uncertain) {
  std::vector<Cell> row{pot.planting->name,
                        pot.planting->pot.name,
                        pot.depletion_l,
                        pot.refill_at_l,
                        instant_cell(pot.refill.p10),
                        instant_cell(pot.refill.p50),
                        instant_cell(pot.refill.p90),
                        instant_cell(pot.dry.p10),
                        instant_cell(pot.dry.p50),
                        instant_cell(pot.dry.p90),
                        instant_cell(pot.next_visit),
                        pot.dry_before_visit ? Cell(yes_no(*pot.dry_before_visit)) : Cell(),
                        pot.give_now_l,
                        yes_no(pot.feed_due)};
  if (uncertain) {
    row.push_back(pot.moves_most ? Cell(pot.moves_most->name) : Cell());
    row.push_back(pot.moves_most ? Cell(pot.moves_most->correlation) : Cell());
  }
  return row;
}

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
  const std::string first = day(spread.p10);
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

std::string table_text(const ForecastResult& result, const ForecastOptions& options,
                       const Report& report, bool us) {
  const std::string litre(unit_text(Quantity::litres, us));
  const Instant& now = options.now;
  const auto amount = [&](double litres) {
    return litres < 0.005 ? std::string("-") : rough_range(in_units(Quantity::litres, litres, us));
  };
  std::vector<std::string> today;
  std::vector<std::string> tomorrow;
  std::vector<std::string> dry;
  std::vector<std::string> feed;
  TextTable table({{"\n\nplanting", true},
                   {"wants water\nif nobody\nwaters", true},
                   {"\n8 in 10\nfutures", true},
                   {"\n\ndry", true},
                   {"\n8 in 10\nfutures", true},
                   {"\nnext\nvisit", true},
                   {"dry\nbefore\nvisit"},
                   {"to give\nnow,\n" + litre}});
  for (const PlantingForecast& pot : result.pots) {
    const std::string name = shown_name(*pot.planting);
    if (pot.refill.p50 && pot.refill.p50->date == now.date) {
      today.push_back(fmt::format("{} ({} {})", name, amount(pot.give_now_l), litre));
    } else if (pot.refill.p50 && pot.refill.p50->date == now.date + std::chrono::days(1)) {
      tomorrow.push_back(name);
    }
    if (pot.dry_before_visit.value_or(false)) dry.push_back(name);
    if (pot.feed_due) feed.push_back(name);
    table.add({name, time_in_words(pot.refill.p50, now), range_in_words(pot.refill, now),
               time_in_words(pot.dry.p50, now), range_in_words(pot.dry, now),
               visit_in_words(pot.next_visit, now),
               pot.dry_before_visit ? yes_no(*pot.dry_before_visit) : "?", amount(pot.give_now_l)});
  }
  std::string out;
  const auto say = [&out](const std::string& text) { out += wrapped(text, 100, 2) + '\n'; };
  say(fmt::format("Water today: {}; tomorrow: {}.", listed(today), listed(tomorrow)));
  if (!dry.empty()) {
    say(fmt::format("Dry before the next visit if nothing is done: {}.", listed(dry)));
  }
  out += fmt::format("\nNow: {}. Most urgent first.\n\n", to_string(now)) + table.text() + '\n';
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
      say(fmt::format("What moves the time most, of all that is not known exactly: {}.",
                      fmt::join(inputs, "; ")));
    }
  }
  const int shown_days =
      static_cast<int>((result.last_day - now.date).count()) + (now.hour > 0.0 ? 0 : 1);
  say(fmt::format(
      "Wants water: the refill threshold, beyond which growth slows. Dry: roots cannot "
      "draw enough, expect damage. Times are medians over {} futures if nobody waters; "
      "later: not within {} days; 8 in 10 futures lie in the range beside it, {}.",
      options.members, std::min(options.horizon_days, shown_days),
      options.uncertain ? "weather and what is not known exactly of plant, mix and spot"
                        : "the spread of weather alone, if plant, mix and spot are as given"));
  say("To give: until it drains, for one pot of each row; a range because plant size, shelter and "
      "mix vary.");
  for (const std::string& note : report.notes) say(printable(note));
  say("These are estimates: check the mix by hand before you water, and follow local water rules.");
  return out;
}

void add_notes(const ForecastResult& result, const std::vector<ForecastPlanting>& inputs,
               const ForecastOptions& options, Report& report) {
  std::vector<std::string> resting;
  for (const Planting* planting : result.not_growing) resting.push_back(planting->name);
  if (!resting.empty()) {
    report.notes.push_back(fmt::format("not growing on {}: {}", to_string(options.now.date),
                                       fmt::join(resting, ", ")));
  }
  std::size_t logged = 0;
  bool weighed = false;
  for (const ForecastPlanting& input : inputs) {
    if (input.log_from) ++logged;
    for (const Doing& doing : input.doings) weighed = weighed || doing.kind == DoingKind::weighed;
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
        "futures: {}days of {} other {} of the record, within ten days of the date, in blocks of "
        "five; seed {}",
        first, result.pooled_years, result.pooled_years == 1 ? "year" : "years", options.seed));
  }
  if (result.cut_short) {
    report.notes.push_back(
        fmt::format("the futures end with {}: the record has no such days of other years",
                    to_string(result.last_day)));
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
  if (save_to && (*save_to == "-" || save_to == arguments.text("output"))) {
    throw RequestError(
        fmt::format("--save-state: found {}; expected a file of its own", in_quotes(*save_to)));
  }
  Output output(arguments.text("output").value_or("-"));
  std::optional<Output> state_output;
  if (save_to) state_output.emplace(*save_to);

  Report report("forecast", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const WeatherRecord observed = load_weather(arguments, true).front();
  const WeatherRecord known = with_forecast(arguments, observed);
  const Garden garden = load_garden(arguments, catalogue);
  options.now = now_option(arguments, observed, known, report);
  options.known_last = known.last();
  options.observed_last = observed.last();

  Diary diary(garden, options.now);
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
  std::vector<ForecastPlanting> inputs;
  int counted_before = 0;
  for (std::size_t i = 0; i < garden.plantings.size(); ++i) {
    ForecastPlanting input{
        .planting = &garden.plantings[i], .doings = {}, .log_from = {}, .saved = {}};
    const auto state = std::find_if(saved.begin(), saved.end(), [&](const SavedPlanting& one) {
      return one.name == garden.plantings[i].name;
    });
    if (state != saved.end()) input.saved = *state;
    const auto planted = input.saved
                             ? std::optional(input.saved->planted)
                             : growing_since(garden.plantings[i], options.now.date, options.growth);
    if (planted) diary.put_into(input, i, *planted, counted_before);
    inputs.push_back(std::move(input));
  }
  check_starts(garden, inputs, known, options);
  if (counted_before > 0) {
    report.notes.push_back(fmt::format(
        "waterings before the saved state, taken as counted in it: {}", counted_before));
  }

  std::vector<PreparedWeather> weathers;
  weathers.emplace_back(known, missing);
  const ForecastResult result = forecast(inputs, weathers.front(), catalogue, options);
  if (result.last_day < options.now.date) {
    throw RequestError(fmt::format(
        "found no weather for {}: {} has no days of other years around it; expected a longer "
        "record or a --forecast",
        to_string(options.now.date), observed.name()));
  }
  if (result.pots.empty()) {
    throw RequestError(
        fmt::format("found no planting of {} that grows on {}; expected one at least", garden.file,
                    to_string(options.now.date)));
  }
  add_weather_notes(weathers, report);
  add_notes(result, inputs, options, report);
  report.add_columns(forecast_columns());
  if (options.uncertain) report.add_columns(forecast_uncertain_columns());
  for (const PlantingForecast& pot : result.pots) {
    report.rows.push_back(row_of(pot, options.uncertain));
  }
  if (state_output) {
    std::vector<SavedPlanting> states;
    for (const PlantingForecast& pot : result.pots) states.push_back(pot.saved);
    state_output->write(state_csv(states));
  }
  deliver(report, how, output, [&] { return table_text(result, options, report, how.us_units); });
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
      "days", text_value("N"), "how far to look (default 14)")("members", text_value("N"),
                                                               "futures drawn (default 200)")(
      "uncertain", text_value("N"),
      "N futures, each with plant, mix, spot and model drawn from their ranges too")(
      "seed", text_value("N"), "which futures are drawn (default 1)")(
      "alarm", "exit with 10 if by the median a pot goes dry before its next visit")(
      "state", text_value("FILE"), "go on from what --save-state wrote")(
      "save-state", text_value("FILE"), "save the account, to go on tomorrow")(
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
      "Runs each planting to now over the weather observed, and from there over many futures in "
      "which nobody waters: the days of a forecast if one is given, then past days of other years "
      "within ten days of the date, in blocks of five so that spells stay together. The same seed "
      "gives the same answer. The record should hold several years; it ends yesterday or today.\n"
      "\n"
      "Until now each pot was watered as its routine says. A log or --watered says better: from a "
      "planting's first entry on, the log is taken as complete. The log is CSV:\n"
      "  when,name,given_l\n"
      "  2022-07-10 18:30,kale,\n"
      "  2022-07-12 07:15,kale,1.5\n"
      "blank in given_l (or given_gal): until it drained. A pot with tare_kg in the garden may be "
      "weighed: its water is the weight less tare and dry mix.\n"
      "\n"
      "--save-state writes where every account stands at the end of the observed weather, and "
      "what was done since; tomorrow --state goes on from there, to the last bit as if nothing had "
      "come between.\n"
      "\n"
      "Exit code 10 with --alarm: by the median, a pot goes dry before its next visit. The answer "
      "is written all the same.\n"
      "\n"
      "Times in CSV and JSON are to the minute for the model's sake; a plant keeps none.";
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
  command.columns = {{"Columns of CSV and JSON", forecast_columns()},
                     {"Appended by --uncertain", forecast_uncertain_columns()}};
  command.option_groups.push_back(garden_options());
  command.option_groups.push_back(weather_options());
  command.option_groups.push_back(own_options());
  command.option_groups.push_back(output_options());
  command.run = run_forecast_command;
  return command;
}

}  // namespace wiltline::cli
