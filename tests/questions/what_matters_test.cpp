// What matters: shares of the spread against a double loop over draws and against rank
// correlations, which inputs are ranked, and what does not vary.
#include "wiltline/questions/what_matters.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/base/random.hpp"
#include "wiltline/questions/forecast.hpp"

namespace wiltline::test {
namespace {

const Place& place() {
  static const Place here(sample("tolvenau.csv"), catalogue().parameters);
  return here;
}

const Place& summer() {
  static const Place here(
      sample("tolvenau.csv").between(make_date(2022, 1, 1), make_date(2022, 12, 31)),
      catalogue().parameters);
  return here;
}

std::vector<Planting> pots() {
  return plantings(
      "thyme,thyme,clay 3 l,potting mix,1,2022-05-15,patio,daily 07:00\n"
      "tomato,tomato,nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00\n");
}

const AnswerMatters& about(const PlantingMatters& pot, std::string_view answer) {
  const auto found = std::find_if(pot.answers.begin(), pot.answers.end(),
                                  [&](const AnswerMatters& one) { return one.answer == answer; });
  REQUIRE(found != pot.answers.end());
  return *found;
}

const InputMatters* find(const AnswerMatters& answer, std::string_view input) {
  const auto found = std::find_if(answer.inputs.begin(), answer.inputs.end(),
                                  [&](const InputMatters& one) { return one.input == input; });
  return found == answer.inputs.end() ? nullptr : &*found;
}

/// Standard error of an estimate, if its range for 9 in 10 is that of a normal distribution.
double error_of(const IndexEstimate& estimate) {
  return (estimate.high - estimate.low) / (2.0 * 1.645);
}

/// Litres of a season of one planting, drawn at a point.
double litres_at(const std::vector<Planting>& planting, const std::vector<double>& point) {
  const DrawnGarden garden =
      draw_garden(planting, catalogue().parameters, catalogue(), point, 1, 0);
  return season(garden.plantings, summer().with_model(garden.model)).front().summary.watered_l;
}

TEST_CASE("what matters: of a nearly additive answer the shares add up, as rank correlations say") {
  const std::vector<Planting> garden = pots();
  constexpr std::size_t draws = 256;
  const MattersResult result =
      season_what_matters(garden, summer(), catalogue(), {}, {.draws = draws});
  REQUIRE(result.plantings.size() == 2);
  CHECK(result.runs % draws == 0);
  for (std::size_t i = 0; i < garden.size(); ++i) {
    CAPTURE(garden[i].name);
    const AnswerMatters& litres = about(result.plantings[i], "watered_l");
    REQUIRE(litres.inputs.size() > 20);
    double first = 0.0;
    double error = 0.0;
    for (const InputMatters& input : litres.inputs) {
      first += input.first_order.value;
      error += std::pow(error_of(input.first_order), 2);
      // No input does more by itself than in all.
      CHECK(input.first_order.value <=
            input.total.value +
                4.0 * std::hypot(error_of(input.first_order), error_of(input.total)));
      CHECK(input.total.value >= 0.0);
    }
    MESSAGE(garden[i].name << ": first-order shares add up to " << first << " +- "
                           << std::sqrt(error) << ", most by " << litres.inputs.front().input);
    CHECK(near(first, 1.0, 3.0 * std::sqrt(error)));
    std::vector<std::vector<DrawnInput>> inputs;
    std::vector<double> answers;
    const std::vector<Planting> one{garden[i]};
    for (std::uint64_t number = 1; number <= 200; ++number) {
      const DrawnGarden drawn = draw_garden(one, catalogue().parameters, catalogue(), 3, number);
      answers.push_back(
          season(drawn.plantings, summer().with_model(drawn.model)).front().summary.watered_l);
      inputs.push_back(drawn.inputs.front());
    }
    const auto most = most_influential(inputs_of(Line::threshold, inputs), answers);
    REQUIRE(most);
    CHECK(most->name == litres.inputs.front().input);
  }
}

TEST_CASE("what matters: a double loop over draws gives the same share of one input") {
  const std::vector<Planting> garden{pots().front()};
  const MattersResult result =
      season_what_matters(garden, summer(), catalogue(), {}, {.draws = 256, .seed = 4});
  const InputMatters* const wall =
      find(about(result.plantings[0], "watered_l"), "wall evaporation");
  REQUIRE(wall != nullptr);
  const std::vector<double> middle(draw_coordinates, 0.5);
  const auto usual = draw_garden(garden, catalogue().parameters, catalogue(), middle, 1, 0);
  std::optional<std::size_t> coordinate;
  for (const DrawnInput& input : usual.inputs.front()) {
    CHECK(input.level == 0.0);
    if (input.name == "wall evaporation") coordinate = input.coordinate;
  }
  REQUIRE(coordinate);
  // The variance of the means at levels of the input, less what the mean of few draws adds to it.
  constexpr std::size_t levels = 40;
  constexpr std::size_t inner = 25;
  RandomBits bits(11);
  std::vector<double> means;
  double within = 0.0;
  for (std::size_t level = 0; level < levels; ++level) {
    std::vector<double> values;
    double mean = 0.0;
    for (std::size_t i = 0; i < inner; ++i) {
      std::vector<double> point(draw_coordinates);
      for (double& x : point) x = bits.uniform();
      point[*coordinate] = (static_cast<double>(level) + 0.5) / levels;
      values.push_back(litres_at(garden, point));
      mean += values.back() / inner;
    }
    for (const double value : values) within += std::pow(value - mean, 2) / (inner - 1) / levels;
    means.push_back(mean);
  }
  double mean = 0.0;
  for (const double one : means) mean += one / levels;
  double between = -within / inner;
  for (const double one : means) between += std::pow(one - mean, 2) / (levels - 1);
  const double share = between / (between + within);
  // Of the loop: the sum of 40 squares, with the spread of a chi-square of 39 degrees.
  const double loop_error = share * (1.0 - share) * std::sqrt(2.0 / (levels - 1)) +
                            (1.0 - share) / inner * std::sqrt(2.0 / (levels - 1));
  MESSAGE("wall evaporation: " << wall->first_order.value << " +- " << error_of(wall->first_order)
                               << ", by the loop " << share << " +- " << loop_error);
  CHECK(near(wall->first_order.value, share,
             3.0 * std::hypot(loop_error, error_of(wall->first_order))));
}

TEST_CASE("what matters: what was measured is not ranked, what was learned by its error is") {
  std::vector<Planting> garden{pots().back()};
  garden.push_back(garden.front());
  garden[1].learned.use_factor = 1.2;
  garden[1].learned.use_factor_sd = 0.1;
  const MattersResult result =
      season_what_matters(garden, summer(), catalogue(), {}, {.draws = 64});
  const AnswerMatters& by_tables = about(result.plantings[0], "watered_l");
  const AnswerMatters& learned = about(result.plantings[1], "watered_l");
  CHECK(find(by_tables, "crown size") != nullptr);
  CHECK(find(by_tables, "water use of the plant") == nullptr);
  CHECK(find(learned, "crown size") == nullptr);
  CHECK(find(learned, "leaf area") == nullptr);
  CHECK(find(learned, "water use of the plant") != nullptr);
  CHECK(learned.deviation < by_tables.deviation);
  // Litres hang on no line; a line bears the name of the one that is asked about.
  CHECK(find(by_tables, "dry_line") == nullptr);
  CHECK(find(by_tables, "wilting_line") == nullptr);
  std::set<std::string> names;
  for (const InputMatters& input : by_tables.inputs) CHECK(names.insert(input.input).second);
  for (std::size_t i = 1; i < by_tables.inputs.size(); ++i) {
    CHECK(by_tables.inputs[i - 1].total.value >= by_tables.inputs[i].total.value);
  }
}

TEST_CASE("what matters: an answer that does not vary has no shares") {
  const std::vector<Planting> garden = plantings(
      "spinach,spinach,nursery 21 l,potting mix,1,2022-04-05,deep shade,daily 07:00 19:00\n");
  const MattersResult result =
      season_what_matters(garden, summer(), catalogue(), {}, {.draws = 32});
  CHECK(!about(result.plantings[0], "watered_l").inputs.empty());
  const AnswerMatters& dry = about(result.plantings[0], "dry_days");
  CHECK(dry.inputs.empty());
  CHECK(dry.mean == 0.0);
  CHECK(dry.deviation == 0.0);
}

TEST_CASE("what matters: the same on one thread and on two, and counted") {
  const std::vector<Planting> garden = pots();
  std::size_t last = 0;
  std::size_t all = 0;
  const MattersResult one = season_what_matters(
      garden, summer(), catalogue(), {},
      {.draws = 32, .threads = 1, .done = [&](std::size_t done, std::size_t of) {
         CHECK(done > last);
         last = done;
         all = of;
       }});
  const MattersResult two =
      season_what_matters(garden, summer(), catalogue(), {}, {.draws = 32, .threads = 2});
  CHECK(last == all);
  CHECK(all == one.runs);
  for (std::size_t i = 0; i < garden.size(); ++i) {
    const AnswerMatters& of_one = about(one.plantings[i], "watered_l");
    const AnswerMatters& of_two = about(two.plantings[i], "watered_l");
    CHECK(one.plantings[i].planting == &garden[i]);
    REQUIRE(of_one.inputs.size() == of_two.inputs.size());
    for (std::size_t k = 0; k < of_one.inputs.size(); ++k) {
      CHECK(of_one.inputs[k].input == of_two.inputs[k].input);
      CHECK(of_one.inputs[k].total.value == of_two.inputs[k].total.value);
      CHECK(of_one.inputs[k].first_order.high == of_two.inputs[k].first_order.high);
    }
  }
}

TEST_CASE("what matters: an absence ranks by its share of trips, with the line it asks about") {
  const std::vector<Planting> garden{pots().back()};
  AbsenceOptions options;
  options.away_h = 72.0;
  options.first_month = 7;
  options.last_month = 7;
  for (const Line line : {Line::wilting, Line::dry}) {
    options.line = line;
    const MattersResult result =
        absence_what_matters(garden, summer(), catalogue(), options, {.draws = 64});
    const AnswerMatters& share = about(result.plantings[0], "share");
    CHECK(share.mean > 0.0);
    CHECK(share.mean < 1.0);
    const bool wilting = line == Line::wilting;
    const InputMatters* const asked = find(share, wilting ? "wilting_line" : "dry_line");
    REQUIRE(asked != nullptr);
    CHECK(asked->total.value > 0.0);
    CHECK(find(share, wilting ? "dry_line" : "wilting_line") == nullptr);
  }
  options.first_month = options.last_month = 1;  // nothing grows
  CHECK(absence_what_matters(garden, summer(), catalogue(), options, {.draws = 32})
            .plantings[0]
            .answers.empty());
}

TEST_CASE(
    "what matters: in a forecast the weather to come is an input, and none once it is known") {
  std::vector<Planting> garden = pots();
  garden.push_back(
      plantings("later,tomato,nursery 37 l,potting mix,1,2022-08-15,patio,daily 07:00\n").front());
  std::vector<ForecastPlanting> inputs;
  for (const Planting& planting : garden) {
    inputs.push_back({.planting = &planting, .log = {}, .saved = {}});
  }
  ForecastOptions options;
  options.now = {make_date(2022, 7, 15), 9.0};
  options.observed_last = make_date(2022, 7, 14);
  for (const bool known : {false, true}) {
    options.known_last = make_date(2022, known ? 8 : 7, 14);
    const MattersResult result =
        forecast_what_matters(inputs, place(), catalogue(), options, {.draws = 64});
    REQUIRE(result.plantings.size() == 2);  // one is not planted yet
    for (const PlantingMatters& pot : result.plantings) {
      CHECK((pot.planting == &garden[0] || pot.planting == &garden[1]));
      const AnswerMatters& dry = about(pot, "dry_h");
      CHECK(dry.mean > 0.0);
      const InputMatters* const weather = find(dry, weather_to_come);
      REQUIRE(weather != nullptr);
      CHECK((weather->total.value == 0.0) == known);
      CHECK((weather->first_order.value == 0.0) == known);
    }
  }
}

TEST_CASE("what matters: in a hot spell the use does not hang on what the mix holds") {
  const std::vector<Planting> garden = pots();
  HotSpell spell = hottest_spell(summer(), 5, Heat::tmax).value();
  const MattersResult result =
      heatwave_what_matters(garden, summer(), spell, catalogue(), {}, {.draws = 64});
  for (const PlantingMatters& pot : result.plantings) {
    const InputMatters* const held = find(about(pot, "peak_use_l_day"), "lower_limit_suction_kpa");
    REQUIRE(held != nullptr);
    CHECK(near(held->total.value, 0.0, 1e-9));
    CHECK(find(about(pot, "waterings_per_day"), "lower_limit_suction_kpa")->total.value > 0.0);
  }
  // Of plants that are not there all through it nothing is said.
  spell.first = make_date(2022, 3, 1);
  CHECK(heatwave_what_matters(garden, summer(), spell, catalogue(), {}, {.draws = 32})
            .plantings[0]
            .answers.empty());
}

TEST_CASE("what matters: draws left out for want of water are counted") {
  // A refill share that sometimes restores less than what stays in the mix.
  auto tables = builtin_tables();
  std::string& bytes = tables["parameters.csv"].bytes;
  const std::string row = "refill_share,0.9,0.8,0.97";
  const std::size_t at = bytes.find(row);
  REQUIRE(at != std::string::npos);
  bytes.replace(at, row.size(), "refill_share,0.9,0.05,0.97");
  const Catalogue known = read_catalogue(tables);
  const Place there(summer().record(), known.parameters);
  const std::vector<Planting> garden = pots();
  const MattersResult result = season_what_matters(garden, there, known, {}, {.draws = 128});
  for (const PlantingMatters& pot : result.plantings) {
    CHECK(pot.waterless_draws > 0);
    CHECK(pot.waterless_draws < 96);
    for (const InputMatters& input : about(pot, "watered_l").inputs) {
      CHECK(std::isfinite(input.total.value));
    }
  }
  const std::string refused =
      refusal([&] { (void)season_what_matters(garden, there, known, {}, {.draws = 33}); });
  CHECK(refused.find(": found water that plants can use in all runs of ") != std::string::npos);
  CHECK(refused.ends_with(" of 33 draws; expected 32 or more"));
}

TEST_CASE("what matters: refusals") {
  const std::vector<Planting> garden = pots();
  CHECK(refusal([&] {
          (void)season_what_matters(garden, place(), catalogue(), {}, {.draws = 31});
        }) == "request: found 31 draws; expected 32 or more");
  CHECK(refusal([&] {
          (void)season_what_matters(garden, std::vector<Place>{}, catalogue(), {}, {.draws = 32});
        }) == "request: found no place; expected one at least");
  CHECK(refusal([&] {
          const std::vector<double> point(3, 0.5);
          (void)draw_garden(garden, catalogue().parameters, catalogue(), point, 1, 1);
        }) == "request: found a draw's point of 3 coordinates; expected 92");
  const std::vector<Planting> none;
  CHECK(season_what_matters(none, place(), catalogue(), {}, {.draws = 32}).plantings.empty());
}

}  // namespace
}  // namespace wiltline::test
