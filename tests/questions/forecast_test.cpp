#include "wiltline/questions/forecast.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/account/course.hpp"
#include "wiltline/base/random.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/log_and_state.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

/// Invented plantings that differ in pot, crop and routine; nobody comes in the days after `away`.
std::vector<Planting> garden(const std::string& away = "") {
  const std::string end = away.empty() ? "\n" : " away " + away + "\n";
  return read_garden(
      {"garden.csv",
       "name,crop,pot,mix,plants,planted,spot,routine\n"
       "tomato,tomato,nursery 37 l,vegetable mix,1,05-15,patio,check daily 07:00" +
           end + "basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 18:00" + end +
           "pepper,pepper,glazed 18 l,potting mix,1,05-20,patio,every 2 days 07:00" + end +
           "broccoli,broccoli,nursery 18 l,coir mix,1,05-10,morning sun,check daily 07:00" + end +
           "zucchini,summer squash,raised planter 120 l,planter mix,1,05-20,patio,mon "
           "thu 07:00 19:00" +
           end},
      catalogue());
}

std::vector<ForecastPlanting> inputs(const std::vector<Planting>& plantings) {
  std::vector<ForecastPlanting> result;
  for (const Planting& planting : plantings) {
    result.push_back({.planting = &planting, .log = {}, .saved = {}});
  }
  return result;
}

ForecastOptions options_for(const Instant& now, Date known_last) {
  ForecastOptions options;
  options.now = now;
  options.known_last = options.observed_last = known_last;
  return options;
}

const PlantingForecast& of(const ForecastResult& result, const std::string& name) {
  return *std::find_if(result.pots.begin(), result.pots.end(),
                       [&](const PlantingForecast& pot) { return pot.planting->name == name; });
}

/// The runs of a planting day by day, its routine kept.
RunState run_until(PlantingRun run, const std::vector<SpotDay>& days, Date first, Date until) {
  std::vector<Visit> visits;
  while (run.date() < until) {
    const SpotDay& spot = days[static_cast<std::size_t>((run.date() - first).count())];
    const DayForcing forcing = run.begin_day(spot);
    const DayResult day =
        run_day(run.pot(), run.pot_state(), forcing, run.routine(spot.curve, visits));
    run.end_day(day, spot);
  }
  return run.state();
}

}  // namespace

TEST_CASE("forecast: with the true future as its forecast it is the season, to the minute") {
  const WeatherRecord record = real("new-york.csv");
  int compared = 0;
  for (const unsigned month : {6U, 7U, 8U}) {
    const Date today = make_date(2014, month, 10);
    // Somebody comes on the day before, then nobody for a month.
    const std::string away =
        to_string(today - std::chrono::days(1)) + "/" + to_string(today + std::chrono::days(30));
    const std::vector<Planting> plantings = garden(away);
    const Place weather(record, catalogue().parameters);
    ForecastOptions options = options_for({today, 0.0}, record.last());
    options.observed_last = today - std::chrono::days(1);
    options.members = 3;
    options.horizon_days = 25;
    const ForecastResult result = forecast(inputs(plantings), weather, catalogue(), options);
    for (const PlantingForecast& pot : result.pots) {
      INFO(pot.planting->name << " " << to_string(today));
      const SeasonResult season = run_season(*pot.planting, pot.planted, weather, {.ledger = true});
      std::optional<Instant> stressed;
      std::optional<Instant> dry;
      const Instant end{today + std::chrono::days(25), 0.0};
      for (const LedgerLine& line : season.ledger) {
        if (line.date < today) continue;
        if (line.stressed_at_h && !stressed) stressed = Instant{line.date, *line.stressed_at_h};
        if (line.dry_at_h && !dry) dry = Instant{line.date, *line.dry_at_h};
      }
      if (stressed && *stressed > end) stressed.reset();
      if (dry && *dry > end) dry.reset();
      const auto text = [](const std::optional<Instant>& at) {
        return at ? to_string(*at) : std::string("-");
      };
      CHECK(text(pot.refill.p10) == text(stressed));
      CHECK(text(pot.refill.p50) == text(stressed));
      CHECK(text(pot.refill.p90) == text(stressed));
      CHECK(text(pot.dry.p50) == text(dry));
      compared += (stressed ? 1 : 0) + (dry ? 1 : 0);
    }
  }
  CHECK(compared >= 15);
}

