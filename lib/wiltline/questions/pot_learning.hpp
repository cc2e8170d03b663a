// Readings of a pot taken into its account as they come: yesterday's weighing makes tomorrow's plan
// better.
//
// A pot is carried from day to day as a few members: one in the middle and pairs about it that have
// the mean and covariance of what is known (use, usable water, wall, water in the pot; the empty
// pot and the plant's weight go with them). Each runs through weather and log by itself. At a
// reading the mean moves and the covariance shrinks as Kalman's update has it, and the members are
// made anew with just those: an ensemble filter of deterministic square-root form (Whitaker and
// Hamill 2002) with members exact to the second order (Pham 2001; both from memory). What weather,
// rain and waterings make unsure is added to the water's variance as it comes. Errors are those of
// `calibrate` (reading_errors.hpp). No random numbers are used, so that a state saved and gone on
// from is the run without a stop.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "wiltline/account/journey.hpp"
#include "wiltline/account/saved_planting.hpp"
#include "wiltline/base/ranged.hpp"
#include "wiltline/budget/place.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/questions/reading_errors.hpp"

namespace wiltline {

/// A reading that does not go with those before it.
struct DoubtfulReading {
  Reading reading;
  double off_kg = 0.0;    // a weighing: more than was to be expected
  bool believed = false;  // the weighing before was off as far: it set the pot right; else left out
};

/// What readings made of a pot.
struct PotUpdate {
  std::size_t readings = 0;      // that were new and taken
  std::size_t readings_all = 0;  // with those that the saved state knew
  double use_before = 1.0;       // factor on what the tables say the plants use, before the new
  Ranged use;                    // now; the range holds 9 in 10
  double use_error = 0.0;        // standard error of its logarithm
  double water_error_l = 0.0;    // standard error of the water in the pot
  std::vector<DoubtfulReading> doubtful{};
};

/// A planting as a member has it, taken as exact. `tables`: its pot without anything learned.
[[nodiscard]] Planting as_learned(const Planting& planting, const PotParameters& tables,
                                  const PotMember& member);
/// The pot of a planting without what was learned of it. Throws what build_pot does.
[[nodiscard]] PotParameters pot_of_tables(Planting planting, const ModelParameters& model);

/// What is known of a pot that is to be learned of. All must outlive the learning.
struct PotToLearn {
  const Planting* planting = nullptr;
  Date planted{};
  const PotLog* log = nullptr;
  const std::vector<Reading>* readings = nullptr;  // in the order of time, up to now
  const SavedPlanting* saved = nullptr;            // null: from planting
  GrowthClock growth = GrowthClock::stage_days;
  double scale_error_kg = reading_errors::scale_kg;  // standard error of the scale
};

/// One pot on its way to now, learning from its readings.
class PotLearning {
 public:
  virtual ~PotLearning() = default;

  /// Whole days of the record and their readings, up to 00:00 of `date`.
  virtual void go_to(Date date) = 0;
  /// The readings of the day of `now`, at which it stands. Where the record does not have it, it is
  /// taken as the last day that it has, without rain.
  virtual void go_on_to(const Instant& now) = 0;

  /// At 00:00 of the day at which it stands, without that day's readings if go_on_to was not
  /// called.
  [[nodiscard]] virtual RunState state() const = 0;
  [[nodiscard]] virtual PotEnsemble ensemble() const = 0;
  /// Events of the log and of the readings (looked_at), in the order of time.
  [[nodiscard]] virtual const PotLog& log() const = 0;
  [[nodiscard]] virtual PotUpdate update() const = 0;

  /// A pot that this one could be: what is learned of it, taken as exact, and its water.
  struct Drawn {
    Planting planting;
    double water_l = 0.0;  // after the last reading of the day; without one at 00:00
  };
  /// The middle one.
  [[nodiscard]] virtual Drawn middle() const = 0;
  [[nodiscard]] virtual Drawn draw(std::uint64_t seed, std::uint64_t number) const = 0;
  /// The state at 00:00 of `drawn`, seen as one of `pot`: the same planting with other parameters.
  [[nodiscard]] virtual RunState state_of(const Drawn& drawn, const PotParameters& pot) const = 0;
  /// Puts the water of `drawn` into a run at the last reading of the day. It keeps what it needs of
  /// `drawn`, and must not outlive the learning.
  [[nodiscard]] virtual Watch watch_of(const Drawn& drawn) const = 0;
};

/// It begins with what the garden has of the pot (Planting::learned, with its standard errors),
/// else with the ranges of the tables as `calibrate` takes them, or with what a saved state has.
/// Throws RequestError for a scale's error that is not above 0, as check_drawn, and what build_pot
/// does.
[[nodiscard]] std::unique_ptr<PotLearning> begin_learning(const PotToLearn& pot, const Place& place,
                                                          const Catalogue& catalogue);

}  // namespace wiltline
