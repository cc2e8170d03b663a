// The root balls that plants come with, and whether a pot has room for them.
#pragma once

#include <optional>

#include "wiltline/base/errors.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// Litres of all transplants of a pot together, of every crop in it.
[[nodiscard]] double root_balls_l(const Planting& planting);

/// More plants than the mix has room for: their root balls would be more than all of it. A single
/// plant always fits: in a cell it is a seedling with less than its crop's usual ball.
[[nodiscard]] std::optional<Fault> crowding(const Planting& planting);

}  // namespace wiltline