TEST_CASE("forecast: a run stopped, written, read and gone on with is the whole run to the bit") {
  const WeatherRecord record = real("seattle.csv");
  const std::vector<Planting> plantings = garden();
  const Place weather(record, catalogue().parameters);
  for (const GrowthClock growth : {GrowthClock::stage_days, GrowthClock::degree_days}) {
    for (const Planting& planting : plantings) {
      const auto& days = weather.at(planting.spot);
      const Date end = make_date(2013, 7, 6);
      const Date planted = *growing_since(planting, end, record.first(), growth);
      const PlantingRun fresh(planting, planted, catalogue().parameters, growth);
      const RunState whole = run_until(fresh, days, record.first(), end);
      for (const int stop : {1, 13, 40}) {
        const Date middle = planted + std::chrono::days(stop);
        const SavedPlanting saved{
            .name = planting.name,
            .planted = planted,
            .growth = growth,
            .run = run_until(fresh, days, record.first(), middle),
            .log = {.events = {{{middle, 8.5}, PotEventKind::watered, 1.25},
                               {{middle, 9.0}, PotEventKind::weighed, 21.3},
                               {{middle, 9.0}, PotEventKind::top_felt_dry, {}},
                               {{middle + std::chrono::days(1), 7.0}, PotEventKind::watered, {}}},
                    .complete_from = Instant{middle, 8.5}}};
        const std::string csv = state_csv({&saved, 1});
        const auto read = read_state({"state.csv", csv}, catalogue().parameters,
                                     {plantings, growth, record.first(), record.last()});
        REQUIRE(read.size() == 1);
        CHECK(read.front() == saved);
        CHECK(state_csv(read) == csv);
        PlantingRun resumed(planting, planted, catalogue().parameters, growth);
        resumed.resume(read.front().run);
        CHECK(run_until(resumed, days, record.first(), end) == whole);
      }
    }
  }
}

TEST_CASE("forecast: yesterday's state and today's record answer as the whole record does") {
  const WeatherRecord record = real("new-york.csv");
  const std::vector<Planting> plantings = garden();
  const Place weather(record, catalogue().parameters);
  const Date today = make_date(2014, 7, 10);
  const PotEvent logged{{today, 8.25}, PotEventKind::watered, 0.5};
  ForecastOptions options = options_for({today, 8.5}, today);
  options.observed_last = today - std::chrono::days(1);
  options.members = 20;
  std::vector<ForecastPlanting> first = inputs(plantings);
  first[1].log.events = {logged};
  first[1].log.complete_from = logged.when;
  const ForecastResult yesterday = forecast(first, weather, catalogue(), options);
  CHECK(of(yesterday, "basil").saved.log.events == std::vector<PotEvent>{logged});
  CHECK(of(yesterday, "basil").saved.run.date == today);

  ForecastOptions later =
      options_for({today + std::chrono::days(4), 12.5}, today + std::chrono::days(4));
  later.members = 20;
  std::vector<ForecastPlanting> resumed = inputs(plantings);
  for (std::size_t i = 0; i < resumed.size(); ++i) {
    resumed[i].saved = of(yesterday, plantings[i].name).saved;
    resumed[i].log = resumed[i].saved->log;
  }
  const ForecastResult whole = forecast(first, weather, catalogue(), later);
  const ForecastResult parts = forecast(resumed, weather, catalogue(), later);
  REQUIRE(whole.pots.size() == parts.pots.size());
  for (std::size_t i = 0; i < whole.pots.size(); ++i) {
    CHECK(whole.pots[i].planting == parts.pots[i].planting);
    CHECK(whole.pots[i].saved == parts.pots[i].saved);
    CHECK(whole.pots[i].depletion_l == parts.pots[i].depletion_l);
    CHECK(whole.pots[i].refill.p50 == parts.pots[i].refill.p50);
    CHECK(whole.pots[i].dry.p10 == parts.pots[i].dry.p10);
  }
}

TEST_CASE("forecast: most urgent first: by dryness, then by threshold, then by what is used up") {
  const WeatherRecord record = real("new-york.csv");
  const std::vector<Planting> plantings =
      read_garden({"garden.csv",
                   "name,crop,pot,mix,plants,planted,spot,routine\n"
                   "a,thyme,half barrel 100 l,herb mix,1,05-15,patio,every 20 days 07:00\n"
                   "b,tomato,nursery 37 l,vegetable mix,1,05-15,patio,every 3 days 07:00\n"
                   "c,thyme,half barrel 100 l,herb mix,1,05-15,patio,every 15 days 07:00\n"
                   "d,basil,clay 3 l,potting mix,1,05-15,patio,daily 07:00\n"
                   "e,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
                   "f,tomato,clay 1.3 l,potting mix,1,05-15,patio,daily 07:00\n"
                   "g,thyme,half barrel 100 l,herb mix,1,05-15,patio,every 20 days 07:00\n"
                   "h,tomato,fabric 36 l,potting mix,1,05-15,patio,daily 07:00\n"
                   "i,basil,nursery 4.5 l,potting mix,1,05-15,patio,daily 07:00\n"
                   "j,basil,half barrel 100 l,potting mix,1,05-15,patio,every 20 days 07:00\n"},
                  catalogue());
  const Place weather(record, catalogue().parameters);
  const Date today = make_date(2014, 7, 10);
  ForecastOptions options = options_for({today, 9.0}, today + std::chrono::days(5));
  options.members = 1;
  options.horizon_days = 2;
  const ForecastResult result = forecast(inputs(plantings), weather, catalogue(), options);
  REQUIRE(result.pots.size() == plantings.size());
  int by_dryness = 0;
  int by_threshold = 0;
  int by_use = 0;
  int tied = 0;
  constexpr Instant never{Date::max(), 0.0};
  for (std::size_t i = 1; i < result.pots.size(); ++i) {
    const PlantingForecast& first = result.pots[i - 1];
    const PlantingForecast& second = result.pots[i];
    INFO(first.planting->name << " before " << second.planting->name);
    const Instant dry[] = {first.dry.p50.value_or(never), second.dry.p50.value_or(never)};
    const Instant refill[] = {first.refill.p50.value_or(never), second.refill.p50.value_or(never)};
    const double used[] = {first.depletion_l / first.refill_at_l,
                           second.depletion_l / second.refill_at_l};
    if (dry[0] != dry[1]) {
      CHECK(dry[0] < dry[1]);
      ++by_dryness;
    } else if (refill[0] != refill[1]) {
      CHECK(refill[0] < refill[1]);
      ++by_threshold;
    } else if (used[0] != used[1]) {
      CHECK(used[0] > used[1]);
      ++by_use;
    } else {  // as the garden has them
      CHECK(first.planting < second.planting);
      ++tied;
    }
  }
  CHECK(by_dryness > 0);
  CHECK(by_threshold > 0);
  CHECK(by_use > 0);
  CHECK(tied > 0);  // a and g at least are alike
}

