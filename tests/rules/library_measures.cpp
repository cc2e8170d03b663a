// Measures of parts of the model, where a row is of no whole season.
#include <algorithm>
#include <cmath>
#include <limits>

#include "measures.hpp"
#include "support/fixtures.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/sun/sun.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

/// Usable water of the setting's pot and mix over that of the same pot of peat.
double usable_over_peat(const Setting& setting) {
  const Planting planting = setting.planting();
  const auto usable = [&](const Mix& mix) {
    return held_water(planting.pot, mix, model().refill_share).available_l();
  };
  return usable(planting.mix) / usable(*catalogue().mix("peat 100"));
}

/// Share of dry days of 30 to 35 °C on which the setting's pot, watered at 07:00, has by night lost
/// more than its readily evaporable water: the surface is dry.
double dry_by_night(const Setting& setting) {
  const Planting cell = setting.planting();
  const WeatherRecord& record = setting.record();
  const Place place(record, model());
  const auto& days = place.at(cell.spot);
  const PotParameters pot = build_pot(cell, model());
  const PlantingSetting planted = planting_setting(cell, pot, model());
  const Development seedling(cell.crop, GrowthClock::stage_days, model().leaf_curve(),
                             planted.crop.first_leaf_share);
  double dry = 0.0;
  int hot = 0;
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& weather = record.day(i);
    const bool wanted =
        weather.tmax_c >= 30.0 && weather.tmax_c <= 35.0 && weather.rain_mm.value_or(0.0) <= 0.0;
    if (!wanted) continue;
    const CropDay crop = crop_day(planted.crop, days[i], seedling, model());
    const PlantingDayForcing forcing = planting_day(planted, crop, 0.0, model());
    const IntervalLimits limits = interval_limits(pot, forcing.day.depletion_fraction, 1.0);
    const IntervalResult evening =
        flow(forcing.day.full_rates, limits, line_depletions(pot, limits), {.rooted_share = 1.0},
             1.0 - days[i].curve.share_by(7.0));
    ++hot;
    if (evening.state.rooted_depletion_l >= pot.readily_evaporable_l) dry += 1.0;
  }
  return hot > 0 ? dry / hot : std::numeric_limits<double>::quiet_NaN();
}

/// The setting's plant at full size on a plain summer day, ET0's terms in mm.
struct FullSizeDay {
  Canopy canopy;
  double full_cover = 0.0;
  double et0_mm = 0.0;
  double litres = 0.0;
};
FullSizeDay full_size_day(const Setting& setting, double radiation_mm, double air_mm) {
  const Planting planting = setting.planting();
  FullSizeDay day;
  day.et0_mm = radiation_mm + air_mm;
  day.canopy = canopy(planting.crop, {.plants = 1, .pot_diameter_m = 0.3}, 1.0, 1.0);
  day.full_cover = full_cover_coefficient(planting.crop.kcb_mid, 2.0, 45.0, day.canopy.height_m);
  day.litres = potential_transpiration_l(day.canopy, day.full_cover,
                                         {.et_radiation_mm = radiation_mm,
                                          .et_air_mm = air_mm,
                                          .open_et0_mm = day.et0_mm,
                                          .noon_elevation_rad = radians(65.0),
                                          .diffuse_share = 0.25,
                                          .advection = planting.spot.advection.value},
                                         crop_setting(planting, model()).crown);
  return day;
}

/// Per plan area, over what a closed group draws: Kcb of full cover.
double over_closed_group(const Setting& setting) {
  const FullSizeDay alone = full_size_day(setting, 3.5, 2.5);
  return alone.litres / (alone.canopy.plan_area_m2 * alone.et0_mm) / alone.full_cover;
}

/// Plant and surface over the pot's top area and ET0, the canopy so many times the top.
double pot_coefficient(const Setting& setting, double canopy_over_top) {
  const FullSizeDay day = full_size_day(setting, 3.5, 2.5);
  const double top_m2 = day.canopy.plan_area_m2 / canopy_over_top;
  const double lai = day.canopy.leaf_area_m2 / std::max(day.canopy.plan_area_m2, top_m2);
  const double under =
      std::max(model().under_canopy_floor, std::exp(-model().canopy_light_extinction * lai));
  const double surface_l = model().top_evaporation_coefficient * day.et0_mm * under * top_m2;
  return (day.litres + surface_l) / (top_m2 * day.et0_mm);
}

/// A bright day under glass: still air, 4.5 mm of ET0, nearly all of it radiation.
double greenhouse_day(const Setting& setting) {
  return full_size_day(setting, 4.0, 0.5).litres;
}

/// Litres that leave a tank of bark, peat and sand on a day, 1 L of demand a day; its top of 0.6 m2
/// is judged.
double tank_day(const Setting& setting, int day, bool mulched) {
  const Mix mix = setting.planting().mix;
  constexpr double top_m2 = 0.6;
  const IntervalLimits limits{.raw_l = 60.0,
                              .taw_l = 120.0,
                              .air_dry_l = 150.0,
                              .rew_l = mix.rew_mm * top_m2,
                              .tew_l = mix.tew_mm * top_m2,
                              .rooted_share = 1.0};
  const FullRates demand{.top_l = mulched ? model().mulch_factor : 1.0,
                         .mulch_l = mulched ? 1.0 : 0.0};
  constexpr double never = 1e9;
  PotState state{.mulch_water_l = mulched ? model().mulch_store_mm * top_m2 : 0.0};
  double lost_l = 0.0;
  for (int i = 0; i < day; ++i) {
    const IntervalResult result = flow(demand, limits, {never, never, never, never}, state, 1.0);
    state = result.state;
    lost_l = result.top_evaporated_l + result.mulch_evaporated_l;
  }
  return lost_l;
}

/// Water content at half depletion, near which use starts to fall.
double half_depleted(const Setting& setting) {
  const Planting planting = setting.planting();
  const HeldWater held = held_water(planting.pot, planting.mix, model().refill_share);
  return (held.refilled_l - 0.5 * held.available_l()) / held.mix_l;
}

/// Share of a day's use that falls at night, percent, mean of the record at the spot.
double mean_night_share(const Setting& setting) {
  const Place place(setting.record(), model());
  double sum = 0.0;
  const auto& days = place.at(setting.planting().spot);
  for (const SpotDay& day : days) sum += night_share(model(), day.et0.air_mm);
  return 100.0 * sum / static_cast<double>(days.size());
}

}  // namespace

const std::map<std::string, Measure>& library_measures() {
  static const std::map<std::string, Measure> all{
      {"usable water over peat", usable_over_peat},
      {"surface dry by night", dry_by_night},
      {"use per plan area over a closed group", over_closed_group},
      {"pot-area coefficient, canopy half the top",
       [](const Setting& s) { return pot_coefficient(s, 0.5); }},
      {"pot-area coefficient, canopy four times the top",
       [](const Setting& s) { return pot_coefficient(s, 4.0); }},
      {"full size on a bright day under glass", greenhouse_day},
      {"bare tank, third day", [](const Setting& s) { return tank_day(s, 3, false); }},
      {"mulched tank, first day", [](const Setting& s) { return tank_day(s, 1, true); }},
      {"mulched tank, third day", [](const Setting& s) { return tank_day(s, 3, true); }},
      {"water content at half depletion", half_depleted},
      {"night share", mean_night_share},
      {"lower limit", [](const Setting& s) { return s.planting().mix.lower_limit_m3_m3; }},
  };
  return all;
}

}  // namespace wiltline::test
