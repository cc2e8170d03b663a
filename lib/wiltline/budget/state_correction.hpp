// A pot's state set right by what somebody measured or felt, or carried over to another pot.
#pragma once

#include <optional>

#include "wiltline/base/result.hpp"
#include "wiltline/budget/interval.hpp"
#include "wiltline/budget/pot_parameters.hpp"

namespace wiltline {

/// No pot weighs more: a heavier weight is a slip (judged).
inline constexpr double heaviest_pot_kg = 100000.0;

/// What is wrong with what a pot is said to weigh, kg: no tare, less than tare and dry mix, or more
/// than these, all the water pot and saucer can hold and its plants together. Plants are let weigh
/// 4 kg for each m2 of their greatest leaf area, fruit included (judged).
[[nodiscard]] std::optional<Fault> weight_fault(const Planting& planting,
                                                const ModelParameters& model, double weight_kg);

/// The last of these alone: heavier than full. A pot without a tare is let weigh 2 kg empty for
/// each litre of mix, as one of stone (judged).
[[nodiscard]] std::optional<Fault> overweight(const Planting& planting,
                                              const ModelParameters& model, double weight_kg);

/// Mass of the dry mix in a pot, kg: its dry bulk density times its volume.
[[nodiscard]] double dry_mix_kg(const Mix& mix, double mix_l);
/// Mass of what fills a pot just watered, kg: mix, water at container capacity, and what stands in
/// saucer and reservoir; without plants and the pot itself. `held`: what the pot holds.
[[nodiscard]] double wet_mix_kg(const Planting& planting, const HeldWater& held);

/// The state of a pot that holds `water_l` in all, mulch and saucer included. Held to what the pot
/// can hold; the rooted and the unrooted mix keep the proportion of their depletions, the top layer
/// keeps its own as far as they allow.
[[nodiscard]] PotState holding(const PotParameters& pot, const PotState& state, double water_l);

/// The state of a pot whose top was found dry, or moist, by the finger: the top layer's depletion
/// is moved just far enough to agree, or as far as a top can be wet. The rest stays, unless it is
/// less than a dry top has lost by itself.
[[nodiscard]] PotState with_top_felt(const PotParameters& pot, const PotState& state, bool dry);

/// The state of pot `from` in pot `to`: the same share of what the mix can lose is gone; top layer,
/// mulch, saucer and reservoir as far as those of `to` reach. Roots hold all of a single store.
[[nodiscard]] PotState in_other_pot(PotState state, const PotParameters& from,
                                    const PotParameters& to);

}  // namespace wiltline