TEST_CASE("forecast: a state carried to another pot has lost the same share, and stays within it") {
  std::vector<Planting> plantings = garden();
  plantings[0].saucer_l = 1.0;
  plantings[2].mulch = true;
  for (const Planting& one : plantings) {
    for (const Planting& other : plantings) {
      const PotParameters from = build_pot(one, catalogue().parameters);
      const PotParameters to = build_pot(other, catalogue().parameters);
      for (const double filled : {0.0, 0.5, 1.0, 2.0}) {
        INFO(one.name << " to " << other.name << ", " << filled);
        const PotState state =
            holding(from, {.rooted_share = 0.7, .mulch_water_l = from.mulch_store_l},
                    filled * from.refilled_l);
        const PotState moved = in_other_pot(state, from, to);
        const auto missing_share = [](const PotState& in, const PotParameters& pot) {
          return (std::max(in.rooted_depletion_l, 0.0) + in.unrooted_depletion_l) /
                 (pot.refilled_l - pot.air_dry_l);
        };
        CHECK(near(missing_share(moved, to), missing_share(state, from), 1e-12));
        CHECK(moved.rooted_depletion_l >= -to.surplus_store_l);
        CHECK(moved.top_depletion_l <= to.total_evaporable_l);
        CHECK(moved.mulch_water_l <= to.mulch_store_l);
        CHECK(moved.rooted_share == state.rooted_share);
        if (&one == &other) CHECK(moved == state);
      }
    }
  }
}

TEST_CASE("forecast: uncertain from a saved state, much the same is to come as from planting") {
  const WeatherRecord record = real("new-york.csv");
  const std::vector<Planting> plantings = garden();
  const Place weather(record, catalogue().parameters);
  const Date today = make_date(2014, 7, 10);
  ForecastOptions options = options_for({today, 8.5}, today);
  options.members = 60;
  options.uncertain = true;
  const std::vector<ForecastPlanting> fresh = inputs(plantings);
  const ForecastResult whole = forecast(fresh, weather, catalogue(), options);
  std::vector<ForecastPlanting> resumed = fresh;
  for (std::size_t i = 0; i < resumed.size(); ++i) {
    resumed[i].saved = of(whole, plantings[i].name).saved;
  }
  const ForecastResult parts = forecast(resumed, weather, catalogue(), options);
  for (const PlantingForecast& pot : parts.pots) {
    CAPTURE(pot.planting->name);
    const PlantingForecast& other = of(whole, pot.planting->name);
    CHECK(pot.saved == other.saved);  // of the pot as given, not as drawn
    REQUIRE(pot.refill.p50.has_value());
    REQUIRE(other.refill.p50.has_value());
    CHECK(*pot.refill.p10 <= *pot.refill.p50);
    // From planting each drawn pot has a past of its own; from a state they share one.
    CHECK(std::abs((pot.refill.p50->date - other.refill.p50->date).count()) <= 1);
  }
}

TEST_CASE("forecast: what was done and measured counts") {
  const WeatherRecord record = real("new-york.csv");
  std::vector<Planting> plantings = garden();
  plantings[0].tare_kg = 1.2;
  const Place weather(record, catalogue().parameters);
  const Instant now{make_date(2014, 7, 10), 12.0};
  ForecastOptions options = options_for(now, now.date);
  options.members = 5;
  std::vector<ForecastPlanting> plain = inputs(plantings);
  const PlantingForecast before = of(forecast(plain, weather, catalogue(), options), "tomato");

  std::vector<ForecastPlanting> watered = plain;
  watered[0].log.events = {{now, PotEventKind::watered, {}}};
  watered[0].log.complete_from = now;
  const PlantingForecast after = of(forecast(watered, weather, catalogue(), options), "tomato");
  CHECK(near(after.depletion_l, 0.0, 1e-9));
  CHECK(near(after.give_now_l, 0.0, 1e-9));
  CHECK(before.depletion_l > 0.1);
  CHECK(*after.refill.p50 > *before.refill.p50);

  // Weighed with 3 L missing: tare, dry mix and the water that is left.
  const PotParameters pot = build_pot(plantings[0], catalogue().parameters);
  const double kg = 1.2 + dry_mix_kg(plantings[0].mix, pot.mix_l) + pot.refilled_l - 3.0;
  std::vector<ForecastPlanting> weighed = plain;
  weighed[0].log.events = {{now, PotEventKind::weighed, kg}};
  const PlantingForecast after_weight =
      of(forecast(weighed, weather, catalogue(), options), "tomato");
  CHECK(near(after_weight.depletion_l, 3.0, 1e-9));

  // A log from June on with nothing after: dry long before now.
  std::vector<ForecastPlanting> forgotten = plain;
  forgotten[0].log.events = {{{make_date(2014, 6, 20), 7.0}, PotEventKind::watered, {}}};
  forgotten[0].log.complete_from = forgotten[0].log.events.front().when;
  const PlantingForecast thirsty = of(forecast(forgotten, weather, catalogue(), options), "tomato");
  CHECK(thirsty.dry.p50 == now);
  CHECK(thirsty.refill.p50 == now);
}

