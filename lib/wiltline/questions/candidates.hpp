// What to try in place of what stands there: plantings crossed with lists of pots, mixes, walls,
// spots and numbers of plants.
#pragma once

#include <span>
#include <vector>

#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// What to try. An empty list leaves a planting as it is.
struct Choices {
  std::vector<Pot> pots;
  std::vector<Mix> mixes;
  std::vector<Wall> walls;  // in place of the pot's own
  std::vector<Spot> spots;
  std::vector<int> plants;
};

/// Every planting in every combination of the lists, the last list turning fastest. Throws
/// RequestError for numbers of plants of a pot of several crops; nothing else here throws.
[[nodiscard]] std::vector<Planting> crossed(std::span<const Planting> plantings,
                                            const Choices& choices);

/// Moves a planting into another pot, with a saucer that goes with it: water as deep as in its own
/// over the area of the pot's top, no more than the pot's mix; none under another that hangs.
void put_into(const Pot& pot, Planting& planting);

/// True if one pot's mix is more than another's by more than what passes for the same size (2 %,
/// judged).
[[nodiscard]] bool is_bigger(double mix_l, double other_l);

/// True for a pot under which nothing can stand: one of the kind `hanging basket`.
[[nodiscard]] bool hangs(const Pot& pot);

/// True if the mix of a planting holds water in its pot that plants can use.
[[nodiscard]] bool holds_water(const Planting& planting, const ModelParameters& model);

/// The least mix that growers' bulletins accept for so many plants: the crop's smallest pot, more
/// in proportion for more plants than its litres are for.
[[nodiscard]] double least_mix_l(const Crop& crop, int plants);

/// Of these pots those a crop is usually grown in: mix within what it prefers. All of them, if it
/// prefers none.
[[nodiscard]] std::vector<Pot> usual_pots(const Crop& crop, std::span<const Pot> pots);

/// The planting in other pots, in the order given; pots in which its mix holds no water that plants
/// can use are left out.
[[nodiscard]] std::vector<Planting> in_pots(const Planting& planting, std::span<const Pot> pots,
                                            const ModelParameters& model);

/// The planting as it stands, then the same in other pots as in_pots() has them, in which
/// its root balls have room. A pot of the same
/// name, litres of mix and wall as its own is not tried again.
[[nodiscard]] std::vector<Planting> own_and_other_pots(const Planting& planting,
                                                       std::span<const Pot> pots,
                                                       const ModelParameters& model);

}  // namespace wiltline
