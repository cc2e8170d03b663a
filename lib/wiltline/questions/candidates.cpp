#include "wiltline/questions/candidates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/garden/root_balls.hpp"

namespace wiltline {
namespace {

/// `value` itself where nothing is to be tried.
template <typename Value>
std::span<const Value> or_own(const std::vector<Value>& tried, const Value& own) {
  return tried.empty() ? std::span(&own, 1) : std::span<const Value>(tried);
}

/// Pots a gardener would not tell apart.
bool alike(const Pot& one, const Pot& other) {
  return one.name == other.name && one.mix_l() == other.mix_l() && one.wall.name == other.wall.name;
}

}  // namespace

void put_into(const Pot& pot, Planting& planting) {
  if (!alike(pot, planting.pot)) {
    const double deep_as_own_l =
        planting.saucer_l * pot.mix_shape().top_area_m2() / planting.pot.mix_shape().top_area_m2();
    planting.saucer_l = hangs(pot) ? 0.0 : std::min(deep_as_own_l, pot.mix_l());
  }
  planting.pot = pot;
}

bool is_bigger(double mix_l, double other_l) {
  constexpr double rounding = 1.02;
  return mix_l > rounding * other_l;
}

std::vector<Planting> crossed(std::span<const Planting> plantings, const Choices& choices) {
  std::vector<Planting> result;
  for (const Planting& planting : plantings) {
    if (!choices.plants.empty() && !planting.beside.empty()) {
      throw RequestError(
          fmt::format("{}: found numbers of plants for a pot of {}; expected them for "
                      "pots of one crop",
                      planting.name, crop_text(planting)));
    }
    for (const Pot& pot : or_own(choices.pots, planting.pot)) {
      for (const Mix& mix : or_own(choices.mixes, planting.mix)) {
        for (const Wall& wall : or_own(choices.walls, pot.wall)) {
          for (const Spot& spot : or_own(choices.spots, planting.spot)) {
            for (const int plants : or_own(choices.plants, planting.plants)) {
              Planting& one = result.emplace_back(planting);
              if (!choices.pots.empty()) put_into(pot, one);
              one.mix = mix;
              one.pot.wall = wall;
              if (!choices.pots.empty() || !choices.mixes.empty() || !choices.walls.empty()) {
                forget_pot(one);
              }
              one.spot = one.sun_until_h ? spot.shaded_from(*one.sun_until_h) : spot;
              one.plants = plants;
            }
          }
        }
      }
    }
  }
  return result;
}

bool hangs(const Pot& pot) {
  return folded(pot.kind) == "hanging basket";
}

bool holds_water(const Planting& planting, const ModelParameters& model) {
  return held_water(planting.pot, planting.mix, model.refill_share).available_l() > 0.0;
}

double least_mix_l(const Crop& crop, int plants) {
  return crop.min_l * std::max(1.0, plants / crop.plants_per_pot);
}

std::vector<Pot> usual_pots(const Crop& crop, std::span<const Pot> pots) {
  std::vector<Pot> usual;
  std::ranges::copy_if(pots, std::back_inserter(usual), [&](const Pot& pot) {
    return pot.mix_l() >= crop.preferred_l.low && pot.mix_l() <= crop.preferred_l.high;
  });
  return usual.empty() ? std::vector<Pot>(pots.begin(), pots.end()) : usual;
}

std::vector<Planting> in_pots(const Planting& planting, std::span<const Pot> pots,
                              const ModelParameters& model) {
  std::vector<Planting> plantings;
  for (const Pot& pot : pots) {
    Planting candidate = planting;
    forget_pot(candidate);
    put_into(pot, candidate);
    if (holds_water(candidate, model)) plantings.push_back(std::move(candidate));
  }
  return plantings;
}

std::vector<Planting> own_and_other_pots(const Planting& planting, std::span<const Pot> pots,
                                         const ModelParameters& model) {
  std::vector<Planting> plantings{planting};
  for (Planting& candidate : in_pots(planting, pots, model)) {
    if (crowding(candidate)) continue;
    if (!alike(candidate.pot, planting.pot)) plantings.push_back(std::move(candidate));
  }
  return plantings;
}

}  // namespace wiltline
