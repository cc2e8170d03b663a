// A planting said in options instead of in a garden file, and the pots to try it in.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"
#include "name_lists.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/planting.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::cli {

/// The planting of the options, in the catalogue's first pot: potting mix, patio, the crop's own
/// number of plants and mid-spring where nothing else is said. `south`: of the equator.
[[nodiscard]] Planting planting_from_options(const Arguments& arguments, const Catalogue& catalogue,
                                             bool south);

/// The same of --crop and --planted alone, in this mix and at this spot.
[[nodiscard]] Planting planting_of_crop(const Arguments& arguments, const Catalogue& catalogue,
                                        bool south, Mix mix, const Spot& spot);

/// One pot of the crop's usual number of plants in this mix, at this spot, planted on this day; the
/// catalogue's first pot, no routine.
[[nodiscard]] Planting planting_of(const Crop& crop, PlantingDay planted, Mix mix, const Spot& spot,
                                   const Catalogue& catalogue);

/// The named mix, or that of the composition; an error says it was found in `option`.
[[nodiscard]] Mix known_mix(const char* option, std::string_view text, const Catalogue& catalogue);

/// What is taken where nothing is said.
inline constexpr std::string_view usual_mix = "potting mix";
inline constexpr std::string_view usual_spot = "patio";

/// Throws RequestError if none of the places' records holds the planting day, found in `option`.
void check_planted(const Planting& planting, Places places, const char* option = "planted");

/// The pots of a list, or all; an error says it was found in `option`.
[[nodiscard]] std::vector<Pot> known_pots(const char* option, std::string_view list,
                                          const Catalogue& catalogue);

/// The pots of --pots or of --kind; else those of the usual kind; if there are none, or none is
/// given, all of the catalogue, in its order.
[[nodiscard]] std::vector<Pot> pots_from_options(const Arguments& arguments,
                                                 const Catalogue& catalogue,
                                                 std::string_view usual_kind = "");

/// A day as --planted has it; an error says it was found in `option`.
[[nodiscard]] PlantingDay known_planting_day(const char* option, std::string_view text);
/// The day of --planted, if it is given.
[[nodiscard]] std::optional<PlantingDay> planted_option(const Arguments& arguments);

/// Throws RequestError if --plants puts more into a pot of --pots than it has room for; leaves such
/// pots out where none were named, one at least staying.
void keep_roomy(const Arguments& arguments, std::vector<Planting>& plantings);

/// A whole number of plants for each pot.
[[nodiscard]] int plants_number(std::string_view text);

/// Throws RequestError if two options are given that say the same or contradict each other.
void refuse_together(const Arguments& arguments, const char* one, const char* other);

}  // namespace wiltline::cli
