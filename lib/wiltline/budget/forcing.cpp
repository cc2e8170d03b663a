#include "wiltline/budget/forcing.hpp"

#include <algorithm>
#include <cmath>

#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/sun.hpp"

namespace wiltline {
namespace {

/// Rain on the pot's top: the crown holds some back and leads some aside (or in), as far as it
/// covers it.
struct CaughtRain {
  double caught_l = 0.0;
  double held_on_leaves_l = 0.0;
};
CaughtRain catch_rain(double rain_mm, const Canopy& canopy, double top_area_m2,
                      double capture_factor, const ModelParameters& model) {
  if (rain_mm <= 0.0) return {};
  if (canopy.plan_area_m2 <= 0.0) return {rain_mm * top_area_m2, 0.0};
  const double lai = canopy.leaf_area_m2 / canopy.plan_area_m2;
  const double held_mm =
      std::min({rain_mm, model.interception_mm_per_lai * lai, model.interception_max_mm});
  const double covered = std::min(1.0, canopy.plan_area_m2 / top_area_m2);
  const double through_crown_mm = (rain_mm - held_mm) * capture_factor;
  return {.caught_l = top_area_m2 * ((1.0 - covered) * rain_mm + covered * through_crown_mm),
          .held_on_leaves_l = held_mm * canopy.plan_area_m2};
}

}  // namespace

SpotRadiation spot_radiation(const Spot& spot, double latitude_deg, int day_of_year,
                             double open_diffuse_share) {
  const bool all_day = spot.sun_from_h <= 0.0 && spot.sun_to_h >= 24.0;
  const double in_sun = all_day ? 1.0
                                : beam_share_between(radians(latitude_deg), day_of_year,
                                                     spot.sun_from_h, spot.sun_to_h);
  const double beam = (1.0 - open_diffuse_share) * in_sun;
  const double diffuse = open_diffuse_share * spot.sky_view;
  const double total = beam + diffuse;
  return {.share = total * (1.0 - spot.shade_cloth),
          .diffuse_share = total > 0.0 ? diffuse / total : 1.0};
}

std::vector<SpotDay> spot_days(const WeatherRecord& record,
                               const std::vector<ReferenceDay>& reference, const Spot& spot,
                               const ModelParameters& model) {
  const Site& site = record.site();
  const double latitude = radians(site.latitude_deg);
  std::vector<SpotDay> result;
  result.reserve(record.size());
  for (std::size_t i = 0; i < record.size(); ++i) {
    const ReferenceDay& open = reference[i];
    const WeatherDay& weather = record.day(i);
    const int day_number = day_of_year(record.date(i));
    const double clearness = open.ra_mj_m2 > 0.0 ? open.rs_mj_m2 / open.ra_mj_m2 : 0.0;
    const SpotRadiation radiation =
        spot_radiation(spot, site.latitude_deg, day_number, diffuse_share(clearness));
    const double shift_h =
        site.clock_is_solar()
            ? 0.0
            : solar_minus_clock_h(*site.longitude_deg, *site.utc_offset_h, day_number);
    SpotDay day;
    day.open_et0_mm = open.et0.total_mm();
    day.et0 = reference_terms_at(open, {.radiation_share = radiation.share,
                                        .sky_view = spot.sky_view,
                                        .wind_share = spot.wind_share});
    day.diffuse_share = radiation.diffuse_share;
    day.noon_elevation_rad = noon_elevation_rad(latitude, solar_declination_rad(day_number));
    day.wind_2m_m_s = open.wind_2m_m_s * spot.wind_share;
    day.rh_min_pct = weather.rh_min_pct.value_or(
        std::min(100.0, relative_humidity_pct(open.vapour_pressure_kpa, weather.tmax_c)));
    day.rain_mm = weather.rain_mm.value_or(0.0) * spot.rain_share;
    day.mean_temperature_c = open.temperature_c;
    day.curve = DemandCurve(open.daylight_h, shift_h, model.night_share, model.demand_delay_h);
    result.push_back(day);
  }
  return result;
}

PlantingSetting planting_setting(const Planting& planting, const PotParameters& pot,
                                 const ModelParameters& model) {
  const Crop& crop = planting.crop;
  const double preferred_per_plant_l = crop.preferred_l.value / crop.plants_per_pot;
  return {.planting = &planting,
          .pot = pot,
          .stand = {.plants = planting.plants,
                    .pot_diameter_m = planting.pot.mix_shape().top_equivalent_diameter_m()},
          .crown = {.leaf_extinction = model.leaf_extinction,
                    .leaf_area_per_reference = model.leaf_area_per_reference,
                    .air_area_limit = model.air_area_limit,
                    .ceiling = model.ceiling,
                    .diffuse_area_factor = model.diffuse_area_factor,
                    .lowest_beam_elevation_rad = radians(model.lowest_beam_elevation_deg)},
          .size_factor = pot_limit(pot.mix_l / planting.plants, preferred_per_plant_l,
                                   model.pot_limit_exponent),
          .largest_leaf_share = crop.harvest == Harvest::leaf ? model.leaf_harvest_share : 1.0,
          .leaf_factor = planting.hardened ? model.hardened_leaf_share : 1.0,
          .first_leaf_share =
              std::min(0.9, model.leaf_per_root_ball * crop.root_ball_l / crop.leaf_area_m2.value)};
}

PlantingSetting at_full_size(PlantingSetting setting) {
  setting.size_factor = 1.0;
  return setting;
}

PlantingDayForcing planting_day(const PlantingSetting& setting, const SpotDay& spot,
                                const Development& development, double age_days,
                                const ModelParameters& model) {
  const Planting& planting = *setting.planting;
  const Crop& crop = planting.crop;
  const double top_m2 = setting.pot.top_area_m2;
  const double et0_mm = spot.et0_mm();

  PlantingDayForcing result;
  Canopy& crown = result.canopy;
  const double leaf_share = std::min(development.leaf_area_share(), setting.largest_leaf_share);
  crown = canopy(crop, setting.stand, leaf_share, setting.size_factor);
  crown.leaf_area_m2 *= setting.leaf_factor;
  const double full_cover =
      full_cover_coefficient(crop.kcb_mid, spot.wind_2m_m_s, spot.rh_min_pct, crown.height_m) *
      development.late_season_share();
  const double potential_l =
      potential_transpiration_l(crown, full_cover,
                                {.et_radiation_mm = spot.et0.radiation_mm,
                                 .et_air_mm = spot.et0.air_mm,
                                 .noon_elevation_rad = spot.noon_elevation_rad,
                                 .diffuse_share = spot.diffuse_share,
                                 .advection = planting.spot.advection},
                                setting.crown);
  const CaughtRain rain = catch_rain(spot.rain_mm, crown, top_m2, crop.capture_factor, model);

  // Leaves over the pot: spread over the crown, or over the top while the crown is the smaller.
  const double lai_over_pot = crown.leaf_area_m2 / std::max(crown.plan_area_m2, top_m2);
  const double under_canopy =
      std::max(model.under_canopy_floor, std::exp(-model.canopy_light_extinction * lai_over_pot));
  const double bare_l = model.top_evaporation_coefficient * et0_mm * under_canopy * top_m2;

  DayForcing& day = result.day;
  day.demand.transpiration_l = std::max(potential_l - rain.held_on_leaves_l, 0.0);
  day.demand.top_l = planting.mulch ? model.mulch_factor * bare_l : bare_l;
  day.demand.mulch_l = planting.mulch ? bare_l : 0.0;
  day.demand.wall_l = setting.pot.wall_evaporation_l_mm * et0_mm;
  day.rain_l = rain.caught_l;
  day.depletion_fraction =
      adjusted_depletion_fraction(crop.depletion_fraction.value, full_cover * et0_mm);
  day.rooted_share = rooted_share(setting.pot, age_days);
  return result;
}

}  // namespace wiltline
