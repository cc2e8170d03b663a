// Draws of inputs, and which of them an answer depends on.
#include "wiltline/questions/draws.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random.hpp"
#include "wiltline/container/capacity.hpp"

namespace wiltline::test {
namespace {

constexpr std::uint64_t seed = 11;

DrawnGarden drawn(std::uint64_t number, const std::vector<Planting>& garden) {
  return draw_garden(garden, catalogue().parameters, catalogue(), seed, number);
}

std::optional<double> level_of(const std::vector<DrawnInput>& inputs, const std::string& name) {
  for (const DrawnInput& input : inputs) {
    if (input.name == name) return input.level;
  }
  return std::nullopt;
}

/// A range's value at a level: -1 its low end, 0 the table's, 1 its high end.
double at_level(const Ranged& range, double level) {
  return level < 0.0 ? range.value + level * (range.value - range.low)
                     : range.value + level * (range.high - range.value);
}

constexpr std::uint64_t draws = 60;

}  // namespace

TEST_CASE("draws: every parameter of the model stands where its level says") {
  const std::vector<Planting> garden =
      plantings("a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  int checked = 0;
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, garden);
    for (const ModelParameterName& parameter : model_parameter_names()) {
      const ParameterRow& row = *catalogue().parameter_rows.find(std::string(parameter.name));
      const auto level = level_of(one.inputs[0], std::string(parameter.name));
      if (!level) continue;
      CAPTURE(std::string(parameter.name));
      CHECK(near(one.model.*(parameter.member), at_level(row.number, *level),
                 1e-12 * (1.0 + std::abs(row.number.high))));
      ++checked;
    }
    // The line of wilting goes with that of dryness.
    const ParameterRow& wilting = *catalogue().parameter_rows.find("wilting_line");
    const double level = *level_of(one.inputs[0], "dry_line");
    CHECK(near(one.model.wilting_line,
               std::min(at_level(wilting.number, level), one.model.dry_line), 1e-12));
  }
  CHECK(checked > 20 * static_cast<int>(draws));
}

TEST_CASE("draws: what only words advice is not drawn, nor what the planting does not have") {
  const std::vector<Planting> bare =
      plantings("a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  std::vector<Planting> mulched = bare;
  mulched[0].mulch = true;
  const ModelParameters& table = catalogue().parameters;
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, bare);
    CHECK(one.model.feed_interval_days == table.feed_interval_days);
    CHECK(one.model.feed_leached_mixes == table.feed_leached_mixes);
    CHECK(one.model.frost_tender_c == table.frost_tender_c);
    CHECK(one.model.rot_line == table.rot_line);
    CHECK(one.model.hot_root_tmax_c == table.hot_root_tmax_c);
    CHECK(one.model.as_needed_cap_per_day == table.as_needed_cap_per_day);
    CHECK_FALSE(level_of(one.inputs[0], "mulch_factor"));
    CHECK_FALSE(level_of(one.inputs[0], "wall evaporation"));
    // A mulch of one planting changes nothing in the draws of others.
    const DrawnGarden other = drawn(number, mulched);
    CHECK(level_of(other.inputs[0], "mulch_factor"));
    CHECK(other.model.dry_line == one.model.dry_line);
    CHECK(other.model.mulch_factor == one.model.mulch_factor);
  }
}

