// Files of readings of the gardener's own pots, and how one that does not fit is told of.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"
#include "wiltline/questions/pot_readings.hpp"

namespace wiltline::cli {

/// Those of --weighings and --seen, a list for each planting of the garden; notes weights that look
/// like pounds.
[[nodiscard]] std::vector<PotReadings> load_readings(const Arguments& arguments,
                                                     const ReadingsOf& of,
                                                     std::vector<std::string>& notes);

/// By how much a reading does not fit, such as: 1.2 kg heavier than expected.
[[nodiscard]] std::string misfit_text(ReadingKind kind, double off_kg, bool us);
/// What a weight that does not fit can come from.
[[nodiscard]] std::string_view weight_causes(double off_kg);

}  // namespace wiltline::cli
