// How sure an answer is: spreads over draws, against the questions asked draw by draw.
#include "wiltline/questions/drawn_answers.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "support/fixtures.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

const DrawOptions some_draws{.draws = 40, .seed = 5};

std::vector<Planting> some_plantings() {
  return plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,every 2 days 07:00\n"
      "b,tomato,fabric 36 l,coir mix,1,05-15,hot paving,daily 07:00\n"
      "c,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n"
      "d,kale,nursery 21 l,potting mix,1,04-10,deep shade,daily 07:00\n");
}

DrawnGarden drawn(std::uint64_t number, const std::vector<Planting>& garden) {
  return draw_garden(garden, catalogue().parameters, catalogue(), some_draws.seed, number);
}

double level_of(const std::vector<DrawnInput>& inputs, const std::string& name) {
  const auto found = std::find_if(inputs.begin(), inputs.end(),
                                  [&](const DrawnInput& input) { return input.name == name; });
  REQUIRE(found != inputs.end());
  return found->level;
}

TEST_CASE("what plantings have in common is drawn alike") {
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "b,tomato,fabric 36 l,potting mix,1,05-15,patio,daily 07:00\n"
      "c,tomato,nursery 11 l,coir mix,1,05-15,hot paving,daily 07:00\n");
  const DrawnGarden one = drawn(3, garden);
  CHECK(one.plantings[0].crop == one.plantings[1].crop);
  CHECK(one.plantings[0].crop == one.plantings[2].crop);
  CHECK(!(one.plantings[0].crop == garden[0].crop));
  CHECK(one.plantings[0].spot == one.plantings[1].spot);
  CHECK(level_of(one.inputs[0], "water the mix holds") ==
        level_of(one.inputs[1], "water the mix holds"));
  CHECK(level_of(one.inputs[0], "dry_line") == level_of(one.inputs[2], "dry_line"));
  // Alone as among others; another number or seed is another draw.
  const DrawnGarden alone = drawn(3, {garden[1]});
  CHECK(alone.plantings[0].crop == one.plantings[1].crop);
  CHECK(alone.plantings[0].pot.wall.evaporation_share ==
        one.plantings[1].pot.wall.evaporation_share);
  CHECK(alone.model.dry_line == one.model.dry_line);
  CHECK(drawn(4, garden).model.dry_line != one.model.dry_line);
}

TEST_CASE("every input stays in its range and comes to both sides of the table's value") {
  const std::vector<Planting> garden = some_plantings();
  const ModelParameters& model = catalogue().parameters;
  int lower = 0;
  constexpr int draws = 200;
  for (int i = 0; i < draws; ++i) {
    const DrawnGarden one = drawn(static_cast<std::uint64_t>(i), garden);
    for (const auto& inputs : one.inputs) {
      for (const DrawnInput& input : inputs) CHECK(std::abs(input.level) <= 1.0);
    }
    const Ranged& leaf = garden[0].crop.leaf_area_m2;
    CHECK(one.plantings[0].crop.leaf_area_m2.value >= leaf.low);
    CHECK(one.plantings[0].crop.leaf_area_m2.value <= leaf.high);
    lower += one.model.dry_line < model.dry_line ? 1 : 0;
    CHECK(one.model.wilting_line <= one.model.dry_line);
  }
  // Half of 200, give or take four standard deviations of a fair coin.
  CHECK(std::abs(lower - draws / 2) < 4.0 * std::sqrt(draws / 4.0));
}

TEST_CASE("a tenth, half and nine tenths") {
  std::vector<double> values;
  for (int i = 100; i >= 0; --i) values.push_back(i);
  const Spread spread = spread_of(values);
  CHECK(spread.p10 == 10.0);
  CHECK(spread.p50 == 50.0);
  CHECK(spread.p90 == 90.0);
  const Spread one = spread_of({3.0});
  CHECK(one.p10 == 3.0);
  CHECK(one.p90 == 3.0);
}

TEST_CASE("the spread of a season is that of its draws, run one by one") {
  const WeatherRecord record = sample("tolvenau.csv");
  const std::vector<Planting> garden = some_plantings();
  std::vector<SeasonStart> starts;
  for (const Planting& planting : garden) {
    starts.push_back({&planting, planting_dates(planting, record)[1]});
  }
  const Place weather(record, catalogue().parameters);
  const auto spreads = season_spreads(starts, weather, catalogue(), {}, some_draws);
  REQUIRE(spreads.size() == garden.size());
  bool any_wilted = false;
  bool any_mover = false;
  for (std::size_t p = 0; p < garden.size(); ++p) {
    CAPTURE(garden[p].name);
    std::vector<double> litres;
    std::vector<double> wilting;
    for (std::uint64_t number = 1; number <= some_draws.draws; ++number) {
      const DrawnGarden one = drawn(number, {garden[p]});
      const Place own(record, one.model);
      const SeasonResult season = run_season(one.plantings[0], starts[p].planted, own, {});
      litres.push_back(season.summary.watered_l);
      wilting.push_back(season.summary.wilting_days);
    }
    CHECK(spreads[p].watered_l.p10 == spread_of(litres).p10);
    CHECK(spreads[p].watered_l.p90 == spread_of(litres).p90);
    CHECK(spreads[p].wilting_days.p90 == spread_of(wilting).p90);
    const auto none = std::count(wilting.begin(), wilting.end(), 0.0);
    CHECK(near(spreads[p].unwilted_share,
               static_cast<double>(none) / static_cast<double>(some_draws.draws), 1e-15));
    any_mover = any_mover || spreads[p].moves_most;
    any_wilted = any_wilted || spreads[p].wilting_days.p90 > 0.0;
    CHECK(spreads[p].watered_l.p10 < spreads[p].watered_l.p90);
  }
  CHECK(any_wilted);
  CHECK(any_mover);
}