TEST_CASE("forecast: measured states stay within the pot, and the finger is believed") {
  const std::vector<Planting> plantings = garden();
  for (const Planting& planting : plantings) {
    const PotParameters pot = build_pot(planting, catalogue().parameters);
    for (const double share : {pot.initial_rooted_share, 0.6, 1.0}) {
      const PotState state{.rooted_depletion_l = 0.3 * share * pot.total_available_l,
                           .top_depletion_l = 0.1 * pot.readily_evaporable_l,
                           .unrooted_depletion_l = 0.1 * (1.0 - share) * pot.total_available_l,
                           .rooted_share = share};
      for (const double filled : {0.0, 0.2, 0.5, 0.9, 1.0, 1.4}) {
        const double water_l = filled * pot.refilled_l;
        const PotState held = holding(pot, state, water_l);
        const double expected_l =
            std::clamp(water_l, pot.air_dry_l, pot.refilled_l + pot.surplus_store_l);
        CHECK(near(store_l(pot, held), expected_l, 1e-9 * pot.refilled_l));
        CHECK(held.rooted_depletion_l <= (pot.refilled_l - pot.air_dry_l) * share + 1e-9);
        CHECK(held.top_depletion_l * share <= std::max(held.rooted_depletion_l, 0.0) + 1e-9);
        for (const bool dry : {true, false}) {
          if (filled < 0.5) continue;
          const PotState felt = with_top_felt(pot, held, dry);
          // Moist as far as a wet top can make it so: roots may have drawn too much from it.
          const double drawn_l =
              pot.top_draw_share * (held.rooted_depletion_l + held.unrooted_depletion_l);
          const bool can_be = dry || drawn_l < pot.top_dry_limit_l;
          if ((filled >= 0.9 || dry) && can_be) CHECK(top_feels_dry(pot, felt) == dry);
        }
      }
    }
  }
}

TEST_CASE("forecast: the same seed gives the same answer, another seed another") {
  const WeatherRecord record = real("new-york.csv");
  const std::vector<Planting> plantings = garden();
  const Place weather(record, catalogue().parameters);
  const Date today = make_date(2014, 7, 10);
  ForecastOptions options = options_for({today, 0.0}, today - std::chrono::days(1));
  int movers = 0;
  const auto answer = [&](std::uint64_t seed, bool uncertain) {
    options.seed = seed;
    options.uncertain = uncertain;
    options.members = 60;
    std::vector<std::optional<Instant>> times;
    for (const ForecastPlanting& one : inputs(plantings)) {
      const ForecastResult result = forecast({&one, 1}, weather, catalogue(), options);
      times.push_back(result.pots.front().dry.p10);
      times.push_back(result.pots.front().dry.p90);
      if (result.pots.front().moves_most) ++movers;
    }
    return times;
  };
  CHECK(answer(1, false) == answer(1, false));
  CHECK(movers == 0);
  CHECK(answer(1, false) != answer(2, false));
  CHECK(answer(1, true) == answer(1, true));
  CHECK(movers > 0);
  CHECK(answer(1, true) != answer(1, false));
}

TEST_CASE("forecast: a pot's answer does not hang on which row of the garden it is") {
  const WeatherRecord record = real("new-york.csv");
  const std::vector<Planting> plantings = garden();
  const Place weather(record, catalogue().parameters);
  const Date today = make_date(2014, 7, 10);
  ForecastOptions options = options_for({today, 8.5}, today - std::chrono::days(1));
  options.members = 30;
  options.uncertain = true;
  std::vector<ForecastPlanting> rows = inputs(plantings);
  const ForecastResult in_order = forecast(rows, weather, catalogue(), options);
  REQUIRE(in_order.pots.size() == plantings.size());
  std::reverse(rows.begin(), rows.end());
  rows.pop_back();
  const ForecastResult backwards = forecast(rows, weather, catalogue(), options);
  for (const PlantingForecast& pot : backwards.pots) {
    const PlantingForecast& same = of(in_order, pot.planting->name);
    CAPTURE(pot.planting->name);
    CHECK(pot.depletion_l == same.depletion_l);
    CHECK(pot.refill.p10 == same.refill.p10);
    CHECK(pot.dry.p90 == same.dry.p90);
    CHECK(pot.moves_most.has_value() == same.moves_most.has_value());
  }
}

