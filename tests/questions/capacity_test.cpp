#include "wiltline/questions/capacity.hpp"

#include <doctest/doctest.h>

#include <string>
#include <tuple>

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

TEST_CASE("shopping: what fills each pot, added up by component and by mix") {
  const std::vector<Planting> garden = read_garden(
      {"g.csv",
       "name,crop,pot,mix,plants,planted,spot,routine,count,saucer_l,tare_kg\n"
       "a,tomato,nursery 37 l,peat 60 perlite 40,1,05-15,patio,daily 07:00,2,,1.5\n"
       "b,basil,clay 3 l,peat 100,1,05-15,patio,daily 07:00,3,0.5,\n"
       "c,kale 1 + beet 2,nursery 11 l,peat 60 perlite 40,,05-15,patio,daily 07:00,,,\n"},
      catalogue());
  const Shopping all = shopping(garden, catalogue());
  REQUIRE(all.pots.size() == 3);
  const auto& [a, b, c] = std::tie(all.pots[0], all.pots[1], all.pots[2]);
  REQUIRE(all.components.size() == 2);
  CHECK(all.components[0].component == "peat");
  CHECK(near(all.components[0].litres,
             2.0 * a.buy[0].litres + 3.0 * b.buy[0].litres + c.buy[0].litres, 1e-9));
  CHECK(near(all.components[1].litres, 2.0 * a.buy[1].litres + c.buy[1].litres, 1e-9));
  REQUIRE(all.mixes.size() == 2);
  CHECK(near(all.mixes[0].litres, 2.0 * a.water.mix_l + c.water.mix_l, 1e-9));
  CHECK(near(all.mix_l, all.mixes[0].litres + all.mixes[1].litres, 1e-9));
  // Pot, dry mix and water, with what stands in the saucer.
  CHECK(near(all.wet_kg[0],
             1.5 + garden[0].mix.bulk_density_kg_l * a.water.mix_l +
                 a.water.capacity.capacity_m3_m3 * a.water.mix_l,
             1e-9));
  CHECK(near(
      all.wet_kg[1],
      (garden[1].mix.bulk_density_kg_l + b.water.capacity.capacity_m3_m3) * b.water.mix_l + 0.5,
      1e-9));
  // A drained litre of potting mix weighs half a kilogram to one (common practice, no source).
  constexpr double tare_kg = 1.5;
  CHECK((all.wet_kg[0] - tare_kg) / a.water.mix_l > 0.5);
  CHECK((all.wet_kg[0] - tare_kg) / a.water.mix_l < 1.0);
  CHECK(c.readily_available_fraction == catalogue().crops.find("kale")->depletion_fraction.value);
}

}  // namespace wiltline::test
