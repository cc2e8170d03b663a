// What a gardener measured and saw of the pots, as files have it: weighings, finger tests, wilting.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/account/planting_end.hpp"
#include "wiltline/account/pot_log.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/garden/planting.hpp"
#include "wiltline/questions/log_and_state.hpp"

namespace wiltline {

/// All that is known of one planting, in any order.
struct PotReadings {
  const Planting* planting = nullptr;
  std::vector<Reading> readings{};
};

/// What readings must go with.
struct ReadingsOf {
  Plantings garden;
  const ModelParameters* model = nullptr;  // for weighings
  const WeatherRecord* weather = nullptr;  // not for a forecast
  GrowthClock growth = GrowthClock::stage_days;
  /// For a forecast: nothing is known later. Weather and planting are then not looked at: a saved
  /// state may stand for them.
  std::optional<Instant> now{};
};

// Both throw InputError: among others for a planting that is not of the garden, and for a time
// outside the weather or at which the planting does not grow (for a forecast: after now); and
// RequestError where ReadingsOf lacks what they look at. They give a list for each planting of the
// garden, to which it points.

/// Weighings: `name`, `when` (2024-07-10 18:30), `weight_kg` or `weight_lb`, perhaps `watering`:
/// before or after it (blank: before). Refused too: less than the empty pot where the garden has
/// its tare, more than it can weigh when full (overweight), and two of one pot at one instant that
/// differ by more than a scale does.
[[nodiscard]] std::vector<PotReadings> read_weighings(FileBytes file, const ReadingsOf& of);

/// What was felt and seen: `name`, `when`, `top_dry`, `wilting`, each yes, no or blank, not both
/// blank.
[[nodiscard]] std::vector<PotReadings> read_sightings(FileBytes file, const ReadingsOf& of);

/// How many times too heavy the pots are: of each the weight in the middle, over what it can be
/// expected to weigh (its tare or a usual pot's, mix, half of its water, grown plants), and of
/// these the one in the middle. Empty: nothing was weighed. Throws as check_readings.
[[nodiscard]] std::optional<double> times_expected(std::span<const PotReadings> pots,
                                                   const ModelParameters& model);
/// From here on weights are nearer to pounds than to kilograms.
inline constexpr double times_like_pounds = 1.48;

/// Throws RequestError for no planting, and for a reading that no pot can have: an hour outside 0
/// to 24, a weight that is not above 0 and up to heaviest_pot_kg, litres outside 0 to most_given_l.
void check_readings(const Planting* planting, std::span<const Reading> readings);

/// Adds what others have of the same garden, and a log's waterings. Throws RequestError if `more`
/// is not a list for each of the same plantings, and for a name that none of them has.
void add_readings(std::vector<PotReadings>& readings, std::vector<PotReadings> more);
void add_log(std::vector<PotReadings>& readings, std::span<const LogEntry> log);

}  // namespace wiltline
