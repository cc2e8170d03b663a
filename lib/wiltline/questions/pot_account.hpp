// One pot's account over its readings, for any use, usable water, empty weight and wall: how far
// each reading is from what the account foretells.
//
// The account runs over the weather with the waterings of the log (Journey). At each weighing it is
// set right by as much as the scale is surer than the account (a Kalman filter on the water of the
// whole pot): what an account foretells from one weighing to the next is compared, so that a
// watering nobody wrote down spoils one interval and not all that follow.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "wiltline/account/pot_log.hpp"
#include "wiltline/budget/place.hpp"
#include "wiltline/budget/pot_parameters.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/questions/calibrate.hpp"
#include "wiltline/questions/pot_readings.hpp"

namespace wiltline {

/// Which number of a pot: logarithms of the factors on use and on usable water, what it weighs
/// without water and plant (kg), the plant (kg a m2 of leaf), and the logarithm of the wall's
/// factor.
struct PotNumber {
  enum : Eigen::Index { use, usable, empty, plant, wall, count };
};
using PotNumbers = Eigen::Matrix<double, PotNumber::count, 1>;

/// A reading, or a watering, and the account then.
struct Residual {
  const Reading* reading = nullptr;
  /// In standard errors; of yes and no so that half its square is -log(chance). 0 where nothing was
  /// measured or seen.
  double value = 0.0;
  double off_kg = 0.0;  // a weighing: more than foretold
  AccountPoint point{};
};

/// x squared.
[[nodiscard]] constexpr double square(double x) {
  return x * x;
}

/// The chance of the answer `yes` to what is likelier yes the higher `above`, in standard errors;
/// some answers are wrong.
[[nodiscard]] double yes_no_chance(bool yes, double above);

/// What is read off an account where a reading is no weight.
struct Foretold {
  double value = 0.0;    // litres that drain, or by how many a line of yes or no is passed
  double error = 0.0;    // standard error of the reading by itself; 0: it can tell nothing
  double a_litre = 0.0;  // what another litre in the pot does to the value
};
[[nodiscard]] Foretold foretold(const PotParameters& pot, const PotState& state,
                                const Reading& reading, const Pouring& pouring);
/// The litres of a watering; without them, what it takes until the pot drains.
[[nodiscard]] double given_l(const PotParameters& pot, const PotState& state,
                             const Reading& watering, const Pouring& pouring);

/// The variance of a weight by the scale alone, kg2.
[[nodiscard]] double scale_variance(double weight_kg, double scale_error_kg);

/// When a pot was watered that was weighed after a watering in the hour before of which none of
/// `watered` tells: just then.
[[nodiscard]] std::vector<Instant> implied_waterings(const std::vector<Reading>& readings,
                                                     std::vector<Instant> watered);

/// What a pot is known to do with these logarithms of factors on use, usable water and wall, no
/// more water than its mix can give; `tables`: its parameters without anything learned.
[[nodiscard]] Learned learned_of(const PotParameters& tables, double use, double usable,
                                 double wall);

/// A watering alone says nothing of the pot.
[[nodiscard]] bool says_something(const Reading& reading);
/// Whether a reading is yes or no, not an amount; and which.
[[nodiscard]] bool is_yes_no(ReadingKind kind);
[[nodiscard]] bool is_yes(ReadingKind kind);

/// The account of one pot. Fixed but for the variances of its water, so that tasks may share it.
class PotAccount {
 public:
  /// `place` must outlive it. Throws as calibrate does.
  PotAccount(const PotReadings& readings, const Place& place, const Catalogue& catalogue,
             const CalibrationOptions& options);

  /// By the tables, and the standard errors of that: of use and usable water, and of the wall, the
  /// spread of draw_garden over the days of the readings.
  [[nodiscard]] const PotNumbers& prior() const { return prior_; }
  [[nodiscard]] const PotNumbers& prior_error() const { return prior_error_; }
  [[nodiscard]] const PotParameters& parameters_of_tables() const { return pot_; }
  [[nodiscard]] bool weighed() const { return weighed_; }
  [[nodiscard]] bool porous() const { return planting_.pot.wall.evaporation_share.value > 0.0; }
  [[nodiscard]] double dry_mix_kg() const;
  [[nodiscard]] std::size_t after_its_end() const { return after_its_end_; }  // readings
  /// Readings taken that say something.
  [[nodiscard]] std::size_t telling() const { return telling_; }

  /// Works out how sure the account is of its water at each reading, with these numbers.
  void set_variances(const PotNumbers& numbers);
  /// Of all readings and waterings, by their time; they point into the account. Variances stay as
  /// they were set.
  [[nodiscard]] std::vector<Residual> residuals(const PotNumbers& numbers) const;
  /// What the numbers mean for the planting.
  [[nodiscard]] Learned learned(const PotNumbers& numbers) const;

  /// The variance with which a measurement to come would tell of a number: of the logarithm of
  /// use, of that of usable water, or of the empty weight, kg2.
  [[nodiscard]] double variance_of(NextMeasure next) const;

 private:
  /// A planting from planting to its last reading.
  struct Season {
    Date planted{};
    PotLog log;
    std::vector<Reading> readings;  // one for each event
    std::vector<double> variance;   // of the water foretold at each event, l2; fixed in a fit
  };
  /// Days of a planting.
  struct Stretch {
    Date planted{};
    Date first{};
    Date last{};
  };
  void sort_seasons(std::vector<Reading> readings);
  void set_priors(const Catalogue& catalogue);
  [[nodiscard]] std::vector<Stretch> stretches_of() const;
  [[nodiscard]] double transpired(const std::vector<Stretch>& stretches, const Planting& planting,
                                  const ModelParameters& model, bool other_spot) const;
  /// `variances`: where they are worked out; null: those of the season hold.
  [[nodiscard]] std::vector<Residual> run(const PotNumbers& numbers, const Season& season,
                                          std::vector<double>* variances) const;
  /// The variance of what a pot of known tare weighs without water and plant, kg2.
  [[nodiscard]] double mix_variance_kg2() const;

  Planting planting_;
  const Place& place_;
  CalibrationOptions options_;
  const std::vector<SpotDay>* days_ = nullptr;
  PotParameters pot_;  // as the tables have it
  std::vector<Season> seasons_;
  bool weighed_ = false;
  std::size_t after_its_end_ = 0;
  std::size_t telling_ = 0;
  double usual_day_l_ = 0.0;  // what the plants transpire by the tables
  PotNumbers prior_{};
  PotNumbers prior_error_{};
};

}  // namespace wiltline
