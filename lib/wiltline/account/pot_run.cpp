#include "wiltline/account/pot_run.hpp"

namespace wiltline {

PotRun::PotRun(const PlantingSetting& setting, const ModelParameters& model)
    : PotRun(setting, model, {.rooted_share = setting.pot.initial_rooted_share}) {}

PotRun::PotRun(const PlantingSetting& setting, const ModelParameters& model, const PotState& start)
    : setting_(setting), full_size_(at_full_size(setting)), model_(model), state_(start) {
  day_.lines_passed = true;
}

const DayOf<1>& PotRun::run_day(const CropDay& crop, double age_days, const DayPlan& plan,
                                const DemandCurve& curve) {
  forcing_ = planting_day(setting_, crop, age_days, model_);
  result_ = wiltline::run_day(setting_.pot, state_, forcing_.day, plan);
  state_ = result_.state;
  gap_ = after_refills(gap_, result_, age_days, plan, curve);
  put_day(result_, 0, day_);
  day_.rooting = state_.rooted_share < 1.0;
  const double use_l = forcing_.day.full_rates.potential_use_l();
  day_.potential_use[0] = use_l;
  day_.full_size_use[0] =
      full_size()
          ? use_l
          : planting_day(full_size_, crop, age_days, model_).day.full_rates.potential_use_l();
  day_.rain[0] = result_.rain_l;
  return day_;
}

double PotRun::longest_gap_days(double age_days) const {
  return kernel::refilled(gap_, 1.0, age_days).longest_days;
}

}  // namespace wiltline
