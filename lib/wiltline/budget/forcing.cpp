#include "wiltline/budget/forcing.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline {
namespace {

constexpr std::size_t longest_year_days = 366;

/// What follows from a crown's size and leaves.
CrownOverPot over_pot(const Canopy& crown, double litres, const ModelParameters& model) {
  const double lai = crown.plan_area_m2 > 0.0 ? crown.leaf_area_m2 / crown.plan_area_m2 : 0.0;
  return {
      .plan_area_m2 = crown.plan_area_m2,
      .litres = litres,
      .under_crown =
          std::max(model.under_canopy_floor, std::exp(-model.canopy_light_extinction * lai)),
      .interception_mm = std::min(model.interception_mm_per_lai * lai, model.interception_max_mm)};
}

double sun_share(const Spot& spot, double latitude_deg, int day_of_year,
                 const ModelParameters& model) {
  if (spot.sun_from_h <= 0.0 && spot.sun_to_h >= 24.0) return 1.0;
  return beam_share_between(radians(latitude_deg), day_of_year, spot.sun_from_h, spot.sun_to_h,
                            model.beam_transmittance);
}

/// `reflecting`: share of the paving or wall that no neighbour covers; `in_sun`: sun_share.
SpotRadiation radiation_at(const Spot& spot, double reflecting, double in_sun,
                           double open_diffuse_share) {
  const double beam = (1.0 - open_diffuse_share) * in_sun;
  const double diffuse = open_diffuse_share * spot.sky_view.value;
  const double reflected = reflecting * spot.reflected.value * beam;
  const double total = beam + diffuse + reflected;
  return {.share = total * (1.0 - spot.shade_cloth),
          .diffuse_share = total > 0.0 ? (diffuse + reflected) / total : 1.0,
          .beam = beam * (1.0 - spot.shade_cloth)};
}

}  // namespace

SpotRadiation spot_radiation(const Spot& spot, double latitude_deg, int day_of_year,
                             double open_diffuse_share, const ModelParameters& model) {
  return radiation_at(spot, 1.0 - closing(spot, model),
                      sun_share(spot, latitude_deg, day_of_year, model), open_diffuse_share);
}

double night_share(const ModelParameters& model, double et_air_mm) {
  return std::clamp(model.night_share_least + model.night_share_per_air_mm * et_air_mm,
                    model.night_share_least, model.night_share_most);
}

int days_after_midsummer(Date date, double latitude_deg) {
  const MonthDay midsummer = latitude_deg < 0.0 ? MonthDay{12, 21} : MonthDay{6, 21};
  const Date this_year = midsummer.nearest_in_year(year_of(date));
  const Date last = this_year <= date ? this_year : midsummer.nearest_in_year(year_of(date) - 1);
  return static_cast<int>((date - last).count());
}

SunShares sun_shares(const Spot& spot, const WeatherRecord& record, const ModelParameters& model) {
  constexpr double unknown = -1.0;
  SunShares shares(longest_year_days + 1, unknown);
  for (std::size_t i = 0; i < record.size(); ++i) {
    const int day = day_of_year(record.date(i));
    double& share = shares[static_cast<std::size_t>(day)];
    if (share == unknown) share = sun_share(spot, record.site().latitude_deg, day, model);
  }
  return shares;
}

