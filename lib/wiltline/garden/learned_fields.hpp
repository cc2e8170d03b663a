// The columns of a garden that hold what weighings taught of a pot, for its reader and for the
// garden that calibrate writes.
#pragma once

#include "wiltline/base/fields.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// What was not learned is written as a blank, and read as in the tables.
[[nodiscard]] Fields<Learned> learned_fields();

}  // namespace wiltline
