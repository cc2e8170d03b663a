// A planting's crop from day to day: cut back, seen from its spot, grown.
#pragma once

#include "wiltline/account/planting_end.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// The part of a planting that is the same in every pot. The planting must outlive the run.
class CropRun {
 public:
  CropRun(const Planting& planting, Date planted, const ModelParameters& model, GrowthClock growth);

  [[nodiscard]] Date date() const { return date_; }  // the day about to begin, or begun
  [[nodiscard]] double age_days() const { return static_cast<double>((date_ - planted_).count()); }
  [[nodiscard]] const Development& development() const { return development_; }
  /// Why the planting has ended, once its last day is over.
  [[nodiscard]] const std::optional<EndedBy>& ended_by() const { return ended_by_; }
  [[nodiscard]] bool finished() const { return ended_by_.has_value(); }

  /// Begins the day at date(): cuts back what is pruned on it, and says what the crop then is.
  [[nodiscard]] CropDay begin_day(const SpotDay& day, const ModelParameters& model);
  /// Ends the day begun.
  void end_day(const SpotDay& day);
  /// Goes on from a date and state that a run of the same planting, model and clock had.
  void resume(Date date, const DevelopmentState& state);

 private:
  const Planting* planting_;
  Date planted_;
  Date date_;
  CropSetting setting_;
  Development development_;
  PlantingEnd end_;
  std::optional<EndedBy> ended_by_;
};

}  // namespace wiltline
