// Mixes: compositions as people write them, and what a blend inherits from its parts.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/near.hpp"
#include "wiltline/container/mix.hpp"

namespace wiltline::test {
namespace {

MixComponent component(const std::string& name, const VanGenuchten& curve) {
  MixComponent result;
  result.name = name;
  result.curve = RangedOf<VanGenuchten>::exactly(curve);
  result.curve.low.theta_r = curve.theta_r / 2.0;
  result.curve.high.alpha_per_kpa = curve.alpha_per_kpa / 2.0;
  return result;
}

MixComponent peat() {
  MixComponent result = component("peat", {0.91, 0.18, 0.687, 1.931});
  result.wilting_m3_m3 = 0.12;
  result.rewet_m3_m3 = Ranged::exactly(0.20);
  result.second_uptake = 0.85;
  result.bulk_density_kg_l = 0.11;
  result.water_holding = true;
  result.rew_mm.value = 8.0;
  result.tew_mm.value = 19.0;
  return result;
}

MixComponent perlite() {
  MixComponent result = component("perlite", {0.62, 0.045, 41.3, 1.306});
  result.wilting_m3_m3 = 0.05;
  result.bulk_density_kg_l = 0.17;
  result.coarse = true;
  result.rew_mm.value = 5.0;
  result.tew_mm.value = 14.0;
  return result;
}

MixComponent coir() {
  MixComponent result = component("coir", {0.90, 0.013, 3.0, 1.292});
  result.wilting_m3_m3 = 0.10;
  result.rewet_m3_m3 = Ranged::exactly(0.08);
  result.second_uptake = 0.90;
  result.bulk_density_kg_l = 0.08;
  result.water_holding = true;
  result.rew_mm.value = 8.0;
  result.tew_mm.value = 19.0;
  return result;
}

const Composition half_half{{"a", 50.0}, {"b", 50.0}};

std::string found(std::string_view text) {
  const Result<Composition> result = parse_composition(text);
  return result ? "nothing" : result.fault().found + " | " + result.fault().expected;
}

const std::string example = "names and percent, such as peat 60 perlite 40";

}  // namespace

TEST_CASE("composition: names and percent") {
  const Result<Composition> result = parse_composition("peat 60 perlite 30  compost\t10");
  REQUIRE(result);
  REQUIRE(result->size() == 3);
  CHECK((*result)[0].component == "peat");
  CHECK((*result)[0].percent == 60.0);
  CHECK((*result)[1].component == "perlite");
  CHECK((*result)[1].percent == 30.0);
  CHECK((*result)[2].component == "compost");
  CHECK((*result)[2].percent == 10.0);
}

TEST_CASE("composition: names of several words, decimals, one part only") {
  const Result<Composition> two = parse_composition("coir  coarse 66.5 rice hulls 33.5");
  REQUIRE(two->size() == 2);
  CHECK((*two)[0].component == "coir coarse");
  CHECK((*two)[0].percent == 66.5);
  CHECK((*two)[1].component == "rice hulls");
  const Result<Composition> one = parse_composition("peat 100");
  REQUIRE(one->size() == 1);
  CHECK((*one)[0].percent == 100.0);
}

TEST_CASE("composition: parts add up to 100, to a hundredth") {
  CHECK(found("peat 33.33 coir 33.33 bark 33.33") == "nothing");
  CHECK(found("peat 33.3 coir 33.3 bark 33.3") == "parts that add up to 99.9 | 100 percent");
  CHECK(found("peat 60 perlite 30") == "parts that add up to 90 | 100 percent");
  CHECK(found("peat 60 perlite 50") == "parts that add up to 110 | 100 percent");
  CHECK(found("peat 0.6 perlite 0.4") == "parts that add up to 1 | 100 percent");
  CHECK(found("peat 1e308 perlite 1e308") == "parts that add up to inf | 100 percent");
}

TEST_CASE("composition: what is wrong in it") {
  CHECK(found("") == "an empty mix | " + example);
  CHECK(found("  ") == "an empty mix | " + example);
  CHECK(found("peat") == "\"peat\" without a percentage | " + example);
  CHECK(found("peat 60 perlite") == "\"perlite\" without a percentage | " + example);
  CHECK(found("peat 60 perlite 40 compost") == "\"compost\" without a percentage | " + example);
  CHECK(found("60 peat 40 perlite") == "60 without a name before it | " + example);
  CHECK(found("peat 60 40") == "40 without a name before it | " + example);
  CHECK(found("peat 0 perlite 100") == "0 percent of \"peat\" | more than nothing");
  CHECK(found("peat 120 perlite -20") == "-20 percent of \"perlite\" | more than nothing");
  CHECK(found("peat 50 Peat 50") == "\"Peat\" a second time | every component once");
  CHECK(found("coir coarse 50 coir-coarse 50") ==
        "\"coir-coarse\" a second time | every component once");
  CHECK(found("peat sixty perlite forty") ==
        "\"peat sixty perlite forty\" without a percentage | " + example);
}

TEST_CASE("blend: the curve is the hand sum of whole curves") {
  const std::vector<MixComponent> parts{peat(), perlite(), coir()};
  const Mix mix =
      blend("m", {{"peat", 60.0}, {"perlite", 30.0}, {"coir", 10.0}}, parts, 0.04, 100.0);
  CHECK(mix.name == "m");
  CHECK(mix.shrinkage == 0.04);
  CHECK(mix.composition.size() == 3);
  // (0.6 x 0.09 + 0.3 x 0.38 + 0.1 x 0.10) / 0.96 solids.
  CHECK(near(mix.curve.total_porosity(), 1.0 - 0.178 / 0.96, 1e-14));
  for (const double h : {1.0, 5.0, 10.0, 50.0, 100.0, 1500.0}) {
    const double hand =
        (0.6 * parts[0].curve.value.water_content(h) + 0.3 * parts[1].curve.value.water_content(h) +
         0.1 * parts[2].curve.value.water_content(h)) /
        0.96;
    CHECK(near(mix.curve.water_content(h), hand, 1e-14));
  }
}

TEST_CASE("blend: the middle, the lowest and the highest plausible curve") {
  const std::vector<MixComponent> parts{peat(), perlite()};
  const Composition composition{{"peat", 70.0}, {"perlite", 30.0}};
  const Mix central = blend("m", composition, parts, 0.0, 100.0);
  const Mix low = blend("m", composition, parts, 0.0, 100.0, CurveChoice::low);
  const Mix high = blend("m", composition, parts, 0.0, 100.0, CurveChoice::high);
  for (const double h : {0.5, 3.0, 30.0}) {
    CHECK(
        near(low.curve.water_content(h),
             0.7 * parts[0].curve.low.water_content(h) + 0.3 * parts[1].curve.low.water_content(h),
             1e-14));
    CHECK(near(
        high.curve.water_content(h),
        0.7 * parts[0].curve.high.water_content(h) + 0.3 * parts[1].curve.high.water_content(h),
        1e-14));
    CHECK(low.curve.water_content(h) < central.curve.water_content(h));
    CHECK(central.curve.water_content(h) < high.curve.water_content(h));
  }
}

TEST_CASE(
    "blend: the lower limit is the content at the limiting suction, or wilting if that is more") {
  const std::vector<MixComponent> parts{peat(), perlite()};
  const Composition composition{{"peat", 70.0}, {"perlite", 30.0}};
  const Mix mix = blend("m", composition, parts, 0.05, 100.0);
  CHECK(near(mix.wilting_m3_m3, (0.7 * 0.12 + 0.3 * 0.05) / 0.95, 1e-14));
  CHECK(near(mix.lower_limit_m3_m3, mix.curve.water_content(100.0), 1e-15));
  CHECK(mix.lower_limit_m3_m3 > mix.wilting_m3_m3);
  CHECK(near(blend("m", composition, parts, 0.05, 10.0).lower_limit_m3_m3,
             mix.curve.water_content(10.0), 1e-15));

  // A curve that dries out below the measured wilting content is not followed there.
  MixComponent dry = peat();
  dry.curve.value = {0.9, 0.0, 5.0, 2.0};
  dry.wilting_m3_m3 = 0.15;
  const Mix floored = blend("dry", {{"peat", 100.0}}, {dry}, 0.0, 100.0);
  CHECK(floored.curve.water_content(100.0) < 0.01);
  CHECK(floored.lower_limit_m3_m3 == 0.15);
  CHECK(floored.wilting_m3_m3 == 0.15);
}

TEST_CASE("blend: what else a mix takes from its parts") {
  const std::vector<MixComponent> parts{peat(), perlite(), coir()};
  const Composition composition{{"peat", 50.0}, {"perlite", 30.0}, {"coir", 20.0}};
  const Mix mix = blend("m", composition, parts, 0.1, 100.0);
  // Mass stays, volume shrinks.
  CHECK(near(mix.bulk_density_kg_l, (0.5 * 0.11 + 0.3 * 0.17 + 0.2 * 0.08) / 0.9, 1e-14));
  CHECK(near(mix.water_holding_share, 0.7, 1e-14));
  CHECK(near(mix.rewet_m3_m3, (0.5 * 0.20 + 0.2 * 0.08) / 0.9, 1e-14));
  CHECK(mix.second_uptake == 0.85);  // of the part that resists most
  CHECK(near(mix.rew_mm, 0.5 * 8.0 + 0.3 * 5.0 + 0.2 * 8.0, 1e-13));
  CHECK(near(mix.tew_mm, 0.5 * 19.0 + 0.3 * 14.0 + 0.2 * 19.0, 1e-13));

  const Mix wets_readily = blend("p", {{"perlite", 100.0}}, {perlite()}, 0.0, 100.0);
  CHECK(wets_readily.rewet_m3_m3 == 0.0);
  CHECK(wets_readily.second_uptake == 1.0);
  CHECK(wets_readily.water_holding_share == 0.0);
}

TEST_CASE("shrinkage: estimated from fine and coarse shares where nothing better is known") {
  // 0.2 x fine x coarse (judged, container/mix.hpp): most at half and half, none for like sizes.
  CHECK(near(estimated_shrinkage(half_half, {peat(), perlite()}, 0.2), 0.05, 1e-15));
  CHECK(estimated_shrinkage(half_half, {peat(), coir()}, 0.2) == 0.0);
  CHECK(near(estimated_shrinkage(half_half, {perlite(), perlite()}, 0.2), 0.0, 1e-15));
  CHECK(near(estimated_shrinkage({{"a", 80.0}, {"b", 20.0}}, {peat(), perlite()}, 0.2), 0.032,
             1e-15));
  CHECK(near(estimated_shrinkage({{"a", 20.0}, {"b", 80.0}}, {peat(), perlite()}, 0.2), 0.032,
             1e-15));
}

}  // namespace wiltline::test
