#include "wiltline/account/crop_run.hpp"

namespace wiltline {

CropRun::CropRun(const Planting& planting, Date planted, const ModelParameters& model,
                 GrowthClock growth)
    : planting_(&planting),
      planted_(planted),
      date_(planted),
      setting_(crop_setting(planting, model)),
      development_(planting.crop, growth, model.leaf_curve(), setting_.first_leaf_share),
      end_(planting, planted, model, growth) {}

CropDay CropRun::begin_day(const SpotDay& day, const ModelParameters& model) {
  for (const PlantingDay& pruning : planting_->pruned) {
    if (falls_on(pruning, date_)) development_.prune(model.pruned_leaf_share);
  }
  return crop_day(setting_, day, development_, model);
}

void CropRun::end_day(const SpotDay& day) {
  development_.next_day(day.mean_temperature_c);
  if (!ended_by_) ended_by_ = end_.on(date_, day, development_);
  date_ += std::chrono::days(1);
}

void CropRun::resume(Date date, const DevelopmentState& state) {
  date_ = date;
  development_.resume(state);
  ended_by_ = end_.over_before(date);
}

}  // namespace wiltline
