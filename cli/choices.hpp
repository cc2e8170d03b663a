// What to try: one crop, or the rows of a garden, crossed with lists of pots, mixes, walls, spots
// and numbers of plants.
#pragma once

#include <vector>

#include "command.hpp"
#include "shared_options.hpp"
#include "wiltline/questions/compare.hpp"

namespace wiltline::cli {

/// --crop, --planted, --pots, --kind, --mixes, --walls, --spots, --plants.
[[nodiscard]] po::options_description choice_options();

/// Plantings to answer for.
struct ChosenPlantings {
  std::vector<Planting> plantings;
  bool of_garden = false;
};

/// The rows of --garden, or the planting of --crop in all known pots, crossed with the lists.
/// Throws RequestError for unknown or repeated names, for --crop and --garden together, and for a
/// mix that holds no water in one of its pots. Where `days_matter`, each planting day must be in
/// one of the records: RequestError for --planted, InputError for a row.
[[nodiscard]] ChosenPlantings chosen_plantings(const Arguments& arguments,
                                               const Catalogue& catalogue,
                                               const std::vector<Place>& places, bool days_matter);

/// What differs between the choices of one planting: those columns of a table that are worth
/// showing. `name`: the plantings are of a garden.
struct Differences {
  bool name = false;
  bool plants = false;
  bool mix = false;
  bool wall = false;
  bool spot = false;
};
[[nodiscard]] Differences differences(std::span<const Planting> plantings, bool of_garden);

/// The headings of a planting's own columns of a table, and its cells in them.
[[nodiscard]] std::vector<TextTable::Heading> choice_headings(const Differences& differ);
[[nodiscard]] std::vector<std::string> choice_cells(const Planting& planting,
                                                    const Differences& differ);
/// A planting named by what differs, such as `fabric 36 l, coir mix`.
[[nodiscard]] std::string choice_text(const Planting& planting, const Differences& differ);
/// What does not differ between the choices of one crop: crop, mix, spot, plants, and the day of
/// planting if it matters. Nothing for a garden.
[[nodiscard]] std::string common_text(const Planting& planting, const Differences& differ,
                                      bool planted);

}  // namespace wiltline::cli
