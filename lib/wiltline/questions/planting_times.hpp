// When a crop can be planted in a climate, from past weather. A judged rule, not a forecast: a
// grower's own dates are better. Nothing here throws: a record too short for a crop gives no day.
#pragma once

#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/budget/place.hpp"
#include "wiltline/crop/crop.hpp"

namespace wiltline {

/// Days from planting to the first harvest that is worth it, by stage days: to maturity of a crop
/// that matures, else to full canopy and a month of picking (judged).
[[nodiscard]] int days_to_harvest(const Crop& crop);

/// The 15th of each month in which the crop can be planted: in three of four past years (judged)
/// from that day to harvest
/// - no day was colder than the crop survives,
/// - the mean of the first four weeks and of the whole time was at least a third of the way from
///   the crop's base temperature to its best range (judged; the base where that is unknown),
/// - the mean of the whole time was at most the crop's heat limit.
/// Years that the record does not hold from planting to harvest do not count.
[[nodiscard]] std::vector<MonthDay> plantable_days(const Crop& crop, const Place& place);

/// Of each run of such months the first, and the last where it lies three months on or later, so
/// that spring and late summer stand apart; the months of the equinoxes where every month will do.
[[nodiscard]] std::vector<MonthDay> planting_times(const Crop& crop, const Place& place);

}  // namespace wiltline
