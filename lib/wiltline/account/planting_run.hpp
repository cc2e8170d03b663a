// One planting's account, a day at a time: begun on the day of planting or from a saved state, and
// stopped wherever it is needed. Beginning one throws RequestError as build_pot does; days and
// states are taken as they are.
#pragma once

#include <vector>

#include "wiltline/account/crop_run.hpp"
#include "wiltline/account/feeding.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// All that a planting carries from one day to the next, at 00:00 of `date`.
struct RunState {
  Date date{};  // the day about to begin
  PotState pot;
  DevelopmentState development;
  std::vector<DevelopmentState> beside = {};  // of a mixed pot's further crops
  Feeding feeding;
  double drained_yesterday_l = 0.0;

  bool operator==(const RunState&) const = default;
};

/// Copies go on independently of each other. The planting must outlive the run.
class PlantingRun {
 public:
  PlantingRun(const Planting& planting, Date planted, const ModelParameters& model,
              GrowthClock growth);

  [[nodiscard]] const Planting& planting() const { return *setting_.planting; }
  [[nodiscard]] const PotParameters& pot() const { return setting_.pot; }
  [[nodiscard]] RunState state() const;
  /// Goes on from a state that a run of the same planting, model and clock had.
  void resume(const RunState& state);

  [[nodiscard]] Date date() const { return crop_.date(); }
  [[nodiscard]] const PotState& pot_state() const { return state_.pot; }
  /// Leaf area of all its plants at the size that is likely in the pot, m2; of a mixed pot those of
  /// its own crop.
  [[nodiscard]] double leaf_m2() const;
  /// True once the planting's last day is over.
  [[nodiscard]] bool finished() const { return crop_.finished(); }

  /// Begins the day at date(): prunes what is pruned on it, and says what it brings.
  [[nodiscard]] DayForcing begin_day(const SpotDay& day);
  /// The routine's plan of the day at date(); its visits are put into `visits`, to which it points.
  [[nodiscard]] DayPlan routine(const DemandCurve& curve, std::vector<Visit>& visits) const;
  /// True if soluble feed is due on the day begun.
  [[nodiscard]] bool feed_due() const;
  /// Ends the day begun.
  void end_day(const DayResult& result, const SpotDay& day);

 private:
  [[nodiscard]] Fed feed_today() const;

  ModelParameters model_;
  PlantingSetting setting_;
  Date planted_;
  CropRun crop_;
  RunState state_;  // but for date and development, which are the crop's
};

}  // namespace wiltline