TEST_CASE("draws: a crop's, spot's and pot's values stand where their levels say") {
  const std::vector<Planting> garden =
      plantings("a,tomato,clay 10.5 l,peat 100,1,05-15,patio,daily 07:00\n");
  const Planting& table = garden.front();
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, garden);
    const Planting& planting = one.plantings.front();
    const auto level = [&](const char* name) { return level_of(one.inputs[0], name).value(); };
    const auto check = [](double actual, const Ranged& range, double at) {
      CHECK(near(actual, at_level(range, at), 1e-12 * (1.0 + range.high)));
    };
    check(planting.crop.canopy_diameter_m.value, table.crop.canopy_diameter_m, level("crown size"));
    check(planting.crop.crown_height_m.value, table.crop.crown_height_m, level("crown size"));
    check(planting.crop.leaf_area_m2.value, table.crop.leaf_area_m2, level("leaf area"));
    check(planting.crop.days_to_full.value, table.crop.days_to_full, level("days to full canopy"));
    check(planting.crop.depletion_fraction.value, table.crop.depletion_fraction,
          level("depletion fraction"));
    check(planting.crop.preferred_l.value, table.crop.preferred_l, level("preferred litres"));
    check(planting.spot.sky_view.value, table.spot.sky_view, level("sky view"));
    check(planting.spot.wind_share.value, table.spot.wind_share, level("wind share"));
    check(planting.spot.rain_share.value, table.spot.rain_share, level("rain share"));
    check(planting.spot.advection.value, table.spot.advection, level("advection"));
    check(planting.pot.wall.evaporation_share.value, table.pot.wall.evaporation_share,
          level("wall evaporation"));
    CHECK(near(planting.pot.mix_l(),
               at_level({table.pot.mix_l(), table.pot.sold_mix_l.low, table.pot.sold_mix_l.high},
                        level("pot volume")),
               1e-9));
  }
}

TEST_CASE("draws: a mix holds more the higher its level, of whole curves between the three") {
  const std::vector<Planting> garden =
      plantings("a,tomato,nursery 11 l,peat 100,1,05-15,patio,daily 07:00\n");
  const MixComponent& peat = *catalogue().components.find("peat");
  int drier = 0;
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, garden);
    const Mix& mix = one.plantings[0].mix;
    const double level = level_of(one.inputs[0], "water the mix holds").value();
    const VanGenuchten& end = level < 0.0 ? peat.curve.low : peat.curve.high;
    for (const double suction_kpa : {0.5, 1.0, 5.0, 10.0}) {
      const double expected =
          (1.0 - std::abs(level)) * peat.curve.value.water_content(suction_kpa) +
          std::abs(level) * end.water_content(suction_kpa);
      CHECK(near(mix.curve.water_content(suction_kpa), expected, 1e-12));
    }
    const PotShape shape = PotShape::round(20.0, 20.0, 20.0);
    const double held = container_capacity(mix.curve, shape).capacity_m3_m3;
    const double central = container_capacity(garden[0].mix.curve, shape).capacity_m3_m3;
    CHECK((held < central) == (level < 0.0));
    drier += level < 0.0 ? 1 : 0;
    const double surface = level_of(one.inputs[0], "surface drying").value();
    CHECK(near(mix.rew_mm, at_level(peat.rew_mm, surface), 1e-12));
    CHECK(near(mix.tew_mm, at_level(peat.tew_mm, surface), 1e-12));
    CHECK(mix.composition.size() == 1);
  }
  CHECK(drier > 10);
  CHECK(drier < static_cast<int>(draws) - 10);
}

TEST_CASE("draws: a mix that would hold nothing a plant can use is drawn again") {
  const std::vector<Planting> garden =
      plantings("a,basil,clay 1.3 l,perlite 100,1,05-15,patio,daily 07:00\n");
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, garden);
    CHECK(held_water(one.plantings[0].pot, one.plantings[0].mix, one.model.refill_share)
              .available_l() > 0.0);
  }
}

TEST_CASE("draws: what the gardener measured stays") {
  const Planting measured = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00",
                                    ",volume_l,canopy_diameter_m,canopy_height_m", ",9.5,0.6,0.7");
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, {measured});
    CHECK(one.plantings[0].crop.canopy_diameter_m.value == 0.6);
    CHECK(one.plantings[0].crop.crown_height_m.value == 0.7);
    CHECK(near(one.plantings[0].pot.mix_l(), 9.5, 1e-9));
    CHECK_FALSE(level_of(one.inputs[0], "crown size"));
    CHECK_FALSE(level_of(one.inputs[0], "pot volume"));
  }
}

TEST_CASE("draws: the same seed and number are the same draw, and names never change") {
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "b,basil,clay 3 l,coir mix,3,05-25,balcony,daily 07:00\n");
  const DrawnGarden first = drawn(0, garden);
  for (std::uint64_t number = 1; number < 5; ++number) {
    const DrawnGarden one = drawn(number, garden);
    const DrawnGarden again = drawn(number, garden);
    for (std::size_t p = 0; p < garden.size(); ++p) {
      REQUIRE(one.inputs[p].size() == first.inputs[p].size());
      for (std::size_t i = 0; i < one.inputs[p].size(); ++i) {
        CHECK(one.inputs[p][i].name == first.inputs[p][i].name);
        CHECK(one.inputs[p][i].level == again.inputs[p][i].level);
      }
    }
    CHECK(one.model.dry_line != first.model.dry_line);
  }
}

