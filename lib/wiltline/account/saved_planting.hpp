// Where the account of a planting stands between two runs of a program. Only check_saved
// throws.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/account/planting_run.hpp"
#include "wiltline/account/pot_log.hpp"

namespace wiltline {

/// One of the pots that a planting could be by its readings.
struct PotMember {
  double use = 0.0;              // logarithm of the factor on what the tables say the plants use
  double usable = 0.0;           // of usable water over that of the tables
  double wall = 0.0;             // of the factor on what evaporates through the wall
  double empty_kg = 0.0;         // pot and dry mix
  double plant_kg_per_m2 = 0.0;  // of leaf
  double beyond_l = 0.0;         // water that it has by readings, more than it can hold
  PotState pot;

  bool operator==(const PotMember&) const = default;
};

/// What readings so far leave of a pot (questions/pot_learning): members that have the mean and
/// covariance of what is known of it.
struct PotEnsemble {
  /// The first is in the middle and has the account's own state; the others come in pairs about it.
  std::vector<PotMember> members;
  /// Of empty pot and plant, beyond that of the members: variance, covariance, variance.
  double empty_kg2 = 0.0;
  double empty_plant = 0.0;
  double plant_kg2 = 0.0;
  double water_l2 = 0.0;     // variance of the pot's water beyond that of the members
  std::size_t readings = 0;  // that made it
  double doubtful_kg = 0.0;  // how far the last weighing was off, if it was left out

  bool operator==(const PotEnsemble&) const = default;
};

/// The account of a planting at 00:00 of `run.date`: what a state file holds.
struct SavedPlanting {
  std::string name;
  Date planted{};
  GrowthClock growth = GrowthClock::stage_days;
  RunState run;
  PotLog log;                            // events that are known already, on run.date or later
  std::vector<Reading> readings{};       // the same of readings
  std::optional<PotEnsemble> learned{};  // by those before run.date

  bool operator==(const SavedPlanting&) const = default;
};

/// What a pot can lose or hold, litres: where its state has that, and between what it must lie.
struct WaterLimit {
  std::string_view column;  // of a state file
  double PotState::*litres;
  double low;
  double high;
};
[[nodiscard]] std::array<WaterLimit, 4> water_limits(const PotParameters& pot, double rooted_share);
/// By how much the sums in a state may be off by rounding: it is what the account of this very pot
/// ended with.
[[nodiscard]] double rounding_l(const PotParameters& pot);

/// Throws RequestError unless a saved state can be one of this planting: its name, planting day,
/// growth clock and crops, and, where it has not learned, what water its pot can lose or hold.
void check_saved(const SavedPlanting& saved, const Planting& planting, GrowthClock growth,
                 const ModelParameters& model);

/// The events of a planting that still count.
struct MergedLog {
  PotLog log;
  int counted_before = 0;           // of the events given: the saved state has them in its account
  std::size_t before_planting = 0;  // of the events given: left out
};

/// Puts the events known now (in any order; those before `planted` are of an earlier planting and
/// left out) together with what a saved state of the planting knew. An event that both have counts
/// once.
[[nodiscard]] MergedLog merge_log(const std::vector<PotEvent>& events, Date planted,
                                  const std::optional<SavedPlanting>& saved);

/// The readings of a planting that still count.
struct MergedReadings {
  std::vector<Reading> readings;   // in the order of time
  std::size_t counted_before = 0;  // the saved state has learned from them
  std::size_t unknown_before = 0;  // before a saved state that has learned nothing
  std::size_t before_planting = 0;
};
/// Puts the readings known now together with those that a saved state knew, as merge_log does
/// events.
[[nodiscard]] MergedReadings merge_readings(const std::vector<Reading>& readings, Date planted,
                                            const std::optional<SavedPlanting>& saved);

}  // namespace wiltline
