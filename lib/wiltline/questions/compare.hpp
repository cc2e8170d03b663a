// Plantings side by side, such as one crop in other pots, mixes and spots (candidates.hpp): which
// of them is enough for the watering the gardener can keep.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <tuple>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// A season of a planting and where it ran.
struct Summer {
  SeasonResult result;
  Place place;
};

/// Every planting on every planting day of every record: a list for each, empty for a planting no
/// record holds. Throws as compare. The results point to `plantings`.
[[nodiscard]] std::vector<std::vector<Summer>> run_summers(Plantings plantings, Places places,
                                                           const SeasonOptions& options);

/// The index of the worst summer: most dry days, then most wilting, then most
/// stressed; the earlier of equals. Of at least one: RequestError.
[[nodiscard]] std::size_t worst_of(std::span<const Summer> summers);

/// Dry, wilting and stressed days of a summer: what makes one worse than another, in this order.
[[nodiscard]] std::tuple<int, int, int> hardship(const SeasonSummary& summary);

/// How many of the summers had neither a wilting nor a dry day once settled in.
[[nodiscard]] int summers_above_wilting(std::span<const Summer> summers);

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
  /// The same of the summer in which that time is longest.
  std::optional<double> mildest_safe_gap_days;
  SeasonResult worst;  // the worst summer
  std::shared_ptr<const WeatherRecord> worst_record;
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

/// One planting over its summers, of at least one: RequestError.
[[nodiscard]] ComparedChoice summed_up(std::vector<Summer> summers, GrowthClock growth);

/// Hour at which a pot of this routine is watered first in a day; 07:00 where it is watered as
/// needed.
[[nodiscard]] double first_watering_h(const Routine& routine);

/// Runs every planting on every planting day of every record; a planting no record holds is left
/// out. Those that are enough first, then by fewest dry, wilting and stressed days of the worst
/// summer, then by least mix, then in the order given. Throws RequestError as check_places,
/// InputError if rain is unknown on some days (Place::require_rain). Results point to `plantings`.
[[nodiscard]] std::vector<ComparedChoice> compare(Plantings plantings, Places places,
                                                  const SeasonOptions& options = {});

}  // namespace wiltline
