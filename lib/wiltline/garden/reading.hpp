// From a garden file to checked plantings.
#pragma once

#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// Reads a garden: required columns name, crop, pot, mix, plants, planted, spot, routine; optional
/// ones as garden_columns() lists. Throws InputError with all problems of the file, up to 20.
[[nodiscard]] std::vector<Planting> read_garden(FileBytes file, const Catalogue& catalogue);

/// The names of all garden columns, for help and messages.
[[nodiscard]] const std::vector<std::string>& garden_columns();

}  // namespace wiltline
