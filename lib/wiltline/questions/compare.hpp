// One crop, or a garden, tried in other pots, mixes, walls, spots and numbers of plants: which of
// them is enough for the watering the gardener can keep.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// What to try. An empty list leaves a planting as it is.
struct Choices {
  std::vector<Pot> pots;
  std::vector<Mix> mixes;
  std::vector<Wall> walls;  // in place of the pot's own
  std::vector<Spot> spots;
  std::vector<int> plants;
};

/// Every planting in every combination of the lists, the last list turning fastest.
[[nodiscard]] std::vector<Planting> crossed(std::span<const Planting> plantings,
                                            const Choices& choices);

/// A season of a planting and the weather it ran on.
struct Summer {
  SeasonResult result;
  PreparedWeather* weather = nullptr;
};

/// Every planting on every planting day of every record: a list for each, empty for a planting no
/// record holds. The results point to `plantings` and `weathers`.
[[nodiscard]] std::vector<std::vector<Summer>> run_summers(std::span<const Planting> plantings,
                                                           std::span<PreparedWeather> weathers,
                                                           const ModelParameters& model,
                                                           const SeasonOptions& options);

/// The place of the worst of at least one summer: most dry days, then most wilting, then most
/// stressed; the earlier of equals.
[[nodiscard]] std::size_t worst_of(std::span<const Summer> summers);

/// One choice over all its summers: one a planting day and weather record.
struct ComparedChoice {
  const Planting* planting = nullptr;
  int summers = 0;
  int summers_above_wilting = 0;  // without a wilting or dry day
  int summers_cut_by_record = 0;
  double peak_use_l_day = 0.0;       // highest of the summers
  double waterings_week_peak = 0.0;  // highest
  double watered_l = 0.0;            // mean
  double longest_gap_days = 0.0;     // longest seen
  /// The shortest time from watered until it drains, at the routine's first hour, to the wilting
  /// line, of all starts in the four weeks around the peak of every summer, as if no rain fell.
  /// Starts before the planting has settled in, and those that do not get there before the season
  /// ends are left out; empty if none does.
  std::optional<double> longest_safe_gap_days;
  SeasonResult worst;  // the worst summer
  const WeatherRecord* worst_record = nullptr;
  std::optional<Date> first_wilting;  // in the worst summer
  /// Most wilting days in a summer while settling in, and the first day after it in the summer that
  /// settled last; empty: not in every summer.
  int wilting_days_settling = 0;
  std::optional<Date> settled;
  /// Most wilting days in a summer from the day on which roots have filled the pot.
  int wilting_days_rooted = 0;

  /// No wilting day in any summer once settled in.
  [[nodiscard]] bool enough() const { return summers_above_wilting == summers; }
};

/// Hour at which a pot of this routine is watered first in a day; 07:00 where it is watered as
/// needed.
[[nodiscard]] double first_watering_h(const Routine& routine);

/// Runs every planting on every planting day of every record; a planting no record holds is left
/// out. Those that are enough first, then by fewest dry, wilting and stressed days of the worst
/// summer, then by least mix, then in the order given.
[[nodiscard]] std::vector<ComparedChoice> compare(std::span<const Planting> plantings,
                                                  std::span<PreparedWeather> weathers,
                                                  const ModelParameters& model,
                                                  const SeasonOptions& options);

}  // namespace wiltline
