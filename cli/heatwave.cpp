// wiltline heatwave: how often each pot must be watered in a hot spell.

#include "wiltline/questions/heatwave.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "choices.hpp"
#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "heatwave_answer.hpp"
#include "in_order.hpp"
#include "notes.hpp"
#include "page/page.hpp"
#include "planting_options.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "weather_options.hpp"
#include "what_matters.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr int most_days = 60;
constexpr int fewest_hot_days = 3;

/// Degrees as they are typed.
struct DegreesOption {
  const char* name;
  std::string_view expected;
  double (*c_of_f)(double);
  double low_c;
  double high_c;
  std::string_view allowed;
};

/// A number in °C, or in °F with an `f` after it.
std::optional<double> degrees_option(const Arguments& arguments, const DegreesOption& option) {
  const auto given = arguments.text(option.name);
  if (!given) return std::nullopt;
  std::string_view text = trim(*given);
  const std::string unit = text.empty() ? "" : folded(text.substr(text.size() - 1));
  if (unit == "f" || unit == "c") text = trim(text.substr(0, text.size() - 1));
  const auto number = parse_number(text);
  const double value = unit == "f" ? option.c_of_f(number.value_or(0.0)) : number.value_or(0.0);
  if (number && value >= option.low_c && value <= option.high_c) return value;
  refuse("--{}: found {}; expected {}", option.name, in_quotes(*given),
         number ? option.allowed : option.expected);
}

constexpr DegreesOption at_least{
    "at-least", "a temperature such as 35c or 95f", units::celsius_from_fahrenheit, -60.0,
    60.0,       "-60 to 60 °C (-76 to 140 °F)"};
constexpr DegreesOption warmer_by{
    "warmer", "degrees such as 3, 3c or 5.4f", [](double f) { return f / 1.8; }, 0.0,
    15.0,     "0 to 15 °C (0 to 27f)"};

SpellRequest spell_request(const Arguments& arguments) {
  for (const auto& [one, other] : {std::pair{"at-least", "days"},
                                   {"at-least", "by"},
                                   {"at-least", "first-day"},
                                   {"first-day", "by"}}) {
    refuse_together(arguments, one, other);
  }
  SpellRequest request;
  request.days = whole_number(arguments, "days", 1, most_days).value_or(request.days);
  request.by = arguments.word<Heat>("by", "tmax", {{"tmax", Heat::tmax}, {"et0", Heat::et0}});
  request.at_least_c = degrees_option(arguments, at_least);
  request.first_day = date_option(arguments, "first-day");
  return request;
}

/// `preferred`: of the spells that the weather alone names, which are looked at first.
HotSpell find_spell(const Place& place, const SpellRequest& request, const SpellIs& preferred,
                    const Arguments& arguments) {
  const WeatherRecord& record = place.record();
  if (static_cast<std::size_t>(request.days) > record.size() && !request.at_least_c) {
    refuse("--days: found {}, longer than the {} days of {}; expected a spell that fits in",
           request.days, record.size(), record.name());
  }
  if (request.first_day) {
    if (const auto spell = spell_from(place, *request.first_day, request.days)) return *spell;
    refuse("--first-day: found {} with {} days; expected a spell within {}, {} to {}",
           to_string(*request.first_day), request.days, record.name(), to_string(record.first()),
           to_string(record.last()));
  }
  const auto spell = request.at_least_c
                         ? longest_spell(place, *request.at_least_c, fewest_hot_days, preferred)
                         : hottest_spell(place, request.days, request.by, preferred);
  if (spell) return *spell;
  refuse("--at-least: found {}, reached on no {} days in a row of {}; expected less",
         in_quotes(*arguments.text("at-least")), fewest_hot_days, record.name());
}

/// As-needed watering stops at so many a day: more may be needed.
void add_cap_note(const std::vector<HeatwaveAnswer>& answers, const ModelParameters& model,
                  Report& report) {
  std::vector<std::string> names;
  for (const HeatwaveAnswer& answer : answers) {
    for (const HeatwavePot& pot : answer.result.pots) {
      if (pot.most_waterings_a_day < model.as_needed_cap_per_day) continue;
      add_once(names, fmt::format("{} in {}", pot.planting->name, pot.planting->pot.name));
    }
  }
  if (names.empty()) return;
  report.notes.push_back(fmt::format("even {} waterings a day are too few to avoid stress for: {}",
                                     shortest(model.as_needed_cap_per_day),
                                     fmt::join(names, "; ")));
}

void add_heat_notes(const std::vector<HeatwaveAnswer>& answers, double warmer_c, bool us,
                    Report& report) {
  if (warmer_c > 0.0) {
    report.notes.push_back(
        fmt::format("lowest and highest temperatures raised by {} {}; moisture of the air and "
                    "radiation as they were",
                    degrees_warmer(warmer_c, us), unit_text(Quantity::temperature_c, us)));
  }
  for (const HeatwaveAnswer& answer : answers) {
    std::vector<std::string> names;
    for (const Planting* planting : answer.result.absent) {
      add_once(names, fmt::format("{} in {}", planting->name, planting->pot.name));
    }
    if (names.empty()) continue;
    report.notes.push_back(
        fmt::format("{}: not growing all through {} to {}, so left out (--full-grown takes plants "
                    "at their largest): {}",
                    answer.record->name(), full_date_in_words(answer.spell.first),
                    full_date_in_words(answer.spell.last()), fmt::join(names, "; ")));
  }
}

