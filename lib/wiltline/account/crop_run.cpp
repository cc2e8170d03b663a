#include "wiltline/account/crop_run.hpp"

namespace wiltline {

CropRun::CropRun(const Planting& planting, Date planted, const ModelParameters& model,
                 GrowthClock growth, bool one_plant)
    : planting_(&planting), planted_(planted), date_(planted) {
  add(planting.crop, model, growth, one_plant);
  for (const CropPlants& other : planting.beside) add(other.crop, model, growth, one_plant);
}

void CropRun::add(const Crop& crop, const ModelParameters& model, GrowthClock growth,
                  bool one_plant) {
  CropSetting setting = crop_setting(*planting_, crop, model);
  setting.one_plant = one_plant;
  crops_.push_back({.setting = setting,
                    .development = {crop, growth, model.leaf_curve(), setting.first_leaf_share},
                    .end = {*planting_, crop, planted_, model, growth},
                    .ended_by = {}});
}

void CropRun::prune(const ModelParameters& model) {
  for (const PlantingDay& pruning : planting_->pruned) {
    if (!falls_on(pruning, date_)) continue;
    for (OneCrop& one : crops_) one.development.prune(model.pruned_leaf_share);
  }
}

void CropRun::pass_day(const SpotDay& day, const ModelParameters& model) {
  prune(model);
  end_day(day);
}

CropDay CropRun::begin_day(const SpotDay& day, const ModelParameters& model) {
  prune(model);
  const auto day_of = [&](const OneCrop& one) {
    return crop_day(one.setting, day, one.development, model);
  };
  if (crops_.size() == 1) return day_of(crops_.front());
  std::vector<std::optional<CropDay>> days;
  for (const OneCrop& one : crops_) {
    const bool taken_out = one.ended_by && !finished();
    days.push_back(taken_out ? std::nullopt : std::optional(day_of(one)));
  }
  return mixed_day(*planting_, days);
}

void CropRun::end_day(const SpotDay& day) {
  std::optional<EndedBy> last;
  bool standing = false;
  for (OneCrop& one : crops_) {
    one.development.next_day(day.mean_temperature_c);
    if (one.ended_by) continue;
    one.ended_by = one.end.on(date_, day, one.development);
    if (one.ended_by) last = one.ended_by;
    standing = standing || !one.ended_by;
  }
  if (!standing && !ended_by_) ended_by_ = last;
  date_ += std::chrono::days(1);
}

double CropRun::leaf_area_share() const {
  double share = 0.0;
  for (const OneCrop& one : crops_) {
    if (!one.ended_by) share = std::max(share, one.development.leaf_area_share());
  }
  return share;
}

bool CropRun::mid_season() const {
  return any_standing([](const OneCrop& one) { return one.development.mid_season(); });
}

bool CropRun::flowering(double first_flowers) const {
  return any_standing([&](const OneCrop& one) {
    return is_flowering(*one.setting.crop, one.development.progress(), first_flowers);
  });
}

DayComfort CropRun::comfort(const FrostLimits& limits, const DayTemperatures& day,
                            double first_flowers) const {
  DayComfort all;
  for (const OneCrop& one : crops_) {
    if (one.ended_by) continue;
    const Crop& crop = *one.setting.crop;
    const DayComfort its = day_comfort(
        crop, limits, day, is_flowering(crop, one.development.progress(), first_flowers));
    all.frost = all.frost || its.frost;
    all.too_warm = all.too_warm || its.too_warm;
    all.poor_fruit_set = all.poor_fruit_set || its.poor_fruit_set;
  }
  return all;
}

namespace {
constexpr double taken_out_days = -2.0;  // stands for a crop that has ended in a mixed pot
}

std::vector<DevelopmentState> CropRun::states() const {
  std::vector<DevelopmentState> states;
  for (const OneCrop& one : crops_) {
    const bool taken_out = crops_.size() > 1 && one.ended_by;
    states.push_back(taken_out ? DevelopmentState{.days_since_full = taken_out_days}
                               : one.development.state());
  }
  return states;
}

void CropRun::resume(Date date, std::span<const DevelopmentState> states) {
  date_ = date;
  bool standing = false;
  for (std::size_t i = 0; i < crops_.size(); ++i) {
    OneCrop& one = crops_[i];
    one.ended_by = one.end.over_before(date);
    if (crops_.size() > 1 && states[i].days_since_full == taken_out_days) {
      if (!one.ended_by) one.ended_by = EndedBy::mature;
    } else {
      one.development.resume(states[i]);
    }
    standing = standing || !one.ended_by;
  }
  ended_by_ = standing ? std::nullopt : crops_.front().ended_by;
}

}  // namespace wiltline
