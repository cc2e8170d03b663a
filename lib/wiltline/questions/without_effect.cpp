#include "wiltline/questions/without_effect.hpp"

#include "wiltline/account/course.hpp"

namespace wiltline {
namespace {

/// The days on which a planting grows, both ends included.
struct Stretch {
  Date first;
  Date last;
};

std::vector<Stretch> seasons_of(const Planting& planting, Places places, GrowthClock growth) {
  std::vector<Stretch> seasons;
  for (const Place& place : places) {
    for (const Date planted : planting_dates(planting, place.record())) {
      const Course course = plan_course(planting, planted, place.record(), place.at(planting.spot),
                                        place.model(), growth);
      seasons.push_back({course.first, course.last()});
    }
  }
  return seasons;
}

template <typename OnDay>
bool any_day(const std::vector<Stretch>& seasons, const OnDay& on_day) {
  for (const Stretch& season : seasons) {
    for (Date date = season.first; date <= season.last; date += std::chrono::days(1)) {
      if (on_day(date)) return true;
    }
  }
  return false;
}

}  // namespace

std::vector<WithoutEffect> without_effect(Plantings plantings, Places places, GrowthClock growth) {
  check_places(places);
  std::vector<WithoutEffect> result;
  for (const Planting& planting : plantings) {
    const Routine& routine = planting.routine;
    if (planting.pruned.empty() && routine.days_away.empty() && routine.helpers.empty()) continue;
    const std::vector<Stretch> seasons = seasons_of(planting, places, growth);
    if (seasons.empty()) continue;
    WithoutEffect one{.planting = &planting, .pruned = {}, .days_away = {}, .helpers = {}};
    for (const PlantingDay& day : planting.pruned) {
      if (!any_day(seasons, [&](Date date) { return falls_on(day, date); })) {
        one.pruned.push_back(day);
      }
    }
    for (const DaysAway& away : routine.days_away) {
      if (!any_day(seasons, [&](Date date) { return away.covers(date); })) {
        one.days_away.push_back(away);
      }
    }
    for (const Helper& helper : routine.helpers) {
      if (!any_day(seasons, [&](Date date) { return helper.days.covers(date); })) {
        one.helpers.push_back(helper);
      }
    }
    if (!one.pruned.empty() || !one.days_away.empty() || !one.helpers.empty())
      result.push_back(std::move(one));
  }
  return result;
}

}  // namespace wiltline
