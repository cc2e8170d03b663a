#include "garden_options.hpp"

#include <fmt/format.h>
#include <algorithm>

#include "notes.hpp"
#include "refuse.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {

Catalogue load_catalogue(const Arguments& arguments, std::vector<std::string>& notes) {
  add_settings_note(arguments, notes);
  const auto folder = arguments.text("models");
  if (!folder) return read_catalogue(builtin_tables());
  const FolderTables found = tables_in_folder(*folder);
  if (!found.missing.empty()) {
    notes.push_back(fmt::format("model tables not in {}, so built-in: {}", *folder,
                                fmt::join(found.missing, ", ")));
  }
  return read_catalogue(found.tables);
}

Garden load_garden(const Arguments& arguments, const Catalogue& catalogue) {
  const auto file = arguments.text("garden");
  if (!file) refuse("no garden; expected --garden FILE");
  FileBytes bytes = read_file(*file);
  std::string name = bytes.name;
  return {std::move(name), read_garden(std::move(bytes), catalogue)};
}

void check_planting_days(const Garden& garden, const std::vector<Place>& places) {
  ProblemList problems;
  for (const Planting& planting : garden.plantings) {
    const bool anywhere = std::ranges::any_of(places, [&](const Place& place) {
      return !planting_dates(planting, place.record()).empty();
    });
    if (anywhere) continue;
    const WeatherRecord& record = places.front().record();
    problems.add({garden.file, planting.line, 0,
                  fmt::format("{} planted {}", in_quotes(planting.name), written(planting.planted)),
                  fmt::format("a day within the weather, {} to {}", to_string(record.first()),
                              to_string(record.last()))});
  }
  problems.throw_if_any();
}

void take_time_away(const Arguments& arguments, Garden& garden) {
  for (const std::string& text : arguments.texts("away")) {
    const auto away = parse_days_away(text);
    if (!away) {
      refuse("--away: found {}; expected {}", in_quotes(text), days_away_example);
    }
    for (Planting& planting : garden.plantings) planting.routine.days_away.push_back(*away);
  }
  for (const std::string& text : arguments.texts("helper")) {
    const Helper helper = accepted("helper", parse_helper(text));
    for (Planting& planting : garden.plantings) planting.routine.helpers.push_back(helper);
  }
}

void check_helpers(const Arguments& arguments, const Garden& garden,
                   const std::vector<Place>& places, GrowthClock growth) {
  if (!arguments.flag("helper")) return;
  const auto idle = without_effect(garden.plantings, places, growth);
  for (const std::string& text : arguments.texts("helper")) {
    const Helper helper = accepted("helper", parse_helper(text));
    const auto never_comes = [&](const WithoutEffect& one) {
      return std::ranges::find(one.helpers, helper) != one.helpers.end();
    };
    if (!std::ranges::all_of(garden.plantings, [&](const Planting& one) {
          return std::ranges::any_of(idle, [&](const WithoutEffect& other) {
            return other.planting == &one && never_comes(other);
          });
        })) {
      continue;
    }
    refuse("--helper: found {}, when nothing of {} grows; expected days of its season",
           to_string(helper.days), garden.file);
  }
}

GrowthClock growth_clock(const Arguments& arguments) {
  return arguments.word<GrowthClock>(
      "growth", "days",
      {{"days", GrowthClock::stage_days}, {"degree-days", GrowthClock::degree_days}});
}

}  // namespace wiltline::cli
