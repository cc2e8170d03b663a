#include "wiltline/questions/capacity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/budget/state_correction.hpp"

namespace wiltline {
namespace {

std::vector<std::string> cautions_of(const Pot& pot, const Mix& mix, const CapacityResult& result) {
  constexpr double least_water_holding = 0.5;  // common practice, no source
  std::vector<std::string> cautions;
  if (!pot.drains) {
    cautions.emplace_back(
        "this pot has no drain hole: after rain or a full watering its roots stand in water; make "
        "holes");
  }
  if (result.wet_layer_cm > result.height_cm / 2.0) {
    cautions.push_back(
        fmt::format("after watering, less than a tenth is air in the lower {:.0f} of {:.0f} cm: "
                    "too wet for most "
                    "roots; take a coarser mix or a taller pot",
                    result.wet_layer_cm, result.height_cm));
  }
  if (mix.water_holding_share < least_water_holding) {
    cautions.push_back(fmt::format(
        "only {:.0f} % of this mix is peat, coir or bark: at least half holds water better",
        100.0 * mix.water_holding_share));
  }
  if (result.water.available_l() <= 0.0) {
    cautions.emplace_back("this mix holds no water that plants can use in this pot");
  }
  return cautions;
}

}  // namespace

CapacityResult pot_capacity(const Pot& pot, const RangedOf<Mix>& mixes,
                            double readily_available_fraction, const ModelParameters& model) {
  if (!(readily_available_fraction >= 0.0 && readily_available_fraction <= 1.0)) {
    throw RequestError(
        fmt::format("capacity: found {:g} as the readily available share; expected "
                    "0 to 1",
                    readily_available_fraction));
  }
  const Mix& mix = mixes.value;
  CapacityResult result;
  result.pot = pot.name;
  result.mix = mix.name;
  result.water = held_water(pot, mix, model.refill_share);
  result.height_cm = pot.mix_depth_cm();
  result.wet_layer_cm = wet_layer_cm(mix.curve, result.height_cm, pot.drain_level_cm);
  result.lower_limit_m3_m3 = mix.lower_limit_m3_m3;
  const double low_l = held_water(pot, mixes.low, model.refill_share).available_l();
  const double high_l = held_water(pot, mixes.high, model.refill_share).available_l();
  // A curve that holds more water can hold it too tightly: usable water need not keep the order.
  const double central_l = result.water.available_l();
  result.available_l = {central_l, std::min({low_l, high_l, central_l}),
                        std::max({low_l, high_l, central_l})};
  result.readily_available_fraction = readily_available_fraction;
  result.readily_available_l = readily_available_fraction * result.water.available_l();
  for (const CompositionPart& part : mix.composition) {
    result.buy.push_back(
        {part.component, part.percent / 100.0 * result.water.mix_l / (1.0 - mix.shrinkage)});
  }
  result.cautions = cautions_of(pot, mix, result);
  return result;
}

std::vector<CapacityResult> capacity(Plantings garden, const Catalogue& catalogue) {
  std::vector<CapacityResult> results;
  for (const Planting& planting : garden) {
    const auto mix = [&](CurveChoice choice) {
      Result<Mix> found = catalogue.mix(planting.mix.name, choice);
      if (!found) throw RequestError(planting.name + ": " + found.fault().text());
      return *std::move(found);
    };
    double depletion_fraction = planting.crop.depletion_fraction.value;
    for (const CropPlants& other : planting.beside) {
      depletion_fraction = std::min(depletion_fraction, other.crop.depletion_fraction.value);
    }
    results.push_back(pot_capacity(
        planting.pot,
        {.value = planting.mix, .low = mix(CurveChoice::low), .high = mix(CurveChoice::high)},
        depletion_fraction, catalogue.parameters));
  }
  return results;
}

Shopping shopping(Plantings garden, const Catalogue& catalogue) {
  const auto add = [](std::vector<ComponentLitres>& to, const std::string& name, double litres) {
    const auto known = std::ranges::find(to, name, &ComponentLitres::component);
    if (known == to.end()) {
      to.push_back({name, litres});
    } else {
      known->litres += litres;
    }
  };
  Shopping all;
  all.pots = capacity(garden, catalogue);
  auto pot = all.pots.begin();
  for (const Planting& planting : garden) {
    const HeldWater& water = pot->water;
    all.wet_kg.push_back(planting.tare_kg.value_or(0.0) + wet_mix_kg(planting, water));
    for (const ComponentLitres& part : pot->buy) {
      add(all.components, part.component, planting.count * part.litres);
    }
    add(all.mixes, planting.mix.name, planting.count * water.mix_l);
    all.mix_l += planting.count * water.mix_l;
    ++pot;
  }
  return all;
}

}  // namespace wiltline