TEST_CASE("forecast: random bits are as documented") {
  // Worked out apart from the code, in integers of any size, from the formula in the header.
  RandomBits bits(42);
  CHECK(bits.next() == 0x9D591BB7266B13F3U);
  CHECK(bits.next() == 0x733A550E28BD9590U);
  RandomBits stream(42, 7);
  CHECK(stream.next() == 0xE4E28608B50EF46DU);
  RandomBits many(1);
  std::vector<int> counts(5);
  for (int i = 0; i < 5000; ++i) ++counts[many.below(5)];
  for (const int count : counts) CHECK(std::abs(count - 1000) < 150);
}

TEST_CASE("forecast: drawn inputs stay in their ranges, half on either side") {
  const std::vector<Planting> plantings = garden();
  const Planting& pepper = plantings[2];
  int above = 0;
  constexpr int draws = 400;
  std::vector<std::string> names;
  for (int i = 0; i < draws; ++i) {
    const DrawnGarden draw = draw_garden({&pepper, 1}, catalogue().parameters, catalogue(), 3,
                                         static_cast<std::uint64_t>(i));
    const Planting& drawn = draw.plantings.front();
    const std::vector<DrawnInput>& inputs = draw.inputs.front();
    if (names.empty()) {
      for (const DrawnInput& input : inputs) names.push_back(input.name);
    }
    REQUIRE(inputs.size() == names.size());
    for (const DrawnInput& input : inputs) CHECK(std::abs(input.level) <= 1.0);
    const Crop& crop = drawn.crop;
    CHECK(crop.leaf_area_m2.value >= crop.leaf_area_m2.low);
    CHECK(crop.leaf_area_m2.value <= crop.leaf_area_m2.high);
    above += crop.leaf_area_m2.value > pepper.crop.leaf_area_m2.value ? 1 : 0;
    CHECK(drawn.pot.wall.evaporation_share.value >= pepper.pot.wall.evaporation_share.low);
    CHECK(drawn.pot.wall.evaporation_share.value <= pepper.pot.wall.evaporation_share.high);
    CHECK(drawn.pot.mix_l() >= pepper.pot.sold_mix_l.low - 1e-9);
    CHECK(drawn.pot.mix_l() <= pepper.pot.sold_mix_l.high + 1e-9);
    CHECK(draw.model.wilting_line <= draw.model.dry_line);
    CHECK(draw.model.frost_tender_c == catalogue().parameters.frost_tender_c);
    CHECK(build_pot(drawn, draw.model).total_available_l > 0.0);
  }
  CHECK(above > 160);
  CHECK(above < 240);
  CHECK(std::find(names.begin(), names.end(), "pot volume") != names.end());
  CHECK(std::find(names.begin(), names.end(), "advection") != names.end());
  CHECK(std::find(names.begin(), names.end(), "refill_share") != names.end());
}

TEST_CASE("forecast: the input that moves an answer most is found") {
  RandomBits random(9);
  std::vector<std::vector<DrawnInput>> draws;
  std::vector<double> answers;
  for (int i = 0; i < 300; ++i) {
    const double a = random.uniform();
    const double b = random.uniform();
    draws.push_back({{"a", a}, {"b", b}, {"c", random.uniform()}});
    answers.push_back(a - 5.0 * b);
  }
  const auto most = most_influential(draws, answers);
  REQUIRE(most);
  CHECK(most->name == "b");
  CHECK(most->correlation < -0.9);
  CHECK_FALSE(most_influential(draws, std::vector<double>(300, 1.0)));
}

TEST_CASE("forecast: an input that only chance makes look influential is not named") {
  constexpr int inputs = 40;
  constexpr int draws_each = 60;
  constexpr int rounds = 200;
  int named = 0;
  for (std::uint64_t round = 0; round < rounds; ++round) {
    RandomBits random(31, round);
    std::vector<std::vector<DrawnInput>> draws(draws_each);
    std::vector<double> answers;
    for (auto& draw : draws) {
      for (int i = 0; i < inputs; ++i) draw.push_back({std::to_string(i), random.uniform()});
      answers.push_back(random.uniform());
    }
    named += most_influential(draws, answers) ? 1 : 0;
  }
  // One round in twenty, give or take three standard deviations.
  CHECK(named <= 20);
}