namespace {

OpenDay open_day(const Site& site, Date date, const WeatherDay& weather,
                 const ReferenceDay& reference) {
  const int day_number = day_of_year(date);
  return {.day_of_year = day_number,
          .days_after_midsummer = days_after_midsummer(date, site.latitude_deg),
          .clearness = reference.ra_mj_m2 > 0.0 ? reference.rs_mj_m2 / reference.ra_mj_m2 : 0.0,
          .solar_minus_clock_h =
              site.clock_is_solar()
                  ? 0.0
                  : solar_minus_clock_h(*site.longitude_deg, *site.utc_offset_h, day_number),
          .noon_elevation_rad =
              noon_elevation_rad(radians(site.latitude_deg), solar_declination_rad(day_number)),
          .rh_min_pct = weather.rh_min_pct.value_or(std::min(
              100.0, relative_humidity_pct(reference.vapour_pressure_kpa, weather.tmax_c)))};
}

/// What a spot's days have in common.
struct SpotTerms {
  const Spot* spot;
  double uncovered;  // share of paving or wall that no neighbour covers
  double advection;
};

SpotTerms terms_of(const Spot& spot, const ModelParameters& model) {
  return {.spot = &spot,
          .uncovered = 1.0 - closing(spot, model),
          .advection = advection_among(spot, model)};
}

SpotDay spot_day(const WeatherDay& weather, const ReferenceDay& open, const OpenDay& everywhere,
                 const SpotTerms& terms, double in_sun, const ModelParameters& model) {
  const Spot& spot = *terms.spot;
  const double uncovered = terms.uncovered;
  const SpotRadiation radiation = radiation_at(
      spot, uncovered, in_sun, diffuse_share(everywhere.clearness, model.diffuse_line()));
  SpotDay day;
  day.open_et0_mm = open.et0.total_mm();
  day.et0 = reference_terms_at(
      open, {.radiation_share = radiation.share,
             .sky_view = spot.sky_view.value,
             .wind_share = spot.wind_share.value,
             .warm_share = uncovered * spot.warm_surfaces.value * radiation.beam});
  day.leaf_air_mm =
      saturated_air_mm(day.et0.air_mm, open.vapour_pressure_deficit_kpa(), model.air_term_vpd_kpa);
  day.surface_mm = std::max(day.et0.radiation_mm + terms.advection * day.et0.air_mm, 0.0);
  day.diffuse_share = radiation.diffuse_share;
  day.noon_elevation_rad = everywhere.noon_elevation_rad;
  day.wind_2m_m_s = open.wind_2m_m_s * spot.wind_share.value;
  day.rh_min_pct = everywhere.rh_min_pct;
  day.rain_mm = weather.rain_mm.value_or(0.0) * spot.rain_share.value;
  day.mean_temperature_c = open.temperature_c;
  day.frost_tmin_c = weather.tmin_c + spot.frost_kept_off_c.value;
  day.days_after_midsummer = everywhere.days_after_midsummer;
  day.curve = DemandCurve(open.daylight_h, everywhere.solar_minus_clock_h,
                          night_share(model, day.et0.air_mm), model.demand_delay_h);
  return day;
}

}  // namespace

SpotDay spot_day(const Site& site, Date date, const WeatherDay& weather, const ReferenceDay& open,
                 const Spot& spot, const ModelParameters& model) {
  return spot_day(weather, open, open_day(site, date, weather, open), terms_of(spot, model),
                  sun_share(spot, site.latitude_deg, day_of_year(date), model), model);
}

std::vector<OpenDay> open_days(const WeatherRecord& record,
                               const std::vector<ReferenceDay>& reference) {
  std::vector<OpenDay> result;
  result.reserve(record.size());
  for (std::size_t i = 0; i < record.size(); ++i) {
    result.push_back(open_day(record.site(), record.date(i), record.day(i), reference[i]));
  }
  return result;
}

std::vector<SpotDay> spot_days(const WeatherRecord& record,
                               const std::vector<ReferenceDay>& reference, const Spot& spot,
                               const ModelParameters& model) {
  return spot_days(record, reference, open_days(record, reference), spot,
                   sun_shares(spot, record, model), model, 0, record.size());
}

std::vector<SpotDay> spot_days(const WeatherRecord& record,
                               const std::vector<ReferenceDay>& reference,
                               const std::vector<OpenDay>& open, const Spot& spot,
                               const SunShares& in_sun, const ModelParameters& model,
                               std::size_t first, std::size_t count) {
  const SpotTerms terms = terms_of(spot, model);
  std::vector<SpotDay> result;
  result.reserve(count);
  for (std::size_t i = first; i < first + count; ++i) {
    result.push_back(spot_day(record.day(i), reference[i], open[i], terms,
                              in_sun[static_cast<std::size_t>(open[i].day_of_year)], model));
  }
  return result;
}

CropSetting crop_setting(const Planting& planting, const ModelParameters& model) {
  return crop_setting(planting, planting.crop, model);
}

CropSetting crop_setting(const Planting& planting, const Crop& crop, const ModelParameters& model) {
  const Spot& spot = planting.spot;
  return {.crop = &crop,
          .advection = advection_among(spot, model),
          .crown = {.leaf_extinction = model.leaf_extinction,
                    .leaf_area_per_reference = model.leaf_area_per_reference,
                    .air_area_limit = model.air_area_limit,
                    .ceiling = model.ceiling,
                    .diffuse_area_factor = model.diffuse_area_factor,
                    .lowest_beam_elevation_rad = radians(model.lowest_beam_elevation_deg),
                    .closing = closing(spot, model)},
          .largest_leaf_share = planting.leaf_by_leaf ? model.leaf_harvest_share : 1.0,
          .leaf_factor = planting.hardened ? model.hardened_leaf_share : 1.0,
          .first_leaf_share =
              std::min(model.transplant_leaf_limit,
                       model.leaf_per_root_ball * crop.root_ball_l / crop.leaf_area_m2.value)};
}

