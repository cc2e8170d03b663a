// A garden file with what was learned of its pots.
#pragma once

#include <string>

#include "wiltline/base/csv.hpp"
#include "wiltline/questions/calibrate.hpp"

namespace wiltline {

/// The garden that was calibrated, as CSV with the columns use_factor, use_factor_sd, usable_l,
/// usable_sd_l, wall_factor, use_usable_correlation, calibrated_until, and tare_kg where it was
/// unknown and weighings tell it. All other cells and the comments stay; blank: as in the tables.
/// The plantings of `result` must still be there. Throws InputError for what is no table,
/// RequestError for one without names and for a result without plantings.
[[nodiscard]] std::string learned_garden_csv(FileBytes garden, const CalibrationResult& result);

}  // namespace wiltline
