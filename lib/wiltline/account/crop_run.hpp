// A planting's crop from day to day: cut back, seen from its spot, grown. Nothing here is checked:
// plantings, days and states are taken as they are; no day is begun once it has finished.
#pragma once

#include <algorithm>
#include <vector>

#include "wiltline/account/planting_end.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// The part of a planting that is the same in every pot. Of a mixed pot each crop grows and ends by
/// itself; one that has ended is taken out, and the planting goes on to the end of the last. The
/// planting must outlive the run.
class CropRun {
 public:
  /// `one_plant`: as CropSetting has it; a mixed pot needs it.
  CropRun(const Planting& planting, Date planted, const ModelParameters& model, GrowthClock growth,
          bool one_plant = true);

  [[nodiscard]] Date date() const { return date_; }  // the day about to begin, or begun
  [[nodiscard]] double age_days() const { return static_cast<double>((date_ - planted_).count()); }
  /// Of the planting's own crop, the first of a mixed pot.
  [[nodiscard]] const Development& development() const { return crops_.front().development; }
  /// Why the planting has ended, once its last day is over.
  [[nodiscard]] const std::optional<EndedBy>& ended_by() const { return ended_by_; }
  [[nodiscard]] bool finished() const { return ended_by_.has_value(); }

  /// Begins the day at date(): cuts back what is pruned on it, and says what the crop then is.
  [[nodiscard]] CropDay begin_day(const SpotDay& day, const ModelParameters& model);
  /// Ends the day begun.
  void end_day(const SpotDay& day);
  /// A whole day, for whoever need not know what the crop is on it.
  void pass_day(const SpotDay& day, const ModelParameters& model);

  /// Of the day begun; of a mixed pot the largest of its crops, and true if it is of one of them.
  [[nodiscard]] double leaf_area_share() const;
  [[nodiscard]] bool mid_season() const;
  [[nodiscard]] bool flowering(double first_flowers) const;
  [[nodiscard]] DayComfort comfort(const FrostLimits& limits, const DayTemperatures& day,
                                   double first_flowers) const;

  /// How far each crop has come, the planting's own first. A crop of a mixed pot
  /// that has ended has -2 days since full canopy.
  [[nodiscard]] std::vector<DevelopmentState> states() const;
  /// Goes on from a date and states that a run of the same planting, model and clock had.
  void resume(Date date, std::span<const DevelopmentState> states);

 private:
  void prune(const ModelParameters& model);

  struct OneCrop {
    CropSetting setting;
    Development development;
    PlantingEnd end;
    std::optional<EndedBy> ended_by;
  };
  void add(const Crop& crop, const ModelParameters& model, GrowthClock growth, bool one_plant);
  template <typename Is>
  [[nodiscard]] bool any_standing(const Is& is) const {
    return std::any_of(crops_.begin(), crops_.end(),
                       [&](const OneCrop& one) { return !one.ended_by && is(one); });
  }

  const Planting* planting_;
  Date planted_;
  Date date_;
  std::vector<OneCrop> crops_;  // the planting's own first
  std::optional<EndedBy> ended_by_;
};

}  // namespace wiltline
