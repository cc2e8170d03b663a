// What has to be said of weather and garden beside the answer.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "command.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/questions/without_effect.hpp"

namespace wiltline::cli {

/// Notes what was taken from a settings file; load_catalogue does it, too.
void add_settings_note(const Arguments& arguments, std::vector<std::string>& notes);

/// What must be known of a record with every answer: what was estimated, rain, clock.
[[nodiscard]] std::vector<std::string> weather_notes(const WeatherRecord& record,
                                                     const SourceCounts& sources);

/// A note for each day of pruning and stretch of days away without effect in this weather.
void add_without_effect(Plantings plantings, const std::vector<Place>& places, GrowthClock growth,
                        Report& report);

/// The notes of several places: sources, rain not observed, clock times.
void add_weather_notes(const std::vector<Place>& places, Report& report);

/// A caution that names crops grown for their fruit in spots too dark for it, if there are any.
void add_shade_note(std::span<const Planting> plantings, Report& report);
/// A note that names the pots without a drain hole, if there are any.
void add_holes_note(std::span<const Planting> plantings, Report& report);

/// What becomes of a garden's saucers where its plantings are tried in other pots; empty without
/// any.
[[nodiscard]] std::optional<std::string> saucers_note(std::span<const Planting> plantings);

}  // namespace wiltline::cli
