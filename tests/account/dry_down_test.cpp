#include "wiltline/account/dry_down.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "support/ten_litre_pot.hpp"

namespace wiltline::test {
namespace {

/// Every hour alike, so that hours can be done by hand.
const DemandCurve even(0.0, 0.0, 0.0, 0.0);

/// 4 L of available water, no evaporation.
PotParameters plain_pot() {
  PotParameters pot = ten_litre_pot();
  pot.drained_share = 0.0;
  pot.wilting_fraction = 0.70;
  pot.dry_fraction = 0.85;
  pot.initial_rooted_share = 1.0;
  return pot;
}

RainlessDay day_of(double litres) {
  RainlessDay day{.forcing = {}, .curve = even};
  day.forcing.full_rates.transpiration_l = litres;
  day.forcing.depletion_fraction = 0.5;  // RAW 2 L
  return day;
}

}  // namespace

TEST_CASE("dry-down: the hour at which a line is passed, by hand") {
  const std::vector<RainlessDay> quick(3, day_of(4.8));
  const auto same_day = dry_down(plain_pot(), quick, 60.0, 6.0, Line::threshold);
  REQUIRE(same_day);
  CHECK(same_day->day == 0);
  CHECK(near(same_day->clock_h, 16.0, 1e-9));  // 2 L at 0.2 L an hour
  CHECK(near(same_day->days_from(6.0), 10.0 / 24.0, 1e-9));

  const std::vector<RainlessDay> slow(3, day_of(2.0));
  const auto next_day = dry_down(plain_pot(), slow, 60.0, 6.0, Line::stressed);
  REQUIRE(next_day);
  CHECK(next_day->day == 1);
  CHECK(near(next_day->clock_h, 6.0, 1e-9));  // 1.5 L by midnight, half a litre in six hours
  CHECK(near(next_day->days_from(6.0), 1.0, 1e-9));
  CHECK_FALSE(
      dry_down(plain_pot(), std::vector<RainlessDay>(1, day_of(2.0)), 60.0, 6.0, Line::stressed));
}

TEST_CASE("dry-down: no days, and fewer days at the spot than of the crop, are refused") {
  CHECK(refusal([] { (void)dry_down(plain_pot(), {}, 60.0, 6.0, Line::dry); }) ==
        "request: found no day to dry through; expected one at least");
  const std::vector<CropDay> crop(3);
  CHECK(refusal([&] { (void)rainless_days({}, crop, {}, 60.0, catalogue().parameters); }) ==
        "request: found 0 days at a spot for 3 of a crop; expected as many");
}

TEST_CASE("dry-down: a day's p may put the pot past its threshold at 00:00") {
  std::vector<RainlessDay> days(2, day_of(2.4));
  days[1].forcing.depletion_fraction = 0.3;  // RAW 1.2 L, of which 1.8 are gone by midnight
  const auto passing = dry_down(plain_pot(), days, 60.0, 6.0, Line::threshold);
  REQUIRE(passing);
  CHECK(passing->day == 1);
  CHECK(passing->clock_h == 0.0);
}

TEST_CASE("dry-down: begins as full as a watering leaves it, rooted as far as its age says") {
  PotParameters pot = plain_pot();
  pot.initial_rooted_share = 0.2;
  pot.root_odds_decay = 0.8;
  pot.root_fill_days = 35.0;
  pot.surplus_store_l = 1.5;
  pot.watered_store_l = 1.0;
  const PotState young = just_watered(pot, 5.0);
  CHECK(young.rooted_share == rooted_share(pot, 5.0));
  CHECK(near(young.rooted_depletion_l, -1.0, 1e-12));  // the reservoir, not the saucer
  CHECK(young.unrooted_depletion_l == 0.0);
  CHECK(just_watered(pot, 40.0).rooted_share == 1.0);
}

TEST_CASE("dry-down: days without rain lose what rain on the leaves would have spared") {
  const ModelParameters& model = catalogue().parameters;
  const Planting planting = one_row("basil", "clay 3 l,potting mix,1,05-15,patio,daily 07:00");
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  Site site;
  site.latitude_deg = 46.0;
  WeatherDay weather;
  weather.tmin_c = 15.0;
  weather.tmax_c = 25.0;
  const Date date = make_date(2023, 7, 1);
  Development development(planting.crop, GrowthClock::stage_days,
                          catalogue().parameters.leaf_curve());
  while (development.progress() < 1.0) development.next_day(20.0);
  std::vector<SpotDay> spot;
  std::vector<CropDay> crop;
  for (const double rain_mm : {0.0, 12.0}) {
    weather.rain_mm = rain_mm;
    spot.push_back(
        spot_day(site, date, weather, reference_day(site, date, weather), planting.spot, model));
    crop.push_back(crop_day(setting.crop, spot.back(), development, model));
  }
  const auto days = rainless_days(setting, crop, spot, 60.0, model);
  REQUIRE(days.size() == 2);
  CHECK(days[1].forcing.rain_l == 0.0);
  CHECK(days[1].forcing.full_rates.transpiration_l == days[0].forcing.full_rates.transpiration_l);
  CHECK(planting_day(setting, crop[1], 60.0, model).day.rain_l > 0.0);
}

}  // namespace wiltline::test
