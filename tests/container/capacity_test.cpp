// Container capacity: the integral itself, the published cases, and what must follow from any
// curve.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::test {
namespace {

const MixComponent& component(std::string_view name) {
  const MixComponent* const found = catalogue().components.find(name);
  if (found == nullptr) throw std::runtime_error("no component " + std::string(name));
  return *found;
}

Mix mix(std::string_view name_or_composition) {
  const Result<Mix> result = catalogue().mix(name_or_composition);
  if (!result) throw std::runtime_error(result.fault().found);
  return *result;
}

/// The same mix from the curves of its parts that hold least or most.
Mix mix(std::string_view name, CurveChoice choice) {
  const Mix central = mix(name);
  std::vector<MixComponent> parts;
  for (const CompositionPart& part : central.composition)
    parts.push_back(component(part.component));
  return blend(central.name, central.composition, parts, central.shrinkage,
               catalogue().parameters.lower_limit_suction_kpa, choice);
}

ReleaseCurve single(const VanGenuchten& curve) {
  return ReleaseCurve({{1.0, curve}});
}

PotShape cylinder(double height_cm) {
  return PotShape::round(16.0, 16.0, height_cm);
}

double capacity(const ReleaseCurve& curve, double height_cm) {
  return container_capacity(curve, cylinder(height_cm)).capacity_m3_m3;
}

/// True if the mix at a height above standing water has let go of any of it.
bool drained(const ReleaseCurve& curve, double height_cm) {
  return curve.water_content(0.0980665 * height_cm) < curve.total_porosity();
}

/// The integral by many more layers, written down once more.
double fine_capacity(const ReleaseCurve& curve, const PotShape& shape,
                     double drain_level_cm = 0.0) {
  constexpr int layers = 20000;
  double water = 0.0;
  double volume = 0.0;
  for (int i = 0; i < layers; ++i) {
    const double z_cm = (i + 0.5) * shape.height_cm() / layers;
    const double suction_kpa = 0.0980665 * std::max(0.0, z_cm - drain_level_cm);
    water += shape.area_cm2(z_cm) * curve.water_content(suction_kpa);
    volume += shape.area_cm2(z_cm);
  }
  return water / volume;
}

/// The positive x at which a monotone function is zero, found by halving on a logarithmic scale.
double root(const std::function<double(double)>& function, double low, double high) {
  const bool low_side = function(low) > 0.0;
  if ((function(high) > 0.0) == low_side) throw std::runtime_error("no root between the ends");
  for (int i = 0; i < 200; ++i) {
    const double middle = std::sqrt(low * high);
    ((function(middle) > 0.0) == low_side ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

// The published cases

struct Case {
  std::string name;
  std::optional<double> porosity;
  std::optional<VanGenuchten> curve;
  std::string shape;
  double height_cm = 0.0;
  std::optional<double> height_2_cm;
  std::string quantity;
  double expected = 0.0;
  std::optional<double> expected_air;
  double tolerance = 0.0;
};

std::map<std::string, Case> read_cases() {
  const CsvTable table(
      read_file(std::string(WILTLINE_TEST_DATA) + "/reference/container-capacity-cases.csv"));
  std::map<std::string, Case> cases;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto text = [&](std::string_view name) {
      return table.cell(row, table.column(name).value());
    };
    const auto number = [&](std::string_view name) { return parse_number(text(name)); };
    Case item{.name = std::string(text("case")),
              .porosity = number("porosity"),
              .curve = {},
              .shape = std::string(text("shape")),
              .height_cm = number("height_cm").value(),
              .height_2_cm = number("height_2_cm"),
              .quantity = std::string(text("quantity")),
              .expected = number("expected").value(),
              .expected_air = number("expected_air"),
              .tolerance = number("tolerance").value()};
    if (number("theta_s")) {
      item.curve = VanGenuchten{number("theta_s").value(), number("theta_r").value(),
                                number("alpha_per_kpa").value(), number("n").value()};
    }
    cases.emplace(item.name, item);
  }
  return cases;
}

const std::map<std::string, Case>& cases() {
  static const std::map<std::string, Case> read = read_cases();
  return read;
}

PotShape shape_of(const Case& item) {
  const auto parts = words(item.shape);
  if (parts.at(0) == "cylinder") return cylinder(item.height_cm);
  return PotShape::round(parse_number(parts.at(1)).value(), parse_number(parts.at(2)).value(),
                         item.height_cm);
}

}  // namespace

TEST_CASE("capacity: the cases at hand") {
  std::set<std::string> names;
  for (const auto& [name, item] : cases()) names.insert(name);
  CHECK(names == std::set<std::string>{"P01", "P03", "P05", "P07", "P09", "P11", "V01", "V03",
                                       "V05", "V07", "V09", "V11", "V13", "V15"});
}

TEST_CASE("capacity: our own integrals, V rows, to the printed digit") {
  int checked = 0;
  for (const auto& entry : cases()) {
    const Case& item = entry.second;
    if (!item.curve) continue;
    CAPTURE(item.name);
    const ContainerCapacity result = container_capacity(single(*item.curve), shape_of(item));
    CHECK(near(result.capacity_m3_m3, item.expected, item.tolerance));
    CHECK(near(result.air_m3_m3, item.expected_air.value(), item.tolerance));
    ++checked;
  }
  CHECK(checked == 8);
}

TEST_CASE("capacity: P01, a nursery medium in a #1 container") {
  const Case& p01 = cases().at("P01");
  // Bilderback and Fonteno 1987 (read in abstract): total porosity 0.71, of which 0.43 water and
  // 0.28 air. The mix is not named. The published value is NOT met: the bark mix of
  // models/mixes.csv holds 0.511 of a porosity of 0.753, which is 0.08 more water, beyond the
  // +-0.05 to be expected of a mix that was not measured. It does lie between the curves of that
  // mix that hold least and most.
  CHECK(near(capacity(mix("bark mix").curve, p01.height_cm), 0.5109, 0.0005));
  CHECK(capacity(mix("bark mix", CurveChoice::low).curve, p01.height_cm) < p01.expected);
  CHECK(capacity(mix("bark mix", CurveChoice::high).curve, p01.height_cm) > p01.expected);
}

TEST_CASE("capacity: P11, sphagnum peat in a core") {
  // The peat of models/mix-components.csv is fitted to water contents at single suctions (Heiskanen
  // 1990); another laboratory measured a whole core (2012): 0.87 of water. Nothing of the core went
  // into the fit.
  const Case& p11 = cases().at("P11");
  const double held = capacity(single(component("peat").curve.value), p11.height_cm);
  CHECK(near(held, p11.expected, p11.tolerance));
  // To the last printed digit it is NOT met: 0.881. Its air is not either: the core had a porosity
  // of 0.98, the fit has 0.91, so that 0.029 is air and not 0.11.
  CHECK(near(held, 0.8805, 0.0005));
  CHECK(near(component("peat").curve.value.theta_s - held, 0.0295, 0.0005));
}

TEST_CASE("capacity: P03, fir bark in short and tall cores") {
  const Case& p03 = cases().at("P03");
  const auto ratio = [&](const ReleaseCurve& curve, double height_cm) {
    return capacity(curve, height_cm) / capacity(curve, p03.height_2_cm.value());
  };
  // Owen and Altland 2008 (read in abstract): 20 percent less water by volume in cores of 15.2 cm
  // than of 3.8 cm, falling linearly with height. One parameter of the bark curve, alpha, is
  // calibrated on that ratio; the core of 7.6 cm is then the check.
  const auto family = [](double factor) {
    VanGenuchten curve = component("bark").curve.value;
    curve.alpha_per_kpa *= factor;
    return single(curve);
  };
  const double factor =
      root([&](double k) { return ratio(family(k), p03.height_cm) - p03.expected; }, 0.01, 1.0);
  // On a straight line the core of 7.6 cm would hold 0.933 of the short one. The calibrated curve
  // says 0.907: the published linearity is NOT met, by 0.026. A van Genuchten curve past its entry
  // of air loses most of its water in the first centimetres.
  CHECK(near(ratio(family(factor), 7.6), 0.9073, 0.0005));

  // Without calibration the published ratio is NOT met: the bark of models/mix-components.csv gives
  // 0.738, a steeper fall. It does lie between the bark that holds least and the one that holds
  // most.
  CHECK(near(ratio(single(component("bark").curve.value), p03.height_cm), 0.7385, 0.0005));
  CHECK(ratio(single(component("bark").curve.low), p03.height_cm) < p03.expected);
  CHECK(ratio(single(component("bark").curve.high), p03.height_cm) > p03.expected);
}

TEST_CASE("capacity: P05 and P07, peat and vermiculite in a pot and in a plug cell") {
  const Case& pot = cases().at("P05");
  const Case& cell = cases().at("P07");
  REQUIRE(pot.porosity == cell.porosity);

  SUBCASE("nothing calibrated: the library's own blend") {
    // Both capacities are met within the 0.03 that the recalled values carry.
    const Mix blend = mix("peat 50 vermiculite 50");
    const double in_pot = capacity(blend.curve, pot.height_cm);
    const double in_cell = capacity(blend.curve, cell.height_cm);
    CHECK(near(in_pot, pot.expected, pot.tolerance));
    CHECK(near(in_cell, cell.expected, cell.tolerance));
    // The air of the cell is met, that of the pot is NOT: 0.150 against 0.20. Our blend has a
    // porosity of 0.847, the published mix 0.875.
    CHECK(near(blend.curve.total_porosity() - in_cell, cell.expected_air.value(), cell.tolerance));
    CHECK(near(blend.curve.total_porosity() - in_pot, 0.1499, 0.0005));
    // The named seed mix shrinks a little less: the pot is met, the cell NOT, by 0.037.
    const Mix seed_mix = mix("seed mix");
    CHECK(near(capacity(seed_mix.curve, pot.height_cm), pot.expected, pot.tolerance));
    CHECK(near(capacity(seed_mix.curve, cell.height_cm), 0.7583, 0.0005));
  }

  SUBCASE("one curve for both: one parameter calibrated on each in turn") {
    // Porosity as published, residual content and n the plain means of the two materials, alpha
    // free. A single van Genuchten curve, not the library's blend, which is flatter (next subcase).
    const VanGenuchten& peat = component("peat").curve.value;
    const VanGenuchten& vermiculite = component("vermiculite").curve.value;
    const auto family = [&](double alpha_per_kpa) {
      return single({pot.porosity.value(), (peat.theta_r + vermiculite.theta_r) / 2.0,
                     alpha_per_kpa, (peat.n + vermiculite.n) / 2.0});
    };
    const auto calibrated = [&](const Case& on) {
      return family(root([&](double a) { return capacity(family(a), on.height_cm) - on.expected; },
                         0.01, 1000.0));
    };
    const ContainerCapacity in_pot = container_capacity(calibrated(cell), cylinder(pot.height_cm));
    CHECK(near(in_pot.capacity_m3_m3, pot.expected, pot.tolerance));
    CHECK(near(in_pot.air_m3_m3, pot.expected_air.value(), pot.tolerance));
    const ContainerCapacity in_cell = container_capacity(calibrated(pot), cylinder(cell.height_cm));
    CHECK(near(in_cell.capacity_m3_m3, cell.expected, cell.tolerance));
    CHECK(near(in_cell.air_m3_m3, cell.expected_air.value(), cell.tolerance));
  }

  SUBCASE("the library's blend, its suctions scaled: NOT met") {
    // The same with the blend of the two curves, raised to the published porosity: between cell and
    // pot it loses 0.05 to 0.08 of its volume in water, the published mix 0.12.
    const auto family = [&](double factor) {
      VanGenuchten peat = component("peat").curve.value;
      VanGenuchten vermiculite = component("vermiculite").curve.value;
      const double raise = pot.porosity.value() - (peat.theta_s + vermiculite.theta_s) / 2.0;
      for (VanGenuchten* curve : {&peat, &vermiculite}) {
        curve->theta_s += raise;
        curve->alpha_per_kpa *= factor;
      }
      return ReleaseCurve({{0.5, peat}, {0.5, vermiculite}});
    };
    const auto calibrated = [&](const Case& on) {
      return family(root([&](double k) { return capacity(family(k), on.height_cm) - on.expected; },
                         0.01, 100.0));
    };
    CHECK(near(capacity(calibrated(cell), pot.height_cm), 0.7427, 0.0005));
    CHECK(near(capacity(calibrated(pot), cell.height_cm), 0.7512, 0.0005));
  }
}

TEST_CASE("capacity: P09, the share of the pores that holds water in a peat mix") {
  const Case& p09 = cases().at("P09");
  const auto pore_share = [&](std::string_view name) {
    const Mix blend = mix(name);
    return capacity(blend.curve, p09.height_cm) / blend.curve.total_porosity();
  };
  // A bulletin without a mix: 0.65, +-0.10. The published value is NOT met by our peat mixes: fine
  // peat with perlite holds water in eight tenths of its pores. The rice hull mix lands at the
  // edge, mixes of coir and bark inside.
  CHECK(near(pore_share("peat vermiculite mix"), 0.8165, 0.0005));
  CHECK(near(pore_share("potting mix"), 0.8340, 0.0005));
  CHECK(near(pore_share("rice hull mix"), 0.7510, 0.0005));
  CHECK(near(pore_share("coir mix"), p09.expected, p09.tolerance));
  CHECK(near(pore_share("bark mix"), p09.expected, p09.tolerance));
  // The peat vermiculite mix whose parts all hold least is inside.
  const Mix low = mix("peat vermiculite mix", CurveChoice::low);
  CHECK(near(capacity(low.curve, p09.height_cm) / low.curve.total_porosity(), p09.expected,
             p09.tolerance));
}

// The integral

TEST_CASE("capacity: suction at equilibrium is the height above the drain level") {
  // 1 kPa at 10 cm, to 2 percent (Passioura 2006); 1 cm of water is 0.0980665 kPa (NIST SP 811).
  CHECK(near(equilibrium_suction_kpa(10.0, 0.0), 1.0, 0.02));
  CHECK(near(equilibrium_suction_kpa(10.0, 0.0), 0.980665, 1e-15));
  CHECK(equilibrium_suction_kpa(0.0, 0.0) == 0.0);
  CHECK(near(equilibrium_suction_kpa(10.0, 4.0), 0.5883990, 1e-12));
  CHECK(equilibrium_suction_kpa(4.0, 4.0) == 0.0);
  CHECK(equilibrium_suction_kpa(1.0, 4.0) == 0.0);
}

TEST_CASE("capacity: a curve that can be integrated by hand") {
  // n = 2: the integral of 1 / sqrt(1 + x^2) is asinh(x).
  const VanGenuchten curve{0.90, 0.20, 1.5, 2.0};
  for (const double height_cm : {2.0, 10.0, 40.0}) {
    const double x = 1.5 * 0.0980665 * height_cm;
    CHECK(near(capacity(single(curve), height_cm), 0.20 + 0.70 * std::asinh(x) / x, 1e-6));
  }
}

TEST_CASE("capacity: within 1e-8 of 20000 layers for every material, up to 60 cm") {
  double worst = 0.0;
  for (const auto& entry : catalogue().components.entries()) {
    for (const VanGenuchten* curve :
         {&entry.value.curve.value, &entry.value.curve.low, &entry.value.curve.high}) {
      for (const double height_cm : {2.0, 6.0, 15.0, 30.0, 60.0}) {
        CAPTURE(entry.name);
        CAPTURE(height_cm);
        const PotShape shape = cylinder(height_cm);
        const double error = container_capacity(single(*curve), shape).capacity_m3_m3 -
                             fine_capacity(single(*curve), shape);
        worst = std::max(worst, std::abs(error));
        CHECK(near(error, 0.0, 1e-8));
      }
    }
  }
  CHECK(worst > 1e-10);  // the two sums are not the same one
}

TEST_CASE("capacity: the same for every mix, in tapered pots and with standing water") {
  const std::vector<PotShape> shapes{PotShape::round(60.0, 40.0, 60.0),
                                     PotShape::round(20.0, 40.0, 35.0),
                                     PotShape::rectangular(80.0, 20.0, 70.0, 12.0, 18.0)};
  for (const std::string& name : catalogue().mixes.names()) {
    const Mix blend = mix(name);
    for (const PotShape& shape : shapes) {
      for (const double drain_level_cm : {0.0, 2.5}) {
        CAPTURE(name);
        CAPTURE(drain_level_cm);
        CHECK(near(container_capacity(blend.curve, shape, drain_level_cm).capacity_m3_m3,
                   fine_capacity(blend.curve, shape, drain_level_cm), 1e-8));
      }
    }
  }
}

TEST_CASE("capacity: water and air fill the pores") {
  for (const std::string& name : catalogue().mixes.names()) {
    const Mix blend = mix(name);
    for (const double height_cm : {4.0, 20.0, 50.0}) {
      const ContainerCapacity result = container_capacity(blend.curve, cylinder(height_cm));
      CHECK(near(result.capacity_m3_m3 + result.air_m3_m3, blend.curve.total_porosity(), 1e-14));
      // A low pot of a fine mix may hold no air at all.
      CHECK(result.air_m3_m3 >= 0.0);
      if (height_cm > 4.0) CHECK(result.air_m3_m3 > 0.0);
    }
  }
}

// What must follow from any curve

TEST_CASE("capacity: the taller the pot, the less a litre of mix holds") {
  for (const std::string& name : catalogue().mixes.names()) {
    CAPTURE(name);
    const Mix blend = mix(name);
    double before = blend.curve.total_porosity();
    for (double height_cm = 2.0; height_cm <= 60.0; height_cm += 2.0) {
      const double now = capacity(blend.curve, height_cm);
      // A mix that is saturated to its top holds all it can; from there on every centimetre tells.
      if (drained(blend.curve, height_cm)) {
        CHECK(now < before);
      } else {
        CHECK(near(now, blend.curve.total_porosity(), 1e-14));
      }
      before = now;
    }
    CHECK(drained(blend.curve, 60.0));
  }
}

TEST_CASE("capacity: standing water raises it, up to saturation") {
  const PotShape shape = PotShape::round(30.0, 24.0, 25.0);
  for (const std::string& name : catalogue().mixes.names()) {
    CAPTURE(name);
    const Mix blend = mix(name);
    double before = container_capacity(blend.curve, shape).capacity_m3_m3;
    for (double level_cm = 1.0; level_cm < 25.0; level_cm += 1.0) {
      const double now = container_capacity(blend.curve, shape, level_cm).capacity_m3_m3;
      if (drained(blend.curve, 25.0 - level_cm)) {
        CHECK(now > before);
      } else {
        CHECK(near(now, blend.curve.total_porosity(), 1e-14));
      }
      before = now;
    }
    CHECK(near(container_capacity(blend.curve, shape, 25.0).capacity_m3_m3,
               blend.curve.total_porosity(), 1e-12));
  }
}

TEST_CASE("capacity: a pot that widens upward holds less per litre than its turned one") {
  for (const std::string& name : catalogue().mixes.names()) {
    const Mix blend = mix(name);
    const double widening =
        container_capacity(blend.curve, PotShape::round(40.0, 20.0, 30.0)).capacity_m3_m3;
    const double straight =
        container_capacity(blend.curve, PotShape::round(30.0, 30.0, 30.0)).capacity_m3_m3;
    const double narrowing =
        container_capacity(blend.curve, PotShape::round(20.0, 40.0, 30.0)).capacity_m3_m3;
    CHECK(widening < straight);
    CHECK(straight < narrowing);
  }
}

TEST_CASE("capacity: the wet layer belongs to the mix, not to the pot") {
  // Where less than a tenth is air, the usual limit for roots (Passioura 2006); the layer's height
  // follows from the curve alone, so a taller pot of the same mix has the same one.
  for (const std::string& name : catalogue().mixes.names()) {
    CAPTURE(name);
    const Mix blend = mix(name);
    const double tall_cm = wet_layer_cm(blend.curve, 50.0);
    const double taller_cm = wet_layer_cm(blend.curve, 60.0);
    CHECK(near(tall_cm, taller_cm, 0.002));
    if (tall_cm >= 50.0) continue;
    const auto air_at = [&](double z_cm) {
      return blend.curve.total_porosity() - blend.curve.water_content(0.0980665 * z_cm);
    };
    CHECK(air_at(tall_cm + 0.001) > 0.10);
    CHECK(air_at(std::max(0.0, tall_cm - 0.001)) < 0.10);
    // Standing water lifts it.
    CHECK(near(wet_layer_cm(blend.curve, 50.0, 5.0), std::min(50.0, tall_cm + 5.0), 0.002));
  }
}

// Litres

TEST_CASE("held water: litres of a filled pot, from its own shape") {
  Pot pot{.name = "p",
          .kind = "k",
          .shape = PotShape::round(30.0, 24.0, 28.0),
          .headspace_cm = 2.0,
          .wall = {},
          .drains = true,
          .drain_level_cm = 0.0,
          .reservoir_l = 0.0};
  const Mix blend = mix("potting mix");
  const HeldWater held = held_water(pot, blend, 0.9);
  const PotShape filled = pot.shape.filled_to(26.0);
  CHECK(near(held.mix_l, filled.volume_l(), 1e-12));
  CHECK(near(held.saturated_l, blend.curve.total_porosity() * held.mix_l, 1e-12));
  CHECK(near(held.refilled_l, 0.9 * fine_capacity(blend.curve, filled) * held.mix_l, 1e-4));
  CHECK(near(held.lower_limit_l, blend.lower_limit_m3_m3 * held.mix_l, 1e-12));
  CHECK(near(held.wilting_l, blend.wilting_m3_m3 * held.mix_l, 1e-12));
  CHECK(near(held.available_l(), held.refilled_l - held.lower_limit_l, 1e-15));
  CHECK(held.saturated_l > held.refilled_l);
  CHECK(held.refilled_l > held.lower_limit_l);
  CHECK(held.lower_limit_l >= held.wilting_l);

  // Holes up the side keep water in.
  pot.drain_level_cm = 4.0;
  CHECK(held_water(pot, blend, 0.9).refilled_l > held.refilled_l);
  CHECK(near(held_water(pot, blend, 1.0).refilled_l / held_water(pot, blend, 0.8).refilled_l, 1.25,
             1e-12));
}

TEST_CASE("bark: fresh bark holds 0.58 of what aged bark does, by its coarser pores") {
  // Commercial pine bark of six sources (abstract, read in the notes): ageing from a month to half
  // a year leaves total porosity at 0.805 and adds 0.214 to container capacity. The ratio 0.58 is
  // recalled: the curves were fitted to it, it checks nothing. Cores are 7.6 cm high.
  constexpr double core_cm = 7.6;
  const double fresh = capacity(mix("fresh bark 100").curve, core_cm);
  const double aged = capacity(mix("aged bark 100").curve, core_cm);
  CHECK(near(mix("fresh bark 100").curve.total_porosity(), 0.805, 1e-12));
  CHECK(near(mix("aged bark 100").curve.total_porosity(), 0.805, 1e-12));
  CHECK(near(fresh / aged, 0.58, 0.005));
  CHECK(near(aged - fresh, 0.214, 0.005));
  CHECK(mix("fresh bark 100").bulk_density_kg_l < mix("aged bark 100").bulk_density_kg_l);
}

TEST_CASE("bark: just drained it takes water, in any pot") {
  // About 35 percent moisture (Airhart 1978, abstract) as water over wet weight: 0.35 / 0.65 of the
  // dry density.
  const Mix bark = mix("bark 100");
  CHECK(near(bark.rewet_m3_m3, 0.35 / 0.65 * bark.bulk_density_kg_l, 0.005));
  for (const double height_cm : {10.0, 30.0, 60.0}) {
    CHECK(0.9 * capacity(bark.curve, height_cm) > 2.0 * bark.rewet_m3_m3);
  }
}

}  // namespace wiltline::test
