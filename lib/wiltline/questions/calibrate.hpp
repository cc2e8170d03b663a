// What the gardener's own pots say of themselves: plant use, usable water, empty weight and wall,
// fitted to weighings, waterings and what was felt and seen.
//
// The account of each planting runs over the weather with the waterings of its log and is set right
// at each weighing (pot_account.hpp). The parameters are those of highest posterior density: the
// ranges of the model tables as priors (log-normal, the spread of draw_garden), for use and usable
// water half of the variance shared by all pots of a crop (judged); weights under Student's t of 4
// degrees of freedom, so that a wrong one counts for little; yes and no by a normal curve about the
// line that they tell of. Their standard errors are those of the curvature there. A weight is named
// as an outlier where it is further from what was foretold than 2.5 times what is usual for
// weighings of its kind in this garden, as their median shows it.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "wiltline/base/ranged.hpp"
#include "wiltline/budget/place.hpp"
#include "wiltline/crop/growth.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/questions/pot_readings.hpp"
#include "wiltline/questions/reading_errors.hpp"

namespace wiltline {

/// How plantings grow in the account, and the error of the scale, kg.
struct CalibrationOptions {
  GrowthClock growth = GrowthClock::stage_days;
  double scale_error_kg = reading_errors::scale_kg;  // standard error of the scale
};

/// So many standard errors to either side hold 9 in 10 of normal numbers.
inline constexpr double nine_in_ten_errors = 1.6448536269514722;

/// One number of a pot. Ranges hold 9 in 10.
struct Estimate {
  std::string_view parameter;  // use_factor, usable_l, tare_kg, wall_factor
  Ranged prior;
  Ranged estimate;
  double standard_error = 0.0;
  double learned = 0.0;  // share of the prior's variance removed; of factors and litres on the
                         // scale of logarithms
};

/// Less of the variance removed than this is nothing: neither saved nor reported (judged).
inline constexpr double least_learned = 0.05;

/// A weight that outlies is further off than so many times what is usual of its kind.
inline constexpr double outlying_weight = 2.5;

/// A reading that does not go with the others.
struct Outlier {
  Instant when;
  ReadingKind kind = ReadingKind::watered;
  double off_kg = 0.0;    // a weighing: more than was to be expected
  bool mistyped = false;  // the next weighing takes it back
};

/// The account at a reading.
struct AccountPoint {
  Instant when;
  ReadingKind kind = ReadingKind::watered;  // weighed or watered
  double foretold_kg = 0.0;                 // what the pot weighs by the account
  double then_kg = 0.0;                     // the same once set right by the weight, or watered
  std::optional<double> weighed_kg;         // empty: watered
  std::optional<double> error_kg;           // standard error of weighed less foretold
  bool outlies = false;
};

/// What a gardener could measure next.
enum class NextMeasure {
  hot_day,        // a hot day's use: weighed in the morning after watering, and in the evening
  until_wilting,  // left dry, weighed when leaves first hang and after it was refilled
  empty_pot       // what an empty pot like it weighs
};

/// What the readings of one pot make of its numbers: litres, kg, factors on the tables' values.
/// Points to the planting, which must outlive it.
struct PotCalibration {
  const Planting* planting = nullptr;
  std::size_t readings = 0;       // that say something, waterings without what drained left out
  std::size_t after_its_end = 0;  // readings left out: frost or its stages had ended it
  std::vector<Estimate> estimates{};
  std::vector<Outlier> outliers{};
  Learned learned{};                // for the garden; usable water only where something was learned
  std::optional<double> tare_kg{};  // the same
  double lasting_error = 0.0;       // standard error of usable / use, as a share
  NextMeasure next = NextMeasure::hot_day;  // what would lower it most
  double lasting_error_then = 0.0;          // and how far
  std::vector<AccountPoint> account{};      // by time

  [[nodiscard]] const Estimate& of(std::string_view parameter) const;
};

/// All pots fitted together. Points to their plantings, which must outlive it.
struct CalibrationResult {
  std::vector<PotCalibration> pots{};  // in the order given
  bool converged = false;
};

/// Fits all plantings given, those without readings too: a crop's other pots say something of them.
/// What was learned of them before (Planting::learned) is left aside. Readings are taken as
/// read_weighings and read_sightings check them; waterings at times when nothing grows are left
/// out. Throws RequestError as check_readings and check_drawn, for a scale's error that is not
/// above 0, and what build_pot does; InputError if rain is unknown (Place::require_rain). The
/// result points to the plantings alone.
[[nodiscard]] CalibrationResult calibrate(std::span<const PotReadings> pots, const Place& place,
                                          const Catalogue& catalogue,
                                          const CalibrationOptions& options);

}  // namespace wiltline
