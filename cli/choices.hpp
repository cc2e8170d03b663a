// What to try: one crop, or the rows of a garden, crossed with lists of pots, mixes, walls, spots
// and numbers of plants.
#pragma once

#include <algorithm>
#include <iterator>
#include <span>
#include <utility>
#include <vector>

#include "command.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::cli {

/// Plantings to answer for.
struct ChosenPlantings {
  std::vector<Planting> plantings;
  bool of_garden = false;
};

/// The rows of --garden, or the planting of --crop in the pots it is usually grown in, crossed with
/// the lists; `notes` says how to ask for all pots.
/// Throws RequestError for unknown or repeated names, for --crop and --garden together, and for a
/// mix that holds no water in one of its pots. Where `days_matter`, each planting day must be in
/// one of the records: RequestError for --planted, InputError for a row.
[[nodiscard]] ChosenPlantings chosen_plantings(const Arguments& arguments,
                                               const Catalogue& catalogue,
                                               const std::vector<Place>& places, bool days_matter,
                                               std::vector<std::string>& notes);

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

/// A planting's own columns of a table.
[[nodiscard]] std::vector<TextColumn<Planting>> shown_choice_columns(const Differences& differ);
/// The same for rows of one planting each, with the rows' own columns after them.
template <typename Row>
[[nodiscard]] std::vector<TextColumn<Row>> shown_choice_columns(const Differences& differ,
                                                                std::vector<TextColumn<Row>> more) {
  std::vector<TextColumn<Row>> columns;
  for (TextColumn<Planting>& own : shown_choice_columns(differ)) {
    columns.push_back(
        {std::move(own.heading), own.side,
         [text = std::move(own.text)](const Row& row) { return text(*row.planting); }});
  }
  std::move(more.begin(), more.end(), std::back_inserter(columns));
  return columns;
}
/// A planting named by what differs, such as `fabric 36 l, coir mix`.
[[nodiscard]] std::string choice_text(const Planting& planting, const Differences& differ);
/// What does not differ between the choices of one crop: crop, mix, spot, plants, and the day of
/// planting if it matters. Nothing for a garden.
[[nodiscard]] std::string common_text(const Planting& planting, const Differences& differ,
                                      bool planted);

}  // namespace wiltline::cli
