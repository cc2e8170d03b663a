// The visits of the coming days: which pots, how much each, what will not last to the next visit,
// and what to protect from frost or heat. A forecast, arranged by who comes when.
#pragma once

#include <span>
#include <vector>

#include "wiltline/questions/forecast.hpp"

namespace wiltline {

/// One pot at one visit. Litres are of one pot: Planting::count says how many there are.
struct PlannedWatering {
  const Planting* planting = nullptr;
  /// Now for a pot that does not last to its first visit; as needed: when it asks.
  Instant visit;
  bool at_once = false;    // now, and nobody's visit
  bool by_helper = false;  // of a regular visit
  Spread give_l{};         // over the futures; all zero if it needs none but will not last
  double least_l = 0.0;    // less than this is not worth pouring
  /// By the median, if before the next visit: when it wilts.
  std::optional<Instant> wilts;
  bool feed_due = false;
  bool sheds = false;  // soak, wait, soak again
  /// A look finds it moist enough, but it wilts before the next: it is to be watered all the same.
  bool left_by_look = false;

  /// What to pour, litres: next to nothing is nothing.
  [[nodiscard]] double to_pour_l() const { return give_l.p50 < least_l ? 0.0 : give_l.p50; }
  [[nodiscard]] bool lasts_to_next() const { return !wilts.has_value(); }
  /// It must be looked at again on the day of the visit.
  [[nodiscard]] bool again_same_day() const { return wilts && wilts->date == visit.date; }
};

/// A day of the weather given as forecast that hurts.
struct WeatherWarning {
  Date date{};
  bool frost = false;        // colder than these plantings bear; else so hot that their pots heat
  double temperature_c = 0;  // the day's lowest, or highest
  std::vector<const Planting*> plantings;
};

/// Nights of the planned days that no forecast covers, as past years had them. Nothing is foreseen.
struct PastNights {
  int years = 0;       // of the record, before now, that hold all of these days
  int with_frost = 0;  // of them with a night colder than one of these plantings bears
  std::vector<const Planting*> plantings;
};

/// The waterings to come, with warnings of the weather. Points to the plantings, which must outlive
/// it.
struct PlanResult {
  /// By visit, those of a helper behind the others; within one those that must be looked at again
  /// the same day, then those that do not last, then the others.
  std::vector<PlannedWatering> waterings;
  std::vector<WeatherWarning> warnings;  // by day, frost first
  PastNights past_nights;
  ForecastResult forecast;  // where each pot stands, and what holds for all
};

/// The waterings of options.horizon_days from now on if every routine is kept: of each visit the
/// pots that are watered in at least half of the futures, and those that do not last to the next.
/// One that has wilted by now by the median, and that nobody comes to this very minute, is listed
/// now and taken as watered then, so that no later visit is asked for the same water. Throws as
/// forecast() does. Results point to the plantings.
[[nodiscard]] PlanResult plan(std::span<const ForecastPlanting> plantings, const Place& place,
                              const Catalogue& catalogue, ForecastOptions options);

/// A garden of which nothing is known besides its routines, which were kept.
[[nodiscard]] PlanResult plan(Plantings garden, const Place& place, const Catalogue& catalogue,
                              const ForecastOptions& options);

}  // namespace wiltline
