// Litres a day of a crop at full canopy, freshly watered: what growers state.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline::test {

/// The nursery pot whose mix is nearest to so many litres.
inline const Pot& nursery_pot(const Catalogue& catalogue, double litres) {
  const Pot* nearest = nullptr;
  for (const auto& entry : catalogue.pots.entries()) {
    if (entry.value.kind != "nursery") continue;
    if (nearest == nullptr ||
        std::abs(entry.value.mix_l() - litres) < std::abs(nearest->mix_l() - litres)) {
      nearest = &entry.value;
    }
  }
  return *nearest;
}

/// A crop in the pot and with the plants that are usual for it, in potting mix.
inline Planting usual_planting(const Catalogue& catalogue, const Crop& crop, const Spot& spot) {
  return {.name = crop.name,
          .crop = crop,
          .pot = nursery_pot(catalogue, crop.preferred_l.value),
          .mix = *catalogue.mix("potting mix"),
          .plants = usual_plants(crop),
          .ends = {},
          .spot = spot,
          .routine = {},
          .pruned = {},
          .threshold_fraction = {},
          .tare_kg = {}};
}

/// One plant's litres a day over a month of all years.
struct LitresADay {
  double mean_l = 0.0;                 // plant, and its part of the pot's top and wall
  double mean_top_l = 0.0;             // the top's part of it
  double highest_transpired_l = 0.0;   // on the thirstiest day
  double highest_per_leaf_l_m2 = 0.0;  // the same by leaf area, one side
};

/// `planting` at full canopy on every day of a month (1 to 12), its pot freshly watered.
inline LitresADay litres_a_day(const Planting& planting, const WeatherRecord& record,
                               const std::vector<SpotDay>& days, const ModelParameters& model,
                               unsigned month) {
  const PotParameters pot = build_pot(planting, model);
  const PlantingSetting setting = planting_setting(planting, pot, model);
  Development grown(planting.crop, GrowthClock::stage_days, model.leaf_curve());
  grown.resume(
      {.grown = planting.crop.days_to_full.value, .progress = 1.0, .days_since_full = 0.0});
  LitresADay result;
  int counted = 0;
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (month_of(record.date(i)) != month) continue;
    const CropDay day = crop_day(setting.crop, days[i], grown, model);
    const double transpired_l = crown_over_pot(setting, day, model).litres;
    const DayForcing forcing = planting_day(setting, day, 0.0, model).day;
    const double leaf_m2 =
        canopy(planting.crop, setting.stand, day.leaf_share, setting.size_factor).leaf_area_m2;
    result.mean_l += transpired_l + forcing.full_rates.top_l + forcing.full_rates.wall_l;
    result.mean_top_l += forcing.full_rates.top_l;
    result.highest_transpired_l = std::max(result.highest_transpired_l, transpired_l);
    result.highest_per_leaf_l_m2 = std::max(result.highest_per_leaf_l_m2, transpired_l / leaf_m2);
    ++counted;
  }
  result.mean_l /= counted * planting.plants;
  result.mean_top_l /= counted * planting.plants;
  result.highest_transpired_l /= planting.plants;
  return result;
}

}  // namespace wiltline::test
