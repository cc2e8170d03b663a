#include "wiltline/account/planting_run.hpp"

#include "wiltline/account/course.hpp"

namespace wiltline {

PlantingRun::PlantingRun(const Planting& planting, Date planted, bool south,
                         const ModelParameters& model, GrowthClock growth)
    : model_(model),
      setting_(planting_setting(planting, build_pot(planting, model), model)),
      planted_(planted),
      end_(planting, planted, south, model, growth),
      development_(planting.crop, growth, setting_.crop.first_leaf_share) {
  state_.date = planted;
  state_.pot.rooted_share = setting_.pot.initial_rooted_share;  // refilled, a mulch still dry
}

RunState PlantingRun::state() const {
  RunState state = state_;
  state.development = development_.state();
  return state;
}

void PlantingRun::resume(const RunState& state) {
  state_ = state;
  development_.resume(state.development);
  finished_ = end_.latest() && state.date > *end_.latest();
}

DayForcing PlantingRun::begin_day(const SpotDay& day) {
  prune_on(state_.date, planting(), model_, development_);
  const CropDay crop = crop_day(setting_.crop, day, development_, model_);
  return planting_day(setting_, crop, age_days(), model_).day;
}

DayPlan PlantingRun::routine(const DemandCurve& curve, std::vector<Visit>& visits) const {
  visits.clear();
  add_visits(planting().routine, planted_, state_.date, curve, visits);
  DayPlan plan = routine_plan(planting().routine);
  plan.visits = visits;
  return plan;
}

Fed PlantingRun::feed_today() const {
  return feed(state_.feeding, feed_schedule(model_), setting_.pot.mix_l, age_days(),
              development_.leaf_area_share(), state_.drained_yesterday_l);
}

bool PlantingRun::feed_due() const {
  return feed_today().due > 0.5;
}

void PlantingRun::end_day(const DayResult& result, const SpotDay& day) {
  state_.feeding = feed_today().after;
  state_.drained_yesterday_l = result.drained_l;
  state_.pot = result.state;
  development_.next_day(day.mean_temperature_c);
  finished_ = finished_ || end_.on(state_.date, day.tmin_c, development_).has_value();
  state_.date += std::chrono::days(1);
}

}  // namespace wiltline