namespace {

struct Coverage {
  int cases = 0;
  int inside = 0;
  [[nodiscard]] double share() const { return static_cast<double>(inside) / cases; }
};

/// Every fifth day of summer in each year: the forecast from the other years against the times that
/// the year itself brings, for threshold times more than a day ahead by the truth or the median.
Coverage coverage(const std::string& file, bool uncertain) {
  const WeatherRecord record = real(file);
  const Place weather(record, catalogue().parameters);
  const std::vector<Planting> plantings = garden();
  Coverage result;
  std::uint64_t number = 0;
  for (int year = year_of(record.first()); year <= year_of(record.last()); ++year) {
    for (Date today = make_date(year, 6, 10); today <= make_date(year, 8, 25);
         today += std::chrono::days(uncertain ? 11 : 5)) {
      for (const Planting& planting : plantings) {
        ++number;
        // The truth: this planting, or one drawn from the ranges, in this year's weather.
        const DrawnGarden drawn =
            draw_garden({&planting, 1}, catalogue().parameters, catalogue(), 2024, number);
        const Planting& true_planting = uncertain ? drawn.plantings.front() : planting;
        const Place true_place = uncertain ? weather.with_model(drawn.model) : weather;
        const ForecastPlanting truth_input{.planting = &true_planting, .log = {}, .saved = {}};
        const ForecastPlanting input{.planting = &planting, .log = {}, .saved = {}};
        ForecastOptions options = options_for({today, 0.0}, record.last());
        options.members = 1;
        options.horizon_days = 30;
        const auto truth = forecast({&truth_input, 1}, true_place, catalogue(), options);
        options.known_last = options.observed_last = today - std::chrono::days(1);
        options.members = uncertain ? 60 : 100;
        options.uncertain = uncertain;
        const auto answer = forecast({&input, 1}, weather, catalogue(), options);
        if (truth.pots.empty() || answer.pots.empty()) continue;
        const TimeSpread& spread = answer.pots.front().refill;
        const auto& at = truth.pots.front().refill.p50;
        const Instant ahead{today + std::chrono::days(1), 0.0};
        if (!spread.p50 || *spread.p50 <= ahead) continue;
        ++result.cases;
        const bool not_before = spread.p10 && (!at || *at >= *spread.p10);
        const bool not_after = !spread.p90 || (at && *at <= *spread.p90);
        result.inside += not_before && not_after ? 1 : 0;
      }
    }
  }
  return result;
}

}  // namespace

TEST_CASE("forecast: weather spread only, the 80 % range holds 70 to 90 % of left-out years") {
  for (const std::string file : {"new-york.csv", "seattle.csv"}) {
    const Coverage found = coverage(file, false);
    INFO(file << ": " << found.inside << " of " << found.cases);
    CHECK(found.cases > 100);
    CHECK(found.share() >= 0.70);
    CHECK(found.share() <= 0.90);
  }
}

TEST_CASE("forecast: true inputs drawn from their ranges, the 80 % range holds 70 to 90 %") {
  for (const std::string file : {"new-york.csv", "seattle.csv"}) {
    const Coverage found = coverage(file, true);
    INFO(file << ": " << found.inside << " of " << found.cases);
    CHECK(found.cases > 60);
    CHECK(found.share() >= 0.70);
    CHECK(found.share() <= 0.90);
  }
}

TEST_CASE("forecast: litres are those of the next visit, and only a visit waters") {
  const WeatherRecord record = real("new-york.csv");
  const Place weather(record, catalogue().parameters);
  const std::vector<Planting> plantings = garden();
  const Date today = make_date(2014, 7, 10);
  ForecastOptions options = options_for({today, 0.0}, record.last());
  options.observed_last = today - std::chrono::days(1);
  options.members = 3;
  const ForecastResult result = forecast(inputs(plantings), weather, catalogue(), options);
  int later = 0;
  for (const PlantingForecast& pot : result.pots) {
    CAPTURE(pot.planting->name);
    REQUIRE(pot.next_visit);
    REQUIRE(pot.give_at_visit_l);
    CHECK(pot.give_at_visit_l->p10 <= pot.give_at_visit_l->p50);
    CHECK(pot.give_at_visit_l->p50 <= pot.give_at_visit_l->p90);
    // At the visit itself it is what is to be given "now"; nobody watered in between.
    ForecastOptions then = options;
    then.now = *pot.next_visit;
    then.observed_last = std::max(options.observed_last, then.now.date - std::chrono::days(1));
    std::vector<Planting> alone{*pot.planting};
    alone.front().routine.days_away.push_back(
        {today - std::chrono::days(2), today + std::chrono::days(40), {}, {}});
    ForecastPlanting left{.planting = &alone.front(), .log = {}, .saved = pot.saved};
    const ForecastResult at_visit = forecast(std::span(&left, 1), weather, catalogue(), then);
    REQUIRE(at_visit.pots.size() == 1);
    CHECK(near(at_visit.pots.front().give_now_l, pot.give_at_visit_l->p50, 1e-9));
    if (pot.water_at) {
      const auto& routine = pot.planting->routine;
      CHECK(routine.visits_on(pot.water_at->date, (pot.water_at->date - pot.planted).count()));
      CHECK(*pot.water_at >= *pot.next_visit);
      CHECK((*pot.water_at == *pot.next_visit || *pot.water_at <= *pot.refill.p50));
      later += *pot.water_at > *pot.next_visit ? 1 : 0;
    }
  }
  CHECK(later > 0);
}

