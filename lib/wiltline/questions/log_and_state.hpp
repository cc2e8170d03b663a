// The files a forecast reads beside the weather: a watering log, and the state it saved yesterday.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/questions/forecast.hpp"

namespace wiltline {

/// A row of a watering log.
struct LogEntry {
  std::string name;
  PotEvent event;
  std::optional<double> drained_l{};  // what ran out of it, if somebody measured
};

/// Reads a watering log: `when` (2022-07-10 18:30), `name`, `given_l` (or `given_gal`; blank: until
/// it drained), perhaps `drained_l`, in any order of rows. Throws InputError: among others for a
/// planting that is not of the garden and for a time after `now`.
[[nodiscard]] std::vector<LogEntry> read_watering_log(FileBytes file,
                                                      std::span<const Planting> plantings,
                                                      const Instant& now);

/// The state as CSV, a planting a row; numbers with the shortest digits that read back as the same
/// doubles.
[[nodiscard]] std::string state_csv(std::span<const SavedPlanting> plantings);

/// What a state must go with.
struct StateReading {
  std::span<const Planting> plantings;  // of the garden
  GrowthClock growth = GrowthClock::stage_days;
  Date first{};  // the days on which a state may stand
  Date last{};
};

/// Reads what state_csv wrote. Throws InputError: among others for a planting that is not of the
/// garden or was planted on another day, another growth clock, a date outside `first` to `last`,
/// and water the pot cannot lose or hold.
[[nodiscard]] std::vector<SavedPlanting> read_state(FileBytes file, const ModelParameters& model,
                                                    const StateReading& how);

}  // namespace wiltline
