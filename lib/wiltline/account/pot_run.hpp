// One pot through its days, one after the other. Nothing here throws.
#pragma once

#include "wiltline/budget/batch/pot_chunk.hpp"
#include "wiltline/budget/forcing.hpp"

namespace wiltline {

/// A single pot where PotChunk takes many: the same days in, the same bits out, and the day's
/// account beside them.
class PotRun {
 public:
  /// Begins refilled, a mulch still dry, unless `start` says otherwise. Setting and model must
  /// outlive the run.
  PotRun(const PlantingSetting& setting, const ModelParameters& model);
  PotRun(const PlantingSetting& setting, const ModelParameters& model, const PotState& start);

  /// Moves the pot on by a day and returns what it did. `age_days`: whole days since planting.
  const DayOf<1>& run_day(const CropDay& crop, double age_days, const DayPlan& plan,
                          const DemandCurve& curve);
  /// Of the day last run.
  [[nodiscard]] const PlantingDayForcing& forcing() const { return forcing_; }
  [[nodiscard]] const DayResult& result() const { return result_; }

  /// Longest time between refills (is_refill) from planting to `age_days`, days.
  [[nodiscard]] double longest_gap_days(double age_days) const;
  /// True if the pot does not limit its plant.
  [[nodiscard]] bool full_size() const { return setting_.size_factor == 1.0; }

 private:
  const PlantingSetting& setting_;
  PlantingSetting full_size_;
  const ModelParameters& model_;
  PotState state_;
  kernel::RefillGap gap_;
  PlantingDayForcing forcing_;
  DayResult result_;
  DayOf<1> day_;
};

}  // namespace wiltline
