// Standard normal numbers from even ones.
#pragma once

namespace wiltline {

/// The standard normal number below which the share (1 + level) / 2 of all lie; level from -1 to 1.
/// Held within six standard errors, so that no draw is infinite.
[[nodiscard]] double normal_at_level(double level);

}  // namespace wiltline