CropDay crop_day(const CropSetting& setting, const SpotDay& spot, const Development& development,
                 const ModelParameters& model) {
  const Crop& crop = *setting.crop;
  CropDay day;
  day.leaf_share = std::min(development.leaf_area_share(), setting.largest_leaf_share);
  day.surface_mm = spot.surface_mm;
  day.rain_mm = spot.rain_mm;
  day.weather = {.et_radiation_mm = spot.et0.radiation_mm,
                 .et_air_mm = spot.leaf_air_mm,
                 .open_et0_mm = spot.open_et0_mm,
                 .noon_elevation_rad = spot.noon_elevation_rad,
                 .diffuse_share = spot.diffuse_share,
                 .advection = setting.advection};
  Canopy crown;
  if (setting.one_plant || setting.crown.closing > 0.0) {
    crown = canopy(crop, {.plants = 1}, day.leaf_share, 1.0);
    crown.leaf_area_m2 *= setting.leaf_factor;
  }
  // A plant that stands free meets dry air and wind with its air term; the climate adjustment would
  // count them twice, and belongs to a closed stand. It follows the crown's height in a roomy pot:
  // a pot's limit moves it by under 0.002.
  const double closed_stand =
      setting.crown.closing > 0.0
          ? setting.crown.closing *
                climate_adjustment(spot.wind_2m_m_s, spot.rh_min_pct, crown.height_m)
          : 0.0;
  day.full_cover = (crop.kcb_mid + closed_stand) * development.late_season_share();
  const double field_et_mm =
      day.full_cover * std::max(spot.et0.radiation_mm + spot.leaf_air_mm, 0.0);
  day.depletion_fraction =
      std::max(adjusted_depletion_fraction(crop.depletion_fraction.value, field_et_mm),
               model.depletion_fraction_floor);
  day.capture_factor = crop.capture_factor;
  if (!setting.one_plant) return day;
  day.one_plant = over_pot(
      crown, potential_transpiration_l(crown, day.full_cover, day.weather, setting.crown), model);
  return day;
}

CropDay mixed_day(const Planting& planting, std::span<const std::optional<CropDay>> crops) {
  const auto standing =
      std::find_if(crops.begin(), crops.end(), [](const auto& crop) { return crop.has_value(); });
  if (standing == crops.end()) throw std::logic_error("a day of a pot without crops");
  CropDay day = **standing;
  day.leaf_share = crops.front() ? crops.front()->leaf_share : 0.0;
  day.full_cover = crops.front() ? crops.front()->full_cover : 0.0;
  day.one_plant = {};  // a mixed pot has several
  double plan = 0.0;
  double caught = 0.0;
  for (std::size_t i = 0; i < crops.size(); ++i) {
    const CropDay& one = crops[i] ? *crops[i] : CropDay{};
    if (i > 0) day.beside.push_back({one.leaf_share, one.full_cover});
    if (!crops[i]) continue;
    day.depletion_fraction = std::min(day.depletion_fraction, one.depletion_fraction);
    const int plants = i == 0 ? planting.plants : planting.beside[i - 1].plants;
    plan += plants * one.one_plant.plan_area_m2;
    caught += plants * one.one_plant.plan_area_m2 * one.capture_factor;
  }
  if (plan > 0.0) day.capture_factor = caught / plan;
  return day;
}

PlantingSetting planting_setting(const Planting& planting, const PotParameters& pot,
                                 const ModelParameters& model) {
  const Crop& crop = planting.crop;
  double preferred_per_plant_l = crop.preferred_l.value / crop.plants_per_pot;
  // What grows beside wants its part of the mix, too; all are short of it alike.
  for (const CropPlants& other : planting.beside) {
    preferred_per_plant_l +=
        other.plants * other.crop.preferred_l.value / other.crop.plants_per_pot / planting.plants;
  }
  const PotShape mix = planting.pot.mix_shape();
  constexpr double cm_per_m = 100.0;
  return {.planting = &planting,
          .pot = pot,
          .stand = {.plants = plants_in_pot(planting),
                    .pot_diameter_m = mix.top_equivalent_diameter_m(),
                    .box_length_m = mix.is_round() ? 0.0 : mix.top_length_cm() / cm_per_m,
                    .box_width_m = mix.is_round() ? 0.0 : mix.top_width_cm() / cm_per_m},
          .crop = crop_setting(planting, model),
          .size_factor = pot_limit(pot.mix_l / planting.plants, preferred_per_plant_l,
                                   model.pot_limit_exponent),
          .use_factor = planting.learned.use_factor};
}

