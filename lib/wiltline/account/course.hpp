// What a season brings to every pot alike that shares crop, spot, dates and routine.
#pragma once

#include <limits>
#include <vector>

#include "wiltline/account/planting_end.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/crop/comfort.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

struct CourseDay {
  CropDay crop;
  const SpotDay* spot = nullptr;
  double age_days = 0.0;         // since planting
  double leaf_area_share = 0.0;  // of full
  bool flowering = false;
  bool mid_season = false;
  const Routine* routine = nullptr;  // whose visits there are; null: nobody is there
  DayComfort comfort;
  double tmax_c = 0.0;
  std::size_t first_visit = 0;  // in Course::visits
  std::size_t visit_count = 0;
};

/// A planting's days from the one it was planted on to its end or the record's.
struct Course {
  Date first{};
  std::vector<CourseDay> days;
  std::vector<Visit> visits;
  EndedBy ended_by = EndedBy::record;

  [[nodiscard]] Date date(std::size_t day) const {
    return first + std::chrono::days(static_cast<int>(day));
  }
  [[nodiscard]] Date last() const { return date(days.size() - 1); }
  [[nodiscard]] DayPlan plan(std::size_t day) const;
};

/// A routine without its visits, helpers and days away.
[[nodiscard]] DayPlan routine_plan(const Routine& routine);
/// The same of whoever is there on a date: the gardener or a helper; nothing where nobody is.
[[nodiscard]] DayPlan routine_plan(const Routine& routine, Date date);

/// Adds the visits of a date, with the share of days that will pass before each next one; whoever
/// comes knows the routine, the days away and the helpers.
void add_visits(const Routine& routine, Date planted, Date date, const DemandCurve& curve,
                std::vector<Visit>& visits);

/// The first visit at or after an instant; empty for as-needed, or if nobody comes for over a year.
[[nodiscard]] std::optional<Instant> first_visit(const Routine& routine, Date planted,
                                                 const Instant& from);
/// The same after an instant.
[[nodiscard]] std::optional<Instant> next_visit(const Routine& routine, Date planted,
                                                const Instant& after);

/// `spot_days` must be the record seen from the planting's spot, and both outlive the course, as
/// the planting must. Here and below: RequestError if `planted` is not a day of the record, or for
/// another number of `spot_days` than the record has.
[[nodiscard]] Course plan_course(const Planting& planting, Date planted,
                                 const WeatherRecord& record, const std::vector<SpotDay>& spot_days,
                                 const ModelParameters& model, GrowthClock growth);

/// The crop on the days of a course, the same in every pot at the spot: on the first `most`.
[[nodiscard]] std::vector<CropDay> crop_days(
    const Planting& planting, Date planted, const WeatherRecord& record,
    const std::vector<SpotDay>& spot_days, const ModelParameters& model, GrowthClock growth,
    std::size_t most = std::numeric_limits<std::size_t>::max());

/// True if two plantings have the same course whenever they are planted on the same date.
[[nodiscard]] bool same_course(const Planting& a, const Planting& b);

}  // namespace wiltline
