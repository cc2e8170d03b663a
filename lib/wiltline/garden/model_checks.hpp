// What the readers of the model tables hold a row to, for values that were made in memory.
#pragma once

#include <optional>

#include "wiltline/base/result.hpp"
#include "wiltline/container/wall.hpp"
#include "wiltline/crop/crop.hpp"
#include "wiltline/garden/model_parameters.hpp"
#include "wiltline/garden/spot.hpp"

namespace wiltline {

/// The first thing that is wrong with it, by the names of its table's columns; empty: nothing.
[[nodiscard]] std::optional<Fault> crop_fault(const Crop& crop);
[[nodiscard]] std::optional<Fault> wall_fault(const Wall& wall);
[[nodiscard]] std::optional<Fault> spot_fault(const Spot& spot);

/// Throws RequestError for a number beyond what its name can mean (ModelParameterName).
void check_model(const ModelParameters& model);

}  // namespace wiltline
