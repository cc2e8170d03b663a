#include "notes.hpp"

#include <fmt/format.h>

#include "in_order.hpp"

namespace wiltline::cli {

void add_settings_note(const Arguments& arguments, std::vector<std::string>& notes) {
  if (!arguments.settings().note.empty()) notes.push_back(arguments.settings().note);
}

std::vector<std::string> weather_notes(const WeatherRecord& record, const SourceCounts& sources) {
  const std::vector<std::string> lines = sources.lines();
  if (!record.generated()) {
    return {fmt::format("{}: {}", record.name(), fmt::join(lines, "; "))};
  }
  return {
      fmt::format("{}: days drawn by chance from means of months, neither measured nor a forecast",
                  record.name()),
      fmt::format("{}: taken as if it were a record: {}", record.name(), fmt::join(lines, "; "))};
}

void add_without_effect(Plantings plantings, const std::vector<Place>& places, GrowthClock growth,
                        Report& report) {
  // One line for what several plantings share.
  std::vector<std::pair<std::string, std::vector<std::string>>> shared;
  const auto add = [&](const std::string& what, const Planting& planting) {
    entry(shared, what).push_back(planting.name);
  };
  for (const WithoutEffect& one : without_effect(plantings, places, growth)) {
    for (const PlantingDay& day : one.pruned) add("pruned " + written(day), *one.planting);
    for (const DaysAway& away : one.days_away) add("away " + to_string(away), *one.planting);
    for (const Helper& helper : one.helpers) add("helper " + to_string(helper.days), *one.planting);
  }
  for (const auto& [what, names] : shared) {
    report.notes.push_back(
        fmt::format("without effect, on no day of growth in this weather: {} of {}", what,
                    fmt::join(names, ", ")));
  }
}

void add_weather_notes(const std::vector<Place>& places, Report& report) {
  bool any_solar_clock = false;
  for (const Place& place : places) {
    const WeatherRecord& record = place.record();
    for (std::string& note : weather_notes(record, place.sources())) {
      report.notes.push_back(std::move(note));
    }
    if (!record.rain_observed()) {
      report.notes.push_back(
          fmt::format("{}: no rain column, so rain is taken as none", record.name()));
    } else if (place.days_without_rain_reading() > 0) {
      report.notes.push_back(fmt::format("{}: rain unknown on {} of {} days, taken as none",
                                         record.name(), place.days_without_rain_reading(),
                                         record.size()));
    }
    any_solar_clock = any_solar_clock || record.site().clock_is_solar();
  }
  if (any_solar_clock) {
    report.notes.emplace_back(
        "clock times are solar time (noon when the sun is highest): no longitude and UTC offset "
        "given");
  }
}

void add_holes_note(std::span<const Planting> plantings, Report& report) {
  std::vector<std::string> names;
  for (const Planting& planting : plantings) {
    if (!planting.pot.drains) add_once(names, planting.pot.name);
  }
  if (names.empty()) return;
  report.notes.push_back(
      fmt::format("caution: no drain hole in {}: after rain or a full watering roots stand in "
                  "water; make holes",
                  fmt::join(names, ", ")));
}

}  // namespace wiltline::cli
