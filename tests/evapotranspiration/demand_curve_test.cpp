#include "wiltline/evapotranspiration/demand_curve.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

constexpr double tiny = 1e-12;

/// Days from no sunrise to no sunset, clocks ahead and behind, with and without night use and
/// delay.
template <typename Check>
void for_many_curves(Check check) {
  for (const double daylight_h : {0.0, 1e-3, 4.0, 9.5, 12.0, 16.5, 23.9, 24.0}) {
    for (const double solar_minus_clock_h : {-1.6, 0.0, 1.3}) {
      for (const double night_share : {0.0, 0.06, 0.15}) {
        for (const double delay_h : {0.0, 1.0, 2.0}) {
          CAPTURE(daylight_h);
          CAPTURE(solar_minus_clock_h);
          CAPTURE(night_share);
          CAPTURE(delay_h);
          check(DemandCurve(daylight_h, solar_minus_clock_h, night_share, delay_h));
        }
      }
    }
  }
}

}  // namespace

TEST_CASE("demand curve: begins at nothing, ends at all, never falls") {
  for_many_curves([](const DemandCurve& curve) {
    CHECK(curve.share_by(0.0) == 0.0);
    CHECK(curve.share_by(24.0) == 1.0);
    CHECK(curve.hours_at(1.0) == 24.0);
    double before = 0.0;
    for (double hours = 0.1; hours < 24.05; hours += 0.1) {
      const double share = curve.share_by(hours);
      CHECK(share >= before - tiny);
      CHECK(share <= 1.0 + tiny);
      before = share;
    }
  });
}

TEST_CASE("demand curve: hours and shares lead back to each other") {
  for_many_curves([](const DemandCurve& curve) {
    for (double share = 0.0; share <= 1.0; share += 0.01) {
      CHECK(near(curve.share_by(curve.hours_at(share)), share, 1e-9));
    }
  });
}

TEST_CASE("demand curve: an equinox by hand, an hour late, 6 % by night") {
  const DemandCurve curve(12.0, 0.0, 0.06, 1.0);  // sunlit window from 7 to 19
  CHECK(near(curve.share_by(7.0), 7.0 * 0.06 / 12.0, tiny));
  CHECK(near(curve.share_by(19.0), 1.0 - 5.0 * 0.06 / 12.0, tiny));
  CHECK(near(curve.share_by(3.5), curve.share_by(7.0) / 2.0, tiny));
  CHECK(near(curve.share_by(13.0), 0.035 + 0.94 / 2.0, tiny));
  CHECK(near(curve.share_by(10.0), 0.035 + 0.94 * (1.0 - std::numbers::sqrt2 / 2.0) / 2.0, tiny));
  CHECK(near(curve.hours_at(0.0175), 3.5, tiny));
  CHECK(near(curve.hours_at(0.505), 13.0, 1e-9));
  CHECK(near(curve.hours_at(0.9875), 21.5, tiny));
}

TEST_CASE("demand curve: the window's middle is the sun's noon by the clock, and the delay later") {
  struct Noon {
    double solar_minus_clock_h, delay_h, clock_h;
  };
  for (const Noon& noon :
       {Noon{0.0, 0.0, 12.0}, Noon{0.0, 1.0, 13.0}, Noon{-1.5, 1.0, 14.5}, Noon{1.0, 0.5, 11.5}}) {
    const DemandCurve curve(14.0, noon.solar_minus_clock_h, 0.0, noon.delay_h);
    CAPTURE(noon.clock_h);
    CHECK(near(curve.share_by(noon.clock_h), 0.5, tiny));
    CHECK(near(curve.share_by(noon.clock_h + 2.0), 1.0 - curve.share_by(noon.clock_h - 2.0), tiny));
    CHECK(curve.share_by(noon.clock_h - 7.0) == 0.0);
    CHECK(near(curve.share_by(noon.clock_h + 7.0), 1.0, tiny));
  }
}

TEST_CASE("demand curve: the window stays within the day") {
  const DemandCurve late(22.0, -2.0, 0.06,
                         2.0);  // would end at 27:00; its two dark hours come first
  CHECK(near(late.share_by(2.0), 0.06, tiny));
  CHECK(near(late.share_by(13.0), 0.06 + 0.94 / 2.0, tiny));
  const DemandCurve early(22.0, 2.0, 0.06, 0.0);
  CHECK(near(early.share_by(22.0), 0.94, tiny));
}

TEST_CASE(
    "demand curve: without sunset the sine takes all day, without sunrise every hour is alike") {
  const DemandCurve bright(24.0, 0.7, 0.06, 1.0);
  CHECK(near(bright.share_by(12.0), 0.5, tiny));
  CHECK(near(bright.share_by(8.0), 0.25, tiny));
  const DemandCurve dark(0.0, 0.7, 0.06, 1.0);
  CHECK(near(dark.share_by(6.0), 0.25, tiny));
  CHECK(near(dark.hours_at(0.75), 18.0, tiny));
}

}  // namespace wiltline::test
