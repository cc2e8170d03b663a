#include "wiltline/account/planting_run.hpp"

#include "wiltline/account/course.hpp"

namespace wiltline {

PlantingRun::PlantingRun(const Planting& planting, Date planted, const ModelParameters& model,
                         GrowthClock growth)
    : model_(model),
      setting_(planting_setting(planting, build_pot(planting, model), model)),
      planted_(planted),
      crop_(planting, planted, model, growth) {
  state_.pot.rooted_share = setting_.pot.initial_rooted_share;  // refilled, a mulch still dry
}

RunState PlantingRun::state() const {
  RunState state = state_;
  state.date = crop_.date();
  const std::vector<DevelopmentState> crops = crop_.states();
  state.development = crops.front();
  state.beside.assign(crops.begin() + 1, crops.end());
  return state;
}

void PlantingRun::resume(const RunState& state) {
  state_ = state;
  std::vector<DevelopmentState> crops{state.development};
  crops.insert(crops.end(), state.beside.begin(), state.beside.end());
  crop_.resume(state.date, crops);
}

DayForcing PlantingRun::begin_day(const SpotDay& day) {
  const CropDay crop = crop_.begin_day(day, model_);
  return planting_day(setting_, crop, crop_.age_days(), model_).day;
}

double PlantingRun::leaf_m2() const {
  const Planting& planting = *setting_.planting;
  return crop_.leaf_area_share() * planting.plants * planting.crop.leaf_area_m2.value *
         setting_.size_factor;
}

DayPlan PlantingRun::routine(const DemandCurve& curve, std::vector<Visit>& visits) const {
  visits.clear();
  add_visits(planting().routine, planted_, crop_.date(), curve, visits);
  DayPlan plan = routine_plan(planting().routine, crop_.date());
  plan.visits = visits;
  return plan;
}

Fed PlantingRun::feed_today() const {
  return feed(state_.feeding, model_, setting_.pot.mix_l, crop_.age_days(), crop_.leaf_area_share(),
              state_.drained_yesterday_l);
}

bool PlantingRun::feed_due() const {
  return feed_today().due > 0.5;
}

void PlantingRun::end_day(const DayResult& result, const SpotDay& day) {
  state_.feeding = feed_today().after;
  state_.drained_yesterday_l = result.drained_l;
  state_.pot = result.state;
  crop_.end_day(day);
}

}  // namespace wiltline
