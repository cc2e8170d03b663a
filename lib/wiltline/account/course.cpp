#include "wiltline/account/course.hpp"

#include <fmt/format.h>

#include "wiltline/account/crop_run.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline {
namespace {

constexpr int longest_look_ahead_days = 400;
constexpr std::size_t week_days = 7;

bool visited(const Routine& routine, Date planted, Date date) {
  return routine.visits_on(date, (date - planted).count());
}

/// Whole days to the next day with a visit, or with somebody who waters as needed.
int days_until_next_visit_day(const Routine& routine, Date planted, Date date) {
  for (int ahead = 1; ahead < longest_look_ahead_days; ++ahead) {
    const Date next = date + std::chrono::days(ahead);
    const Routine* const whose = routine.routine_on(next);
    if (whose != nullptr && (whose->as_needed || visited(routine, planted, next))) return ahead;
  }
  return longest_look_ahead_days;
}

/// The first visit from a date on that is wanted; empty as for first_visit.
template <typename Wanted>
std::optional<Instant> visit_that(const Routine& routine, Date planted, Date from,
                                  const Wanted& wanted) {
  if (routine.as_needed) return std::nullopt;
  for (int ahead = 0; ahead < longest_look_ahead_days; ++ahead) {
    const Date date = from + std::chrono::days(ahead);
    if (!visited(routine, planted, date)) continue;
    for (const double hour : routine.routine_on(date)->visit_hours) {
      const Instant visit{date, hour};
      if (wanted(visit)) return visit;
    }
  }
  return std::nullopt;
}

/// Temperatures of a day with the mean of its week.
DayTemperatures temperatures(const WeatherRecord& record, std::size_t index, const SpotDay& spot) {
  const std::size_t first = index >= week_days - 1 ? index - (week_days - 1) : 0;
  double sum = 0.0;
  for (std::size_t i = first; i <= index; ++i) {
    sum += (record.day(i).tmin_c + record.day(i).tmax_c) / 2.0;
  }
  return {.tmin_c = record.day(index).tmin_c,
          .tmax_c = record.day(index).tmax_c,
          .week_mean_c = sum / static_cast<double>(index - first + 1),
          .frost_tmin_c = spot.frost_tmin_c};
}

/// Where a day stands in a record and in its days at a spot; refuses others.
std::size_t index_in(const WeatherRecord& record, Date date,
                     const std::vector<SpotDay>& spot_days) {
  if (spot_days.size() != record.size()) {
    throw RequestError(fmt::format("{}: found {} days at a spot; expected the record's {}",
                                   record.name(), spot_days.size(), record.size()));
  }
  return record.index_of(date);
}

}  // namespace

void add_visits(const Routine& routine, Date planted, Date date, const DemandCurve& curve,
                std::vector<Visit>& visits) {
  if (!visited(routine, planted, date)) return;
  const int days_to_next = days_until_next_visit_day(routine, planted, date);
  const std::size_t first = visits.size();
  const auto age_days = static_cast<double>((date - planted).count());
  for (const double hour : routine.routine_on(date)->visit_hours) {
    const double x = curve.share_by(hour);
    visits.push_back({.at = x,
                      .until_next = 0.0,  // below
                      .at_days = days_since_planting(age_days, curve, x)});
  }
  if (visits.size() == first) return;  // a routine without hours
  for (std::size_t i = first; i + 1 < visits.size(); ++i) {
    visits[i].until_next = visits[i + 1].at - visits[i].at;
  }
  const Routine* const next = routine.routine_on(date + std::chrono::days(days_to_next));
  const double next_at = next == nullptr || next->visit_hours.empty()
                             ? 0.0
                             : curve.share_by(next->visit_hours.front());
  visits.back().until_next = 1.0 - visits.back().at + (days_to_next - 1.0) + next_at;
}

std::optional<Instant> first_visit(const Routine& routine, Date planted, const Instant& from) {
  return visit_that(routine, planted, from.date,
                    [&](const Instant& visit) { return visit >= from; });
}

std::optional<Instant> next_visit(const Routine& routine, Date planted, const Instant& after) {
  return visit_that(routine, planted, after.date,
                    [&](const Instant& visit) { return visit > after; });
}

DayPlan routine_plan(const Routine& routine) {
  return {.as_needed = routine.as_needed,
          .rule = routine.rule,
          .give_l = routine.give_l,
          .pouring = routine.soaks ? Pouring::soaked_twice : Pouring::once};
}

DayPlan routine_plan(const Routine& routine, Date date) {
  const Routine* const whose = routine.routine_on(date);
  return whose == nullptr ? DayPlan{} : routine_plan(*whose);
}

DayPlan Course::plan(std::size_t day) const {
  const CourseDay& today = days[day];
  DayPlan plan = today.routine == nullptr ? DayPlan{} : routine_plan(*today.routine);
  plan.visits = std::span(visits).subspan(today.first_visit, today.visit_count);
  return plan;
}

Course plan_course(const Planting& planting, Date planted, const WeatherRecord& record,
                   const std::vector<SpotDay>& spot_days, const ModelParameters& model,
                   GrowthClock growth) {
  (void)index_in(record, planted, spot_days);
  const FrostLimits limits = frost_limits(model);
  CropRun crop(planting, planted, model, growth);

  Course course;
  course.first = planted;
  while (crop.date() <= record.last() && !crop.finished()) {
    const Date date = crop.date();
    const std::size_t index = record.index_of(date);
    const SpotDay& spot = spot_days[index];
    const CropDay crop_day = crop.begin_day(spot, model);
    const std::size_t first_visit = course.visits.size();
    add_visits(planting.routine, planted, date, spot.curve, course.visits);
    course.days.push_back(
        {.crop = crop_day,
         .spot = &spot,
         .age_days = crop.age_days(),
         .leaf_area_share = crop.leaf_area_share(),
         .flowering = crop.flowering(model.first_flowers),
         .mid_season = crop.mid_season(),
         .routine = planting.routine.routine_on(date),
         .comfort = crop.comfort(limits, temperatures(record, index, spot), model.first_flowers),
         .tmax_c = record.day(index).tmax_c,
         .first_visit = first_visit,
         .visit_count = course.visits.size() - first_visit});
    crop.end_day(spot);
  }
  course.ended_by = crop.ended_by().value_or(EndedBy::record);
  return course;
}

std::vector<CropDay> crop_days(const Planting& planting, Date planted, const WeatherRecord& record,
                               const std::vector<SpotDay>& spot_days, const ModelParameters& model,
                               GrowthClock growth, std::size_t most) {
  std::vector<CropDay> days;
  std::size_t i = index_in(record, planted, spot_days);
  CropRun crop(planting, planted, model, growth);
  for (; i < record.size() && days.size() < most && !crop.finished(); ++i) {
    days.push_back(crop.begin_day(spot_days[i], model));
    crop.end_day(spot_days[i]);
  }
  return days;
}

bool same_course(const Planting& a, const Planting& b) {
  return same_crops(a, b) && a.spot == b.spot && a.routine == b.routine && a.ends == b.ends &&
         a.hardened == b.hardened && a.leaf_by_leaf == b.leaf_by_leaf && a.pruned == b.pruned;
}

}  // namespace wiltline
