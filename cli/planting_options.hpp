// A planting said in options instead of in a garden file, and the pots to try it in.
#pragma once

#include <string>
#include <vector>

#include "command.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline::cli {

/// --crop, --mix, --spot, --plants, --planted.
[[nodiscard]] po::options_description planting_options();
/// --pots, --kind.
[[nodiscard]] po::options_description pot_options();

/// The planting of the options, in the catalogue's first pot: potting mix, patio, the crop's own
/// number of plants and mid-spring where nothing else is said. `south`: of the equator.
[[nodiscard]] Planting planting_from_options(const Arguments& arguments, const Catalogue& catalogue,
                                             bool south);

/// The pots of --pots or of --kind; else all of the catalogue, in its order.
[[nodiscard]] std::vector<Pot> pots_from_options(const Arguments& arguments,
                                                 const Catalogue& catalogue);

/// Throws RequestError if two options are given that say the same or contradict each other.
void refuse_together(const Arguments& arguments, const char* one, const char* other);

}  // namespace wiltline::cli
