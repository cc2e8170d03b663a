// Time away: how many of the past windows of an absence a pot came through, and the smallest pot
// that came through enough of them.
//
// A window begins at the same hour of every start day. Until then somebody came each day at that
// hour and watered until it drained, as with the routine `daily 18:00`; at the leave hour it is
// done once more, nobody but a helper, if there is one, comes until the hour of return, and the
// window is passed if the depletion never went beyond the line in between. The planting's own
// routine does not matter. Roots, canopy, rain and p are those of the day, as in the season. A
// window counts only from the day on which the planting has settled in.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// Somebody who waters while the gardener is away.
struct TripHelper {
  struct Visit {
    int day = 1;         // after the day of leaving, before the day of return
    double hour = 18.0;  // clock hour

    bool operator==(const Visit&) const = default;
  };
  std::vector<Visit> visits{};     // ascending
  std::optional<double> give_l{};  // a visit; empty: until it drains
  bool soaks = false;              // as Routine::soaks

  bool operator==(const TripHelper&) const = default;
};

/// Nobody is away longer, hours: a hundred years.
inline constexpr double most_away_h = 24.0 * 36525.0;

/// An absence and what counts as coming through it.
struct AbsenceOptions {
  double leave_h = 18.0;      // clock hour, in [0, 24)
  double away_h = 48.0;       // above 0, up to most_away_h
  unsigned first_month = 6;   // start days are those of these months, both included; a first month
  unsigned last_month = 8;    // after the last one goes over the new year
  Line line = Line::wilting;  // not to be crossed
  bool rain_counts = true;    // if not, no rain falls at all
  double share = 0.95;        // of windows passed, asked of the smallest pot; in (0, 1]
  GrowthClock growth = GrowthClock::stage_days;
  /// If given, every year's one trip starts on it, whatever the months; a 29 February on the 28th
  /// in a common year.
  std::optional<MonthDay> start_day{};
  TripHelper helper{};  // no visits: nobody comes

  /// Whole days from the one of leaving to the one of return; a return at 00:00 is at the end of
  /// the day before. Throws RequestError for hours out of their ranges.
  [[nodiscard]] int days_to_return() const;
  /// Clock hour of the return, in (0, 24].
  [[nodiscard]] double return_h() const;
};

struct Months {
  unsigned first = 1;
  unsigned last = 12;
};
/// The three months in a row that are warmest by the mean of all days of the records, over the new
/// year too. A month without a day counts as colder than any. Throws RequestError as check_places.
[[nodiscard]] Months warmest_months(Places places);

/// The days within which the windows of a planting lie: from planting to its end.
struct PlantingDays {
  Date planted{};
  Date last{};
  EndedBy ended_by = EndedBy::record;
};

/// One pot's windows. The share passed is one of past weather, not a probability.
struct AbsencePot {
  const Planting* planting = nullptr;
  double mix_l = 0.0;
  int summers = 0;                    // plantings (years and records) that had a window
  std::vector<PlantingDays> lives{};  // of those
  int windows = 0;
  int passed = 0;
  std::vector<Date> failed{};  // days of leaving of the windows not passed, in order of the records

  /// 0 without windows.
  /// Passed over windows; empty without windows.
  [[nodiscard]] std::optional<double> share() const;
};

/// Every candidate in its windows, and which to take. Points to the candidates, which must outlive
/// it.
struct AbsenceResult {
  std::vector<AbsencePot> pots;         // in the order of the candidates
  std::optional<std::size_t> smallest;  // the least mix among those with the share asked
};

/// True if a pot passed at least this share of its windows, and had any.
[[nodiscard]] bool passes(const AbsencePot& pot, double share);

/// Runs every candidate through every window that lies wholly in a record and in its own life:
/// its own crop, spot and dates. `candidates`: the rows of a garden, or one planting in several
/// pots; what they share is worked out once. No candidate: no pot in the
/// answer. Throws RequestError for options out of their ranges and as check_places, and InputError
/// if rain counts and is unknown on some days (Place::require_rain). Results point to `candidates`.
[[nodiscard]] AbsenceResult absence(Plantings candidates, Places places,
                                    const AbsenceOptions& options = {});

/// The same without AbsencePot::lives: what happens after the last window is not worked out.
[[nodiscard]] AbsenceResult absence_windows(Plantings candidates, Places places,
                                            const AbsenceOptions& options = {});

}  // namespace wiltline