TEST_CASE("draws: levels spread evenly over their range") {
  const std::vector<Planting> garden =
      plantings("a,tomato,nursery 11 l,peat 100,1,05-15,patio,daily 07:00\n");
  constexpr int many = 400;
  for (const char* name : {"leaf area", "water the mix holds", "dry_line", "rain share"}) {
    CAPTURE(std::string(name));
    std::vector<double> levels;
    for (std::uint64_t number = 0; number < many; ++number) {
      levels.push_back(level_of(drawn(number, garden).inputs[0], name).value());
    }
    std::sort(levels.begin(), levels.end());
    // Kolmogorov's distance from the even distribution: beyond 1.63 / sqrt n one time in a hundred.
    double distance = 0.0;
    for (std::size_t i = 0; i < levels.size(); ++i) {
      const double share = (levels[i] + 1.0) / 2.0;
      distance = std::max({distance, std::abs(share - static_cast<double>(i) / many),
                           std::abs(share - static_cast<double>(i + 1) / many)});
    }
    CHECK(distance < 1.63 / std::sqrt(many));
  }
}

// Ranks and shares

TEST_CASE("the value that a share of the answers does not exceed") {
  const std::vector<double> ten{1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
  CHECK(at_share(ten, 0.1) == 1);
  CHECK(at_share(ten, 0.11) == 2);
  CHECK(at_share(ten, 0.5) == 5);
  CHECK(at_share(ten, 0.9) == 9);
  CHECK(at_share(ten, 0.91) == 10);
  CHECK(at_share(ten, 0.0) == 1);
  CHECK(at_share(ten, 1.0) == 10);
}

namespace {

/// Draws of three inputs of random levels.
std::vector<std::vector<DrawnInput>> three_inputs(std::size_t count) {
  Random random(5);
  std::vector<std::vector<DrawnInput>> result;
  for (std::size_t i = 0; i < count; ++i) {
    result.push_back({{"a", random.uniform(-1.0, 1.0)},
                      {"b", random.uniform(-1.0, 1.0)},
                      {"c", random.uniform(-1.0, 1.0)}});
  }
  return result;
}

std::vector<double> answers_of(const std::vector<std::vector<DrawnInput>>& inputs,
                               double (*answer)(double a, double b, double c)) {
  std::vector<double> result;
  for (const auto& one : inputs) result.push_back(answer(one[0].level, one[1].level, one[2].level));
  return result;
}

}  // namespace

TEST_CASE("the most influential input, by ranks: any rising or falling course counts in full") {
  const auto inputs = three_inputs(50);
  const auto rising = most_influential(
      inputs, answers_of(inputs, [](double, double b, double) { return std::exp(9.0 * b); }));
  REQUIRE(rising);
  CHECK(rising->name == "b");
  CHECK(near(rising->correlation, 1.0, 1e-12));
  const auto falling = most_influential(
      inputs, answers_of(inputs, [](double a, double, double c) { return 0.2 * a - 3.0 * c; }));
  REQUIRE(falling);
  CHECK(falling->name == "c");
  CHECK(falling->correlation < -0.95);
}

TEST_CASE("the most influential input: none where nothing stands out") {
  const auto inputs = three_inputs(200);
  Random random(6);
  std::vector<double> noise;
  for (std::size_t i = 0; i < inputs.size(); ++i) noise.push_back(random.uniform());
  CHECK_FALSE(most_influential(inputs, noise));
  CHECK_FALSE(most_influential(inputs, std::vector<double>(inputs.size(), 4.0)));
  const auto two = three_inputs(2);
  CHECK_FALSE(most_influential(two, std::vector<double>{1.0, 2.0}));
  CHECK_FALSE(most_influential({}, {}));
}

TEST_CASE("the most influential input must be beyond 3.23 over the root of the draws less one") {
  // One input in order, answers a permutation of so many ranks: Spearman's rho is
  // 1 - 6 sum d2 / (n (n2 - 1)) without ties (Spearman 1904).
  constexpr std::size_t n = 26;
  std::vector<std::vector<DrawnInput>> inputs;
  for (std::size_t i = 0; i < n; ++i) inputs.push_back({{"a", static_cast<double>(i)}});
  const double least = 3.23 / std::sqrt(static_cast<double>(n - 1));  // 0.646
  std::vector<double> answers;
  for (std::size_t i = 0; i < n; ++i) answers.push_back(static_cast<double>(i));
  int named = 0;
  int unnamed = 0;
  for (std::size_t turned = 2; turned <= n; ++turned) {  // the first so many backwards
    std::vector<double> some = answers;
    std::reverse(some.begin(), some.begin() + static_cast<std::ptrdiff_t>(turned));
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      sum += (some[i] - answers[i]) * (some[i] - answers[i]);
    }
    const double rho = 1.0 - 6.0 * sum / (n * (n * n - 1.0));
    const auto influence = most_influential(inputs, some);
    CAPTURE(turned);
    CHECK(influence.has_value() == (std::abs(rho) >= least));
    if (influence) CHECK(near(influence->correlation, rho, 1e-12));
    (influence ? named : unnamed) += 1;
  }
  CHECK(named > 3);
  CHECK(unnamed > 3);
}