TEST_CASE("forecast: at the very minute of a visit, it is the next one unless the log has it") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place place(record, catalogue().parameters);
  const auto rows =
      plantings("it,tomato,nursery 10 l,potting mix,1,2022-05-15,patio,daily 07:00\n");
  const Instant now{make_date(2022, 7, 21), 7.0};
  ForecastOptions options = options_for(now, record.last());
  options.observed_last = now.date - std::chrono::days(1);
  options.members = 1;
  const auto pot = [&](const PotLog& log) {
    const ForecastPlanting one{.planting = &rows.front(), .log = log, .saved = {}};
    return forecast(std::span(&one, 1), place, catalogue(), options).pots.front();
  };
  const PlantingForecast to_come = pot({});
  CHECK(to_come.next_visit == now);
  CHECK(to_come.water_at == now);
  REQUIRE(to_come.give_at_visit_l);
  CHECK(near(to_come.give_at_visit_l->p50, to_come.give_now_l, 1e-12));
  const PlantingForecast done =
      pot({.events = {{now, PotEventKind::watered, {}}}, .complete_from = now});
  CHECK(done.next_visit == Instant{now.date + std::chrono::days(1), 7.0});
  CHECK(done.give_now_l < to_come.give_now_l);
}

TEST_CASE("forecast: what is dry by now is dry before a visit at this very minute") {
  const WeatherRecord record = real("new-york.csv");
  const Place weather(record, catalogue().parameters);
  const auto plantings = garden();
  int dry_at_visit = 0;
  int watered_in_time = 0;
  for (const unsigned day : {10U, 14U, 18U, 22U, 26U, 30U}) {
    for (const char* const routine : {"every 9 days 07:00", "mon thu 07:00", "as-needed"}) {
      for (const Planting& one : plantings) {
        CAPTURE(one.name);
        CAPTURE(routine);
        Planting planting = one;
        planting.routine = *parse_routine(routine);
        ForecastOptions options = options_for({make_date(2014, 7, day), 7.0}, record.last());
        options.members = 1;
        PlantingForecast pot = forecast(planting, weather, catalogue(), options).pots.front();
        const bool as_needed = planting.routine.as_needed;
        if (!as_needed && pot.next_visit != options.now) {
          options.now = *pot.next_visit;  // go to the minute of the next visit
          options.known_last = options.observed_last = options.now.date;
          pot = forecast(planting, weather, catalogue(), options).pots.front();
          REQUIRE(pot.next_visit == options.now);
        }
        if (!pot.dry.p50 || *pot.dry.p50 > options.now) {
          watered_in_time += as_needed || pot.dry_before_visit == false ? 1 : 0;
          continue;
        }
        CHECK(pot.dry_before_visit == true);
        ++dry_at_visit;
      }
    }
  }
  CHECK(dry_at_visit > 10);
  CHECK(watered_in_time > 10);
}

TEST_CASE(
    "forecast: watered as needed, the visit is the moment it wants water, or 00:00 once back") {
  const WeatherRecord record = real("new-york.csv");
  const Place weather(record, catalogue().parameters);
  const Date today = make_date(2014, 7, 17);  // five days without rain
  ForecastOptions options = options_for({today, 0.0}, record.last());
  options.observed_last = today - std::chrono::days(1);
  options.members = 1;
  Planting planting = garden().front();
  planting.routine = *parse_routine("as-needed");
  const auto asked = [&](const Instant& now) {
    options.now = now;
    return forecast(planting, weather, catalogue(), options).pots.front();
  };
  const PlantingForecast there = asked({today, 0.0});
  REQUIRE(there.refill.p50);
  CHECK(there.water_at == there.refill.p50);
  REQUIRE(there.give_at_visit_l);
  // Away from today until two days after it wants water.
  const Date back = there.refill.p50->date + std::chrono::days(2);
  planting.routine.days_away = {{today - std::chrono::days(1), back, {}, {}}};
  const PlantingForecast away = asked({today, 0.0});
  CHECK(away.refill.p50 == there.refill.p50);
  CHECK(away.water_at == Instant{back, 0.0});
  REQUIRE(away.give_at_visit_l);
  CHECK(away.give_at_visit_l->p50 > there.give_at_visit_l->p50);
  CHECK(there.dry_before_visit == false);
  REQUIRE(away.dry.p50);
  CHECK(away.dry_before_visit == (*away.dry.p50 < Instant{back, 0.0}));
  CHECK(near(asked(*there.refill.p50).give_now_l, there.give_at_visit_l->p50, 1e-6));
  CHECK(near(asked({back, 0.0}).give_now_l, away.give_at_visit_l->p50, 1e-9));
  // Back only after the horizon: nobody waters.
  planting.routine.days_away = {
      {today - std::chrono::days(1), today + std::chrono::days(90), {}, {}}};
  CHECK_FALSE(asked({today, 0.0}).water_at);
  CHECK_FALSE(asked({today, 0.0}).give_at_visit_l);
  CHECK(asked({today, 0.0}).dry_before_visit == true);
}

