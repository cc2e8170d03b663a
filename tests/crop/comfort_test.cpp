#include "wiltline/crop/comfort.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"
#include "wiltline/crop/growth.hpp"

namespace wiltline::test {
namespace {

constexpr FrostLimits limits{.tender_c = 0.0, .light_c = -2.0, .hard_c = -6.0};

Crop tomato_like() {
  Crop crop;
  crop.harvest = Harvest::fruit;
  crop.frost = Frost::tender;
  crop.heat_limit_c = 27.0;
  crop.fruit_set_day_limit_c = 33.0;
  crop.fruit_set_night_low_c = 13.0;
  crop.fruit_set_night_high_c = 21.0;
  return crop;
}

}  // namespace

TEST_CASE("comfort: frost by class") {
  Crop crop = tomato_like();
  const auto frost = [&](double tmin_c) {
    return day_comfort(crop, limits, {10.0, 15.0, 8.0, tmin_c}, false).frost;
  };
  CHECK_FALSE(frost(0.0));
  CHECK(frost(-0.1));
  crop.frost = Frost::light;
  CHECK_FALSE(frost(-2.0));
  CHECK(frost(-2.1));
  crop.frost = Frost::hard;
  CHECK_FALSE(frost(-6.0));
  CHECK(frost(-6.1));
}

TEST_CASE("comfort: heat is a matter of the week, fruit set of the day and its night") {
  const Crop crop = tomato_like();
  CHECK_FALSE(day_comfort(crop, limits, {22.0, 36.0, 26.9}, false).too_warm);
  CHECK(day_comfort(crop, limits, {18.0, 30.0, 27.1}, false).too_warm);
  const auto poor = [&](double tmin_c, double tmax_c, bool flowering = true) {
    return day_comfort(crop, limits, {tmin_c, tmax_c, 22.0}, flowering).poor_fruit_set;
  };
  // Oklahoma column: nights below 13-16 or above 21 °C, days steadily above 33 °C.
  CHECK_FALSE(poor(16.0, 28.0));
  CHECK(poor(12.9, 28.0));
  CHECK(poor(21.1, 28.0));
  CHECK(poor(16.0, 33.1));
  CHECK_FALSE(poor(12.9, 34.0, false));
}

TEST_CASE(
    "comfort: only a crop grown for fruit flowers, from a share of its way to full canopy on") {
  Crop crop = tomato_like();
  for (const double first_flowers : {0.4, 0.6}) {
    CHECK(is_flowering(crop, first_flowers, first_flowers));
    CHECK_FALSE(is_flowering(crop, first_flowers - 1e-9, first_flowers));
    CHECK(is_flowering(crop, 1.3, first_flowers));
  }
  crop.harvest = Harvest::leaf;
  CHECK_FALSE(is_flowering(crop, 1.0, 0.6));
}

TEST_CASE("comfort: what is not known is not judged") {
  Crop crop = tomato_like();
  crop.heat_limit_c.reset();
  crop.fruit_set_day_limit_c.reset();
  crop.fruit_set_night_low_c.reset();
  crop.fruit_set_night_high_c.reset();
  const DayComfort comfort = day_comfort(crop, limits, {30.0, 45.0, 40.0}, true);
  CHECK_FALSE(comfort.too_warm);
  CHECK_FALSE(comfort.poor_fruit_set);
}

}  // namespace wiltline::test
