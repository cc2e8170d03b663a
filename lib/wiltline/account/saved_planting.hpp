// Where the account of a planting stands between two runs of a program.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "wiltline/account/planting_run.hpp"
#include "wiltline/account/pot_log.hpp"

namespace wiltline {

/// The account of a planting at 00:00 of `run.date`: what a state file holds.
struct SavedPlanting {
  std::string name;
  Date planted{};
  GrowthClock growth = GrowthClock::stage_days;
  RunState run;
  PotLog log;  // events that are known already, on run.date or later

  bool operator==(const SavedPlanting&) const = default;
};

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

}  // namespace wiltline