PlantingSetting at_full_size(PlantingSetting setting) {
  setting.size_factor = 1.0;
  return setting;
}

namespace {

/// What crops that share a pot draw is the sum of their parts of the crown; what reaches the mix
/// meets the leaves of all.
CrownOverPot mixed_crown(const PlantingSetting& setting, const CropDay& day,
                         const ModelParameters& model) {
  const Planting& planting = *setting.planting;
  std::vector<CrownPart> parts{{setting.crop.crop, planting.plants, day.leaf_share}};
  for (std::size_t i = 0; i < planting.beside.size(); ++i) {
    parts.push_back(
        {&planting.beside[i].crop, planting.beside[i].plants, day.beside[i].leaf_share});
  }
  Canopy whole;
  double litres = 0.0;
  const std::vector<Canopy> crowns = shared_canopy(parts, setting.stand, setting.size_factor);
  for (std::size_t i = 0; i < crowns.size(); ++i) {
    Canopy crown = crowns[i];
    crown.leaf_area_m2 *= setting.crop.leaf_factor;
    const double full_cover = i == 0 ? day.full_cover : day.beside[i - 1].full_cover;
    litres += potential_transpiration_l(crown, full_cover, day.weather, setting.crop.crown);
    whole.plan_area_m2 += crown.plan_area_m2;
    whole.leaf_area_m2 += crown.leaf_area_m2;
  }
  return over_pot(whole, litres, model);
}

/// As the tables have it.
CrownOverPot usual_crown(const PlantingSetting& setting, const CropDay& day,
                         const ModelParameters& model) {
  if (!setting.planting->beside.empty()) return mixed_crown(setting, day, model);
  if (setting.stand.plants == 1) {
    CrownOverPot crown = day.one_plant;
    crown.plan_area_m2 *= setting.size_factor;
    crown.litres *= setting.size_factor;
    return crown;
  }
  Canopy crown = canopy(*setting.crop.crop, setting.stand, day.leaf_share, setting.size_factor);
  crown.leaf_area_m2 *= setting.crop.leaf_factor;
  return over_pot(crown,
                  potential_transpiration_l(crown, day.full_cover, day.weather, setting.crop.crown),
                  model);
}

}  // namespace

CrownOverPot crown_over_pot(const PlantingSetting& setting, const CropDay& day,
                            const ModelParameters& model) {
  CrownOverPot crown = usual_crown(setting, day, model);
  crown.litres *= setting.use_factor;
  return crown;
}

kernel::PotDay pot_day(const PlantingSetting& setting, const CropDay& day,
                       const CrownOverPot& crown, const ModelParameters& model) {
  const bool mulched = setting.planting->mulch;
  return {.surface_mm = day.surface_mm,
          .rain_mm = day.rain_mm,
          .transpiration = crown.litres,
          .plan_m2 = crown.plan_area_m2,
          .under_crown = crown.under_crown,
          .interception_mm = crown.interception_mm,
          .capture_factor = day.capture_factor,
          .top_m2 = setting.pot.top_area_m2,
          .per_top_m2 = 1.0 / setting.pot.top_area_m2,
          .wall_per_mm = setting.pot.wall_evaporation_l_mm,
          .top_coefficient = model.top_evaporation_coefficient,
          .mulch_factor = mulched ? model.mulch_factor : 1.0,
          .mulched = mulched ? 1.0 : 0.0};
}

PlantingDayForcing planting_day(const PlantingSetting& setting, const CropDay& day, double age_days,
                                const ModelParameters& model) {
  const CrownOverPot crown = crown_over_pot(setting, day, model);
  const kernel::PotUse pot = kernel::pot_use(pot_day(setting, day, crown, model));
  return {.day = {.full_rates = {.transpiration_l = pot.rates.transpiration,
                                 .wall_l = pot.rates.wall,
                                 .top_l = pot.rates.top,
                                 .mulch_l = pot.rates.mulch},
                  .rain_l = pot.rain,
                  .depletion_fraction = day.depletion_fraction,
                  .roots_grow = age_days >= 1.0,
                  .roots_filled = age_days >= setting.pot.root_fill_days},
          .canopy_m2 = crown.plan_area_m2};
}

}  // namespace wiltline
