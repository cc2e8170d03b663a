// How long a planting lives, and what its crop meets on each of those days.
#pragma once

#include <vector>

#include "wiltline/budget/forcing.hpp"

namespace wiltline {

/// The last day of a planting: its own end, or the crop's by stage days, or the record's.
[[nodiscard]] Date end_of_planting(const Planting& planting, Date planted, Date record_last,
                                   GrowthClock growth);

/// The crop on each day from `planted` (a day of the record) to the planting's end or the record's:
/// the same in every pot at the spot. `days` are those of the spot, from `record_first` on.
[[nodiscard]] std::vector<CropDay> crop_days(const Planting& planting, Date planted,
                                             const std::vector<SpotDay>& days, Date record_first,
                                             const ModelParameters& model, GrowthClock growth);

}  // namespace wiltline
