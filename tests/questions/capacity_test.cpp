#include "wiltline/questions/capacity.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::test {
namespace {

Pot pot_named(const std::string& name) {
  return *catalogue().pots.find(name);
}

CapacityResult capacity_of(const Pot& pot, const std::string& mix) {
  const RangedOf<Mix> mixes{*catalogue().mix(mix), *catalogue().mix(mix, CurveChoice::low),
                            *catalogue().mix(mix, CurveChoice::high)};
  return pot_capacity(pot, mixes, 0.4, catalogue().parameters);
}

std::string all(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

}  // namespace

TEST_CASE("capacity: what it says adds up") {
  const CapacityResult result = capacity_of(pot_named("nursery 37 l"), "potting mix");
  CHECK(result.cautions.empty());
  CHECK(result.water.available_l() < result.water.refilled_l);
  CHECK(near(result.readily_available_l, 0.4 * result.water.available_l(), 1e-9));
  CHECK(result.available_l.low < result.water.available_l());
  CHECK(result.water.available_l() < result.available_l.high);
  double bought_l = 0.0;
  for (const ComponentLitres& component : result.buy) bought_l += component.litres;
  CHECK(bought_l > result.water.mix_l);  // mixing shrinks
}

TEST_CASE("capacity: the lower limit and the range of usable water, curve by curve") {
  const Pot pot = pot_named("nursery 37 l");
  const double refill_share = catalogue().parameters.refill_share;
  for (const std::string& name : catalogue().mixes.names()) {
    CAPTURE(name);
    const CapacityResult result = capacity_of(pot, name);
    const Mix central = *catalogue().mix(name);
    CHECK(result.lower_limit_m3_m3 == central.lower_limit_m3_m3);
    CHECK(near(result.water.lower_limit_l, central.lower_limit_m3_m3 * result.water.mix_l, 1e-12));
    CHECK(result.height_cm == pot.mix_depth_cm());
    double least = result.water.available_l();
    double most = least;
    for (const CurveChoice choice : {CurveChoice::low, CurveChoice::high}) {
      const double available_l =
          held_water(pot, *catalogue().mix(name, choice), refill_share).available_l();
      least = available_l < least ? available_l : least;
      most = available_l > most ? available_l : most;
    }
    CHECK(result.available_l.low == least);
    CHECK(result.available_l.high == most);
    // Whichever of the three curves leaves a plant least: holding more can be holding too tightly.
    const CapacityResult turned = pot_capacity(pot,
                                               {*catalogue().mix(name, CurveChoice::high), central,
                                                *catalogue().mix(name, CurveChoice::low)},
                                               0.4, catalogue().parameters);
    CHECK(turned.available_l.low == least);
    CHECK(turned.available_l.high == most);
    for (std::size_t i = 0; i < result.buy.size(); ++i) {
      CHECK(near(result.buy[i].litres * (1.0 - central.shrinkage),
                 central.composition[i].percent / 100.0 * result.water.mix_l, 1e-9));
    }
  }
}

TEST_CASE("capacity: a pot or mix that invites trouble is cautioned against") {
  Pot closed = pot_named("nursery 37 l");
  closed.drains = false;
  CHECK(all(capacity_of(closed, "potting mix").cautions).find("no drain hole") !=
        std::string::npos);
  CHECK(all(capacity_of(pot_named("nursery 37 l"), "perlite 60 compost 40").cautions)
            .find("only 0 % of this mix is peat, coir or bark") != std::string::npos);
  // A low pot of fine mix hardly drains.
  CHECK(all(capacity_of(pot_named("nursery square 0.45 l"), "peat 100").cautions)
            .find("less than a tenth is air in the lower") != std::string::npos);
}

}  // namespace wiltline::test