void run_heatwave(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const MissingDataOptions missing = missing_data_options(arguments);
  const SpellRequest request = spell_request(arguments);
  const double warmer_c = degrees_option(arguments, warmer_by).value_or(0.0);
  const HeatwaveOptions options{.growth = growth_clock(arguments),
                                .full_grown = arguments.flag("full-grown")};
  refuse_together(arguments, "full-grown", "growth");
  const std::optional<DrawOptions> draws = draw_options(arguments);
  const auto matters = matters_options(arguments);
  Output output = open_output(arguments);
  Report report("heatwave", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  std::vector<WeatherRecord> records = load_weather(arguments, false);
  const std::vector<Place> measured = places_of(records, catalogue.parameters, missing);
  const ChosenPlantings chosen =
      chosen_plantings(arguments, catalogue, measured, !options.full_grown, report.notes);

  std::vector<WeatherRecord> raised;
  for (const WeatherRecord& record : records) raised.push_back(warmer(record, warmer_c, missing));
  if (matters && raised.size() > 1) {
    refuse("--what-matters: found {} weather records; expected one, with one spell", raised.size());
  }
  std::vector<HeatwaveAnswer> answers;
  bool any = false;
  for (const WeatherRecord& record : raised) {
    const Place place(record, catalogue.parameters, missing);
    const HotSpell spell =
        find_spell(place, request, grown_through(chosen.plantings, place, options), arguments);
    if (const HotSpell of_all = find_spell(place, request, {}, arguments);
        of_all.first != spell.first) {
      report.notes.push_back(fmt::format(
          "{}: {} to {} not taken: none of the plantings grows all through it", record.name(),
          full_date_in_words(of_all.first), full_date_in_words(of_all.last())));
    }
    answers.push_back({&record, spell, heatwave(chosen.plantings, place, spell, options)});
    any = any || !answers.back().result.pots.empty();
    if (draws && !matters) {
      answers.back().spreads =
          heatwave_spreads(chosen.plantings, place, spell, catalogue, options, *draws);
    }
  }
  if (!any) {
    refuse("found no planting that grows from {} to {}; expected one, or --full-grown",
           full_date_in_words(answers.front().spell.first),
           full_date_in_words(answers.front().spell.last()));
  }

  add_holes_note(chosen.plantings, report);
  add_weather_notes(measured, report);
  add_heat_notes(answers, warmer_c, how.us_units, report);
  add_cap_note(answers, catalogue.parameters, report);
  report.caution = caution_text("you water");
  const Differences differ = differences(chosen.plantings, chosen.of_garden);
  if (matters) {
    const Place place(raised.front(), catalogue.parameters, missing);
    return deliver_what_matters(
        heatwave_what_matters(chosen.plantings, place, answers.front().spell, catalogue, options,
                              *matters),
        *matters, [&](const Planting& one) { return choice_text(one, differ); }, report, how,
        output);
  }
  const bool weather = records.size() > 1;
  std::vector<HeatwaveRow> rows;
  for (const HeatwaveAnswer& answer : answers) {
    for (const HeatwavePot& pot : answer.result.pots) {
      rows.push_back({&pot, &answer});
      if (!draws) continue;
      const auto place = static_cast<std::size_t>(pot.planting - chosen.plantings.data());
      if (answer.spreads[place]) rows.back().spread = &*answer.spreads[place];
    }
  }
  report.fill(heatwave_table(weather, draws.has_value()), rows);
  if (how.page) {
    const auto enough = std::ranges::count_if(
        rows, [](const HeatwaveRow& row) { return row.pot->once_a_day.enough(); });
    report.title = "The hottest days";
    report.answer = fmt::format("Watered once a day, {} of {} pots get through without wilting.",
                                enough == 0 ? "none" : std::to_string(enough), rows.size());
    add_ranges(report,
               {"How often each pot asks for water",
                "Waterings a day if it is watered the moment the plant starts to run short, most "
                "first; in words whether once a day is enough."},
               {.label = {"name", "pot", "weather"},
                .value = "waterings_per_day",
                .words = {{"; once a day: ", "once_a_day_enough"}}},
               how.us_units);
  }
  deliver(report, how, output, [&] {
    std::string out = heatwave_text(
        answers, request, common_text(chosen.plantings.front(), differ, !options.full_grown),
        differ, warmer_c, report, how.us_units);
    if (!draws) return out;
    out += '\n' + paragraph(draws_text(*draws));
    for (const HeatwaveRow& row : rows) {
      out +=
          paragraph(fmt::format("{}{}: {}.", choice_text(row.planting(), differ),
                                weather ? " (" + printable(row.answer->record->name()) + ")" : "",
                                spread_text(*row.spread, *draws, how.us_units)));
    }
    return out;
  });
}

}  // namespace

Command heatwave_command() {
  return described("heatwave", run_heatwave,
                   sections_of(heatwave_table(false, true), matters_table()));
}

}  // namespace wiltline::cli