TEST_CASE("forecast: a saved state and a log are held to what their readers hold them to") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  const Instant now{make_date(2024, 7, 15), 7.0};
  ForecastOptions options = options_for(now, record.last());
  options.observed_last = now.date - std::chrono::days(1);
  options.members = 1;
  const auto rows = plantings(
      "it,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00\n"
      "other,basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00\n");
  const Planting& it = rows.front();
  const auto sound = [&] {
    PlantingRun run(it, make_date(2024, 5, 15), catalogue().parameters, GrowthClock::stage_days);
    return SavedPlanting{
        .name = it.name,
        .planted = make_date(2024, 5, 15),
        .run = run_until(std::move(run), place.at(it.spot), record.first(), make_date(2024, 7, 10)),
        .log = {}};
  };
  const auto asked = [&](const std::optional<SavedPlanting>& saved, const PotLog& log) {
    const ForecastPlanting one{.planting = &it, .log = log, .saved = saved};
    return forecast(std::span(&one, 1), place, catalogue(), options).pots.size();
  };
  CHECK(asked(sound(), {}) == 1);
  const std::vector<void (*)(SavedPlanting&)> spoilt{
      [](SavedPlanting& one) { one.name = "other"; },
      [](SavedPlanting& one) { one.planted = make_date(2024, 5, 16); },
      [](SavedPlanting& one) { one.run.date = make_date(2024, 7, 16); },
      [](SavedPlanting& one) { one.run.date = make_date(2024, 5, 1); },
      [](SavedPlanting& one) { one.growth = GrowthClock::degree_days; },
      [](SavedPlanting& one) { one.run.pot.rooted_depletion_l = -99.0; },
      [](SavedPlanting& one) { one.run.pot.rooted_depletion_l = std::nan(""); },
      [](SavedPlanting& one) { one.run.pot.rooted_depletion_l = 1e6; },
      [](SavedPlanting& one) { one.run.pot.rooted_share = 0.0; },
      [](SavedPlanting& one) { one.run.beside.emplace_back(); },
  };
  for (std::size_t i = 0; i < spoilt.size(); ++i) {
    CAPTURE(i);
    SavedPlanting saved = sound();
    spoilt[i](saved);
    CHECK_THROWS_AS((void)asked(saved, {}), RequestError);
  }
  const Instant before{make_date(2024, 7, 14), 18.0};
  const auto watered = [](const Instant& when, std::optional<double> litres) {
    return PotEvent{when, PotEventKind::watered, litres};
  };
  const auto log = [](const std::vector<PotEvent>& events) { return PotLog{events, {}}; };
  CHECK(asked({}, log({watered(before, {}), watered(now, 1.0)})) == 1);
  CHECK_THROWS_AS((void)asked({}, log({watered(before, -5.0)})), RequestError);
  CHECK_THROWS_AS((void)asked({}, log({watered(before, std::nan(""))})), RequestError);
  CHECK_THROWS_AS((void)asked({}, log({watered(now, {}), watered(before, {})})), RequestError);
  CHECK_THROWS_AS((void)asked({}, log({watered({now.date, 8.0}, {})})), RequestError);
  CHECK_THROWS_AS((void)asked({}, log({watered({before.date, 99.0}, {})})), RequestError);
  CHECK_THROWS_AS((void)asked({}, log({watered({before.date, std::nan("")}, {})})), RequestError);
}

TEST_CASE("forecast: what is passed by now is passed at now itself, to the bit") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  const auto bell =
      plantings("bell,pepper,glazed 10 l,potting mix,1,05-15,patio,daily 07:00 away 07-10/07-20\n");
  constexpr int minutes_a_day = 24 * 60;
  int dry = 0;
  for (int minute = 0; minute < minutes_a_day; minute += 7) {
    ForecastOptions options =
        options_for({make_date(2024, 7, 17), minute / 60.0}, make_date(2024, 7, 17));
    options.members = 1;
    options.horizon_days = 1;
    const ForecastResult result = forecast(bell, place, catalogue(), options);
    const PlantingForecast& pot = result.pots.front();
    CAPTURE(minute);
    REQUIRE(pot.refill.p50);
    CHECK(*pot.refill.p50 == options.now);  // it has wanted water for days
    REQUIRE(pot.dry.p50);
    // Of one that is dry by now nothing is later; of the others it is later by more than rounding.
    const double hours_off = pot.dry.p50->hour - options.now.hour;
    const bool today = pot.dry.p50->date == options.now.date;
    CHECK((*pot.dry.p50 == options.now || !today || hours_off > 1e-6));
    dry += *pot.dry.p50 == options.now ? 1 : 0;
  }
  CHECK(dry > 100);
}

TEST_CASE("forecast: a log of before 1970 is as good as another") {
  const WeatherRecord now_record = sample("tolvenau.csv");
  std::vector<WeatherDay> days;
  for (std::size_t i = 0; i < now_record.size(); ++i) days.push_back(now_record.day(i));
  const WeatherRecord old("old", now_record.site(), make_date(1965, 1, 1), days, true);
  const Place place(old, catalogue().parameters);
  const auto rows = plantings("it,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00\n");
  const Instant now{make_date(1967, 7, 5), 12.0};
  const PotEvent watered{{make_date(1967, 7, 1), 7.0}, PotEventKind::watered, {}};
  const ForecastPlanting one{
      .planting = &rows.front(), .log = {{watered}, watered.when}, .saved = {}};
  CHECK(forecast(std::span(&one, 1), place, catalogue(), options_for(now, make_date(1967, 7, 4)))
            .pots.size() == 1);
}

}  // namespace wiltline::test
