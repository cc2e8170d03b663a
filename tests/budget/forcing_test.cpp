// What a spot, a crop and a planting make of a day.
#include "wiltline/budget/forcing.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

Site somewhere() {
  Site site;
  site.latitude_deg = 47.0;
  site.elevation_m = 300.0;
  return site;
}

const Date midsummer = make_date(2023, 7, 1);

WeatherDay summer_day() {
  WeatherDay day;
  day.tmin_c = 14.0;
  day.tmax_c = 29.0;
  day.dew_point_c = 12.0;
  day.wind_m_s = 2.0;
  day.solar_mj_m2 = 25.0;
  day.rain_mm = 10.0;
  return day;
}

SpotDay seen_from(const Spot& spot, const WeatherDay& day = summer_day()) {
  return spot_day(somewhere(), midsummer, day, reference_day(somewhere(), midsummer, day), spot,
                  model());
}

Planting basil(int plants = 1) {
  return one_row("basil",
                 "clay 3 l,potting mix," + std::to_string(plants) + ",05-15,patio,daily 07:00");
}

/// A planting full grown on a day at its spot.
PlantingDayForcing full_grown(const Planting& planting, const SpotDay& spot,
                              double age_days = 60.0) {
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model()), model());
  Development development(planting.crop, GrowthClock::stage_days,
                          catalogue().parameters.leaf_curve());
  while (development.progress() < 1.0) development.next_day(20.0);
  return planting_day(setting, crop_day(setting.crop, spot, development, model()), age_days,
                      model());
}

}  // namespace

TEST_CASE("spot: its share of the rain and the wind; unknown rain is none") {
  Spot spot;
  spot.rain_share.value = 0.15;
  spot.wind_share.value = 0.6;
  CHECK(near(seen_from(spot).rain_mm, 1.5, 1e-12));
  CHECK(near(seen_from(spot).wind_2m_m_s, 0.6 * seen_from({}).wind_2m_m_s, 1e-12));
  CHECK(seen_from({}).rain_mm == 10.0);
  WeatherDay unknown = summer_day();
  unknown.rain_mm.reset();
  CHECK(seen_from(spot, unknown).rain_mm == 0.0);
}

TEST_CASE("spot: the lowest humidity is the measured one, else that of the afternoon") {
  const double from_dew_point = seen_from({}).rh_min_pct;
  CHECK(near(from_dew_point, 35.0, 2.0));  // 1.40 of 4.00 kPa at 29 degrees
  WeatherDay day = summer_day();
  day.rh_min_pct = 52.0;
  CHECK(seen_from({}, day).rh_min_pct == 52.0);
}

TEST_CASE("spot: a net and a wall take sun away, by the hours it shines there") {
  Spot net;
  net.shade_cloth = 0.35;
  const SpotRadiation under_net = spot_radiation(net, 47.0, 182, 0.3, catalogue().parameters);
  CHECK(near(under_net.share, 0.65, 1e-12));
  CHECK(near(under_net.diffuse_share, 0.3, 1e-12));
  Spot morning;
  morning.sun_to_h = 12.0;
  morning.sky_view.value = 0.5;
  const SpotRadiation in_the_morning =
      spot_radiation(morning, 47.0, 182, 0.3, catalogue().parameters);
  CHECK(near(in_the_morning.share, 0.7 * 0.5 + 0.3 * 0.5, 1e-9));
  CHECK(near(in_the_morning.diffuse_share, 0.15 / 0.5, 1e-9));
}

TEST_CASE("crop: a hardened plant carries its share of the leaves, alone and among others") {
  for (const int plants : {1, 3}) {
    CAPTURE(plants);
    Planting planting = basil(plants);
    const Spot open;
    const PlantingDayForcing soft = full_grown(planting, seen_from(open));
    CHECK(crop_setting(planting, model()).leaf_factor == 1.0);
    planting.hardened = true;
    CHECK(crop_setting(planting, model()).leaf_factor == model().hardened_leaf_share);
    const PlantingDayForcing hard = full_grown(planting, seen_from(open));
    CHECK(hard.canopy_m2 == soft.canopy_m2);
    const double share = hard.day.full_rates.transpiration_l / soft.day.full_rates.transpiration_l;
    CHECK(share < 0.97);
    CHECK(share >= model().hardened_leaf_share - 0.01);
  }
}

TEST_CASE("crop: a transplant brings leaf in proportion to its ball, and is never full-grown") {
  Planting planting = basil();
  planting.crop.leaf_area_m2.value = 0.5;
  planting.crop.root_ball_l = 0.4;
  CHECK(near(crop_setting(planting, model()).first_leaf_share,
             model().leaf_per_root_ball * 0.4 / 0.5, 1e-12));
  planting.crop.root_ball_l = 50.0;
  CHECK(crop_setting(planting, model()).first_leaf_share == 0.9);  // judged
}

TEST_CASE("crop: picked leaf by leaf it is kept at a share of its leaves") {
  Planting planting = basil();
  planting.leaf_by_leaf = true;
  CHECK(crop_setting(planting, model()).largest_leaf_share == model().leaf_harvest_share);
  planting.leaf_by_leaf = false;
  CHECK(crop_setting(planting, model()).largest_leaf_share == 1.0);
}

TEST_CASE("planting: roots grow from the first night on, and are full from their last day on") {
  const Planting planting = basil();
  const SpotDay spot = seen_from({});
  CHECK_FALSE(full_grown(planting, spot, 0.0).day.roots_grow);
  CHECK(full_grown(planting, spot, 1.0).day.roots_grow);
  CHECK_FALSE(full_grown(planting, spot, model().root_fill_days - 1.0).day.roots_filled);
  CHECK(full_grown(planting, spot, model().root_fill_days).day.roots_filled);
}

TEST_CASE("planting: a mulch slows the top and dries beside it") {
  Planting planting = basil();
  const SpotDay spot = seen_from({});
  const FullRates bare = full_grown(planting, spot).day.full_rates;
  CHECK(bare.mulch_l == 0.0);
  planting.mulch = true;
  const FullRates mulched = full_grown(planting, spot).day.full_rates;
  CHECK(near(mulched.top_l, model().mulch_factor * bare.top_l, 1e-12));
  CHECK(near(mulched.mulch_l, bare.top_l, 1e-12));
}

TEST_CASE("planting: a clay wall evaporates its litres for each mm of the spot's ET0") {
  const Planting planting = basil();
  const SpotDay spot = seen_from({});
  const PotParameters pot = build_pot(planting, model());
  CHECK(near(full_grown(planting, spot).day.full_rates.wall_l,
             pot.wall_evaporation_l_mm * spot.surface_mm, 1e-12));
}

TEST_CASE("a share of a day's demand, in days since planting") {
  const DemandCurve even(0.0, 0.0, 0.06, 1.0);
  CHECK(near(days_since_planting(12.0, even, 0.25), 12.25, 1e-12));
}

}  // namespace wiltline::test
