// What a garden says that changes nothing in the weather at hand.
#pragma once

#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// Of one planting: its days of pruning, its days away and its helpers that fall on no day on which
/// it grows in any of the records.
struct WithoutEffect {
  const Planting* planting = nullptr;
  std::vector<PlantingDay> pruned;
  std::vector<DaysAway> days_away;
  std::vector<Helper> helpers;
};

/// The plantings of which something has no effect, in their order; those no record holds are left
/// out. Throws RequestError as check_places. Results point to the plantings.
[[nodiscard]] std::vector<WithoutEffect> without_effect(Plantings plantings, Places places,
                                                        GrowthClock growth);

}  // namespace wiltline
