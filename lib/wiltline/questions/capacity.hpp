// What a pot of a mix holds, and what to buy to fill it.
#pragma once

#include <string>
#include <vector>

#include "wiltline/container/capacity.hpp"
#include "wiltline/container/mix.hpp"
#include "wiltline/container/pot.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// A component and the loose litres of it that fill the pot once.
struct ComponentLitres {
  std::string component;
  double litres = 0.0;
};

/// What one pot of a mix holds and what goes into it: litres, cm, m3 of water per m3 of mix. Holds
/// copies; points to nothing.
struct CapacityResult {
  std::string pot;
  std::string mix;
  HeldWater water;
  double wet_layer_cm = 0.0;  // at the bottom: less than a tenth of it is air
  double height_cm = 0.0;     // of the mix
  double lower_limit_m3_m3 = 0.0;
  Ranged available_l;                // with the components' curves that hold least and most
  double readily_available_l = 0.0;  // its readily available share
  double readily_available_fraction = 0.0;
  std::vector<ComponentLitres> buy;  // measured before mixing; shrinkage is made up for
  std::vector<std::string> cautions;
};

/// `mixes`: the same mix of central, least and most holding curves (Catalogue::mix).
/// `readily_available_fraction`: p, of the available water. Throws RequestError for one outside 0
/// to 1.
[[nodiscard]] CapacityResult pot_capacity(const Pot& pot, const RangedOf<Mix>& mixes,
                                          double readily_available_fraction,
                                          const ModelParameters& model);

/// Every pot of a garden in its mix, under the catalogue's own parameters, p being the crop's table
/// value; in order. Throws RequestError for a mix that `catalogue` does not know.
[[nodiscard]] std::vector<CapacityResult> capacity(Plantings garden, const Catalogue& catalogue);

/// What fills the pots of a whole garden, count by count.
struct Shopping {
  std::vector<CapacityResult> pots;         // one of each planting, in order
  std::vector<double> wet_kg;               // of each: just watered, without plants; with the pot
                                            // itself where its tare is known
  std::vector<ComponentLitres> components;  // loose, for all pots, in the order they come up
  std::vector<ComponentLitres> mixes;       // the same bought ready mixed
  double mix_l = 0.0;                       // in all pots: what starter feed is measured by
};
/// Throws as capacity.
[[nodiscard]] Shopping shopping(Plantings garden, const Catalogue& catalogue);

}  // namespace wiltline
