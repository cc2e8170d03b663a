// The sweep's plan: an order, blocks and parts; and that a block says what each season alone would.
#include "wiltline/questions/sweep.hpp"

#include <doctest/doctest.h>

#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "support/fixtures.hpp"
#include "support/refusal.hpp"
#include "wiltline/questions/draws.hpp"

namespace wiltline::test {
namespace {

template <typename Value>
std::vector<Value> first_of(const NamedTable<Value>& table, std::size_t number) {
  std::vector<Value> values;
  for (std::size_t i = 0; i < number; ++i) values.push_back(table.entries()[i].value);
  return values;
}

SweepAxes axes(std::size_t crops, std::size_t spots, std::size_t pots,
               std::vector<std::optional<int>> plants) {
  return {.crops = first_of(catalogue().crops, crops),
          .spots = first_of(catalogue().spots, spots),
          .pots = first_of(catalogue().pots, pots),
          .mixes = {*catalogue().mix("potting mix"), *catalogue().mix("peat 60 perlite 40")},
          .plants = std::move(plants),
          .planted = {},
          .routine = *parse_routine("check daily 07:00")};
}

SweepPlan plan_of(std::size_t records) {
  return {axes(3, 2, 7, {std::nullopt, 2}), records, catalogue().parameters};
}

const WeatherRecord& weather() {
  static const WeatherRecord record = sample("tolvenau.csv");
  return record;
}

TEST_CASE("every crossing stands once, plants fastest and crop slowest") {
  const SweepPlan plan = plan_of(1);
  CHECK(plan.cases() == 3 * 2 * 7 * 2 * 2);
  std::set<std::tuple<std::size_t, std::size_t, std::size_t, std::size_t, std::size_t>> seen;
  auto before = std::tuple<std::size_t, std::size_t, std::size_t, std::size_t, std::size_t>{};
  for (std::size_t i = 0; i < plan.cases(); ++i) {
    const SweepCase c = plan.at(i);
    const auto now = std::tuple(c.crop, c.spot, c.pot, c.mix, c.plants);
    if (i > 0) CHECK(before < now);
    before = now;
    seen.insert(now);
  }
  CHECK(seen.size() == plan.cases());
  CHECK(plan.at(plan.cases() - 1).crop == 2);
}

TEST_CASE("blocks hold every crossing of every record once, in order") {
  const SweepPlan plan = plan_of(5);
  std::size_t next = 0;
  std::size_t record = 0;
  for (std::size_t b = 0; b < plan.blocks(); ++b) {
    const SweepBlock block = plan.block(b);
    if (block.record != record) {
      CHECK(next == plan.cases());
      CHECK(block.record == record + 1);
      record = block.record;
      next = 0;
    }
    CHECK(block.first == next);
    CHECK(block.size >= 1);
    CHECK(block.size <= SweepPlan::most_in_block);
    next += block.size;
  }
  CHECK(record == 4);
  CHECK(next == plan.cases());
  CHECK(plan.blocks() == 3 * 5);
}

TEST_CASE("parts hold every block once, and differ by one block at most") {
  const SweepPlan plan = plan_of(5);
  for (const std::size_t n : {1U, 2U, 3U, 7U, 15U, 40U, 1000000U}) {
    CAPTURE(n);
    std::size_t next = 0;
    for (std::size_t k = 1; k <= n; k += (n > 1000 && k > 1000 && k + 1000 < n ? 499 : 1)) {
      const BlockRange part = plan.part(k, n);
      if (n <= 1000) CHECK(part.first == next);
      next = part.last;
      const std::size_t size = part.last - part.first;
      CHECK(size >= plan.blocks() / n);
      CHECK(size <= plan.blocks() / n + 1);
    }
    CHECK(next == plan.blocks());
  }
}

TEST_CASE("planted in mid-spring of the hemisphere unless a day is given") {
  Site north;
  north.latitude_deg = 46.0;
  Site south;
  south.latitude_deg = -34.0;
  const SweepPlan plan = plan_of(1);
  CHECK(plan.planted(north) == PlantingDay{MonthDay{5, 15}});
  CHECK(plan.planted(south) == PlantingDay{MonthDay{11, 15}});
  SweepAxes given = axes(1, 1, 1, {1});
  given.planted = MonthDay{6, 1};
  const SweepPlan fixed(std::move(given), 1, catalogue().parameters);
  CHECK(fixed.planted(south) == PlantingDay{MonthDay{6, 1}});
}

TEST_CASE("plants: a number, or as many as the crop's litres are for") {
  const SweepPlan plan = plan_of(1);
  const Planting usual = plan.planting(plan.at(0), weather().site());
  const Planting two = plan.planting(plan.at(1), weather().site());
  CHECK(usual.plants == doctest::Approx(usual.crop.plants_per_pot).epsilon(0.5));
  CHECK(two.plants == 2);
}

TEST_CASE("a block's seasons are those of run_season, one by one") {
  const SweepPlan plan = plan_of(1);
  const Place prepared(weather(), catalogue().parameters);
  const Place alone(weather(), catalogue().parameters);
  std::size_t seasons = 0;
  for (std::size_t b = 0; b < plan.blocks(); ++b) {
    const SweepSeasons run = run_block(plan, plan.block(b), prepared, catalogue(), {});
    CHECK(run.cases().size() == run.seasons().size());
    for (std::size_t i = 0; i < run.seasons().size(); ++i) {
      const Planting planting = plan.planting(run.cases()[i], weather().site());
      const SeasonResult one = run_season(planting, run.seasons()[i].first, alone, {});
      CHECK(run.seasons()[i].planting->pot.name == planting.pot.name);
      CHECK(run.seasons()[i].planting->mix.name == planting.mix.name);
      CHECK(run.seasons()[i].summary.watered_l == one.summary.watered_l);
      CHECK(run.seasons()[i].summary.used_l == one.summary.used_l);
      CHECK(run.seasons()[i].summary.waterings == one.summary.waterings);
    }
    seasons += run.seasons().size();
  }
  CHECK(seasons == plan.cases() * 4);
}

TEST_CASE("blocks keep to one draw; every crossing stands once in every draw") {
  SweepAxes some = axes(3, 2, 7, {std::nullopt, 2});
  some.draws = 2;
  const SweepPlan plan(std::move(some), 2, catalogue().parameters);
  CHECK(plan.blocks() == 3 * 3 * 2);
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> crossings;
  auto before = std::tuple<std::size_t, std::size_t, std::size_t>{};
  for (std::size_t b = 0; b < plan.blocks(); ++b) {
    const SweepBlock block = plan.block(b);
    const auto now = std::tuple(block.record, block.draw, block.first);
    if (b > 0) CHECK(before < now);
    before = now;
    CHECK(block.draw <= 2);
    crossings[{block.record, block.draw}] += block.size;
  }
  CHECK(crossings.size() == 2 * 3);
  for (const auto& [of, count] : crossings) CHECK(count == plan.cases());
}

TEST_CASE("a drawn block's seasons are those of the drawn plantings, one by one") {
  SweepAxes some = axes(2, 2, 5, {std::nullopt});
  some.draws = 3;
  some.seed = 7;
  const SweepPlan plan(std::move(some), 1, catalogue().parameters);
  std::set<double> litres;
  for (std::size_t b = 0; b < plan.blocks(); ++b) {
    const SweepBlock block = plan.block(b);
    const Place prepared(weather(), catalogue().parameters);
    const SweepSeasons run = run_block(plan, block, prepared, catalogue(), {});
    litres.insert(run.seasons().front().summary.watered_l);
    const Place alone(weather(), catalogue().parameters);
    for (std::size_t i = 0; i < run.seasons().size(); ++i) {
      const Planting table = plan.planting(run.cases()[i], weather().site());
      const ModelParameters& central = catalogue().parameters;
      const DrawnGarden drawn = draw_garden({&table, 1}, central, catalogue(), 7, block.draw);
      const bool as_in_tables = block.draw == 0;
      const SeasonResult one =
          run_season(as_in_tables ? table : drawn.plantings.front(), run.seasons()[i].first,
                     alone.with_model(as_in_tables ? central : drawn.model), {});
      CHECK(run.seasons()[i].summary == one.summary);
    }
  }
  CHECK(litres.size() == 4);  // no draw like another
}

TEST_CASE("a mix that holds nothing in a pot is left out and counted") {
  // No built-in mix is so coarse, so one is made whose lower limit is above all it can hold.
  SweepAxes some = axes(2, 1, 3, {1});
  some.mixes[1].lower_limit_m3_m3 = 0.9;
  const SweepPlan plan(std::move(some), 1, catalogue().parameters);
  CHECK(plan.left_out() == 2 * 3);
  const Place prepared(weather(), catalogue().parameters);
  const SweepSeasons run = run_block(plan, plan.block(0), prepared, catalogue(), {});
  CHECK(run.plantings().size() == 2 * 3);
  for (const SweepCase& crossing : run.cases()) CHECK(crossing.mix == 0);
}

TEST_CASE(
    "a block keeps to its place's own model, leaves the place alone and keeps the drawn one") {
  SweepAxes some = axes(1, 1, 2, {1});
  some.draws = 2;
  const SweepPlan plan(some, 1, catalogue().parameters);
  const Place place(weather(), catalogue().parameters);
  std::optional<Place> drawn;
  CHECK(run_block(plan, plan.block(0), place, catalogue(), {}, &drawn).waterless() == 0);
  CHECK_FALSE(drawn);  // draw 0 is the place itself
  const SweepSeasons alone = run_block(plan, plan.block(1), place, catalogue());
  for (int i = 0; i < 2; ++i) {  // the second time with the place kept
    const SweepSeasons kept = run_block(plan, plan.block(1), place, catalogue(), {}, &drawn);
    REQUIRE(drawn);
    CHECK(drawn->model() != catalogue().parameters);
    REQUIRE(kept.seasons().size() == alone.seasons().size());
    for (std::size_t k = 0; k < alone.seasons().size(); ++k) {
      CHECK(kept.seasons()[k].summary == alone.seasons()[k].summary);
    }
  }
  CHECK(place.model() == catalogue().parameters);
  // Another place with the one kept: its own weather counts.
  const Place other(weather().between(make_date(2022, 1, 1), make_date(2022, 12, 31)),
                    catalogue().parameters);
  const SweepSeasons with = run_block(plan, plan.block(1), other, catalogue(), {}, &drawn);
  const SweepSeasons without = run_block(plan, plan.block(1), other, catalogue());
  REQUIRE(with.seasons().size() == without.seasons().size());
  CHECK(with.seasons().size() < alone.seasons().size());
  CHECK(with.seasons().front().summary == without.seasons().front().summary);

  ModelParameters own = catalogue().parameters;
  own.ceiling *= 2.0;
  own.leaf_area_per_reference *= 0.5;
  const Place thirsty = place.with_model(own);
  const SweepSeasons central = run_block(plan, plan.block(0), thirsty, catalogue());
  const SeasonResult& first = central.seasons().front();
  CHECK(first.summary == run_season(*first.planting, first.first, thirsty).summary);
  CHECK(first.summary.watered_l >
        run_season(*first.planting, first.first, place).summary.watered_l);
  std::optional<Place> none;
  CHECK(refusal([&] {
          (void)run_block(plan, plan.block(1), thirsty, catalogue(), {}, &none);
        }).starts_with("request: found a model with leaf_area_per_reference"));
  CHECK_FALSE(none);
}

TEST_CASE("a sweep's plants, draws and crossings outside their lists are refused") {
  SweepAxes some = axes(1, 1, 1, {-3});
  CHECK(refusal([&] { (void)SweepPlan(some, 1, catalogue().parameters); }) ==
        "request: sweep: found -3 plants; expected 1 or more");
  some.plants = {1};
  some.draws = 2;
  const SweepPlan plan(some, 1, catalogue().parameters);
  const Place place(weather(), catalogue().parameters);
  CHECK(refusal([&] {
          (void)run_block(plan, {.record = 0, .draw = 99, .first = 0, .size = 1}, place,
                          catalogue());
        }) == "request: sweep: found draw 99; expected one of 0 to 2");
  const std::string outside =
      "request: sweep: found a crossing outside the lists; expected places in them";
  CHECK(refusal([&] { (void)plan.planting({.crop = 5}, weather().site()); }) == outside);
  CHECK(refusal([&] { (void)plan.holds_water({.pot = 500000}); }) == outside);
}

TEST_CASE("the plan's text changes with everything that is chosen") {
  std::set<std::string> texts;
  const auto add = [&texts](SweepAxes some) {
    texts.insert(SweepPlan(std::move(some), 1, catalogue().parameters).text());
  };
  add(axes(1, 1, 1, {1}));
  add(axes(2, 1, 1, {1}));
  add(axes(1, 2, 1, {1}));
  add(axes(1, 1, 2, {1}));
  add(axes(1, 1, 1, {2}));
  add(axes(1, 1, 1, {1, 2}));
  add(axes(1, 1, 1, {std::nullopt}));
  SweepAxes other = axes(1, 1, 1, {1});
  other.mixes.pop_back();
  add(other);
  other.planted = MonthDay{5, 15};
  add(other);
  other.planted = make_date(2022, 5, 15);
  add(other);
  other.routine = *parse_routine("as-needed");
  add(other);
  CHECK(texts.size() == 11);
}

}  // namespace
}  // namespace wiltline::test