TEST_CASE("spreads of choices, absences and hot spells, against the questions themselves") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "b,tomato,nursery 21 l,potting mix,1,05-15,patio,daily 07:00\n");
  const Place weather(record, catalogue().parameters);
  const HotSpell spell = hottest_spell(weather, 5, Heat::tmax).value();
  const AbsenceOptions away{.away_h = 36.0};
  const auto choices = choice_spreads(garden, weather, catalogue(), {}, some_draws);
  const auto windows = absence_spreads(garden, weather, catalogue(), away, some_draws);
  const auto hot = heatwave_spreads(garden, weather, spell, catalogue(), {}, some_draws);

  std::array<int, 2> enough{};
  std::array<int, 2> once{};
  std::array<std::vector<double>, 2> shares;
  std::array<std::vector<double>, 2> peaks;
  for (std::uint64_t number = 1; number <= some_draws.draws; ++number) {
    const DrawnGarden one = drawn(number, garden);
    const Place own(record, one.model);
    for (const ComparedChoice& choice : compare(one.plantings, own, {})) {
      enough[choice.planting == &one.plantings[0] ? 0 : 1] += choice.enough() ? 1 : 0;
    }
    const AbsenceResult passed = absence(one.plantings, own, away);
    const HeatwaveResult heat = heatwave(one.plantings, own, spell, {});
    for (std::size_t i = 0; i < 2; ++i) {
      shares[i].push_back(passed.pots[i].share().value());
      peaks[i].push_back(heat.pots[i].peak_use_l_day);
      once[i] += heat.pots[i].once_a_day.enough() ? 1 : 0;
    }
  }
  const auto of_draws = [](int count) {
    return static_cast<double>(count) / static_cast<double>(some_draws.draws);
  };
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(near(choices[i]->enough_share, of_draws(enough[i]), 1e-15));
    CHECK(windows[i]->share.p10 == spread_of(shares[i]).p10);
    CHECK(windows[i]->share.p90 == spread_of(shares[i]).p90);
    CHECK(hot[i]->peak_use_l_day.p90 == spread_of(peaks[i]).p90);
    CHECK(near(hot[i]->once_a_day_share, of_draws(once[i]), 1e-15));
  }
  // Of so few draws hardly any input stands out.
  const DrawOptions more{.draws = 60, .seed = some_draws.seed};
  CHECK(heatwave_spreads(garden, weather, spell, catalogue(), {}, more)[0]->moves_most.has_value());
  CHECK(shares[0] != shares[1]);

  // On several threads: the same, and each draw is told of once.
  std::size_t told = 0;
  DrawOptions watched = some_draws;
  watched.threads = 3;
  watched.done = [&told](std::size_t done) { CHECK(done == ++told); };
  const auto again = absence_spreads(garden, weather, catalogue(), away, watched);
  CHECK(told == some_draws.draws);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(again[i]->share.p50 == windows[i]->share.p50);
    CHECK(again[i]->enough_share == windows[i]->enough_share);
    CHECK(again[i]->moves_most.has_value() == windows[i]->moves_most.has_value());
  }
}

TEST_CASE("a planting no record holds has no spread") {
  const WeatherRecord record = sample("tolvenau.csv");
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,1999-05-15,patio,daily 07:00\n"
      "b,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  const Place weather(record, catalogue().parameters);
  const auto spreads = choice_spreads(garden, weather, catalogue(), {}, {.draws = 3, .seed = 1});
  CHECK(!spreads[0]);
  CHECK(spreads[1]);
}

TEST_CASE("draws whose pot holds no water for plants are left out and counted") {
  // A refill share that often restores less than what stays in the mix.
  auto tables = builtin_tables();
  std::string& bytes = tables["parameters.csv"].bytes;
  const std::string row = "refill_share,0.9,0.8,0.97";
  const std::size_t at = bytes.find(row);
  REQUIRE(at != std::string::npos);
  bytes.replace(at, row.size(), "refill_share,0.9,0.05,0.97");
  const Catalogue known = read_catalogue(tables);
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,as-needed\n"
      "b,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  const Place place(sample("tolvenau.csv").between(make_date(2022, 1, 1), make_date(2022, 12, 31)),
                    known.parameters, {});
  std::size_t waterless = 0;
  for (std::size_t number = 1; number <= some_draws.draws; ++number) {
    DrawnGarden one = draw_garden(garden, known.parameters, known, some_draws.seed, number);
    if (!one.waterless.empty() && one.waterless.front() == 0) ++waterless;
    const std::size_t dry = one.waterless.size();
    const std::vector<std::size_t> index = one.leave_out_waterless();
    CHECK(one.plantings.size() == garden.size() - dry);
    CHECK(one.inputs.size() == one.plantings.size());
    for (std::size_t i = 0; i < index.size(); ++i) {
      CHECK(one.plantings[i].name == garden[index[i]].name);
    }
  }
  REQUIRE(waterless > 0);
  REQUIRE(waterless < some_draws.draws);
  const auto seasons =
      season_spreads(season_starts(garden, place.record()), place, known, {}, some_draws);
  CHECK(seasons[0].waterless_draws == waterless);
  const auto choices = choice_spreads(garden, place, known, {}, some_draws);
  CHECK(choices[0].value().waterless_draws == waterless);
  const HotSpell spell = hottest_spell(place, 5, Heat::tmax).value();
  const auto spells = heatwave_spreads(garden, place, spell, known, {}, some_draws);
  CHECK(spells[0].value().waterless_draws == waterless);
  const auto absences = absence_spreads(garden, place, known, {}, some_draws);
  CHECK(absences[0].value().waterless_draws == waterless);
}

}  // namespace
}  // namespace wiltline::test