TEST_CASE("equal answers share a rank") {
  // Half of the answers were not reached; of the rest the input orders each.
  std::vector<std::vector<DrawnInput>> inputs;
  std::vector<double> answers;
  for (int i = 0; i < 40; ++i) {
    inputs.push_back({{"a", static_cast<double>(i)}});
    answers.push_back(i < 20 ? i : 1e300);
  }
  const auto influence = most_influential(inputs, answers);
  REQUIRE(influence);
  // Pearson's correlation of ranks 0..39 with 0..19 and twenty times 29.5, by hand: covariance sum
  // 4665 of squares 5330 and 4665.
  CHECK(near(influence->correlation, std::sqrt(4665.0 / 5330.0), 1e-12));
}

TEST_CASE("uncertainty: the lines drawn as one bear the name of the one asked, or have no say") {
  const std::vector<std::vector<DrawnInput>> lines{
      {{"leaf area", 0.5}, {"dry_line", 0.1}, {"wilting and dry lines", -0.3}}};
  const auto names = [&](Line asked) {
    std::string text;
    const auto inputs = inputs_of(asked, lines);
    for (const DrawnInput& input : inputs.front()) text += input.name + ";";
    return text;
  };
  CHECK(names(Line::wilting) == "leaf area;wilting_line;wilting_line;");
  CHECK(names(Line::dry) == "leaf area;dry_line;dry_line;");
  CHECK(names(Line::stressed) == "leaf area;");
  CHECK(names(Line::threshold) == "leaf area;");
}

TEST_CASE("uncertainty: a crop with lines of its own does not draw the model's") {
  const Planting thyme = one_row("thyme", "clay 4 l,herb mix,1,05-15,patio,daily 07:00");
  const auto inputs =
      draw_garden({&thyme, 1}, catalogue().parameters, catalogue(), 1, 1).inputs.front();
  CHECK(std::none_of(inputs.begin(), inputs.end(),
                     [](const DrawnInput& input) { return input.name == "dry_line"; }));
}

TEST_CASE("draws: lines of wilting and dryness that overlap can be drawn and run") {
  auto garden = plantings("it,thyme,clay 4 l,potting mix,1,05-15,patio,daily 07:00\n");
  garden.front().crop.wilting_line = Ranged{0.9, 0.8, 0.95};
  garden.front().crop.dry_line = Ranged{0.92, 0.7, 1.0};
  int cut = 0;
  for (std::uint64_t number = 0; number < draws; ++number) {
    const DrawnGarden one = drawn(number, garden);
    CHECK_NOTHROW(check_planting(one.plantings.front()));
    cut += one.plantings.front().crop.wilting_line->value < 0.8 ? 1 : 0;
  }
  CHECK(cut > 5);
}

}  // namespace wiltline::test
