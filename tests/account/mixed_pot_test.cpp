// Several crops in one pot. Balance, composition, saving and going on, and a pot alone against the
// batch hold for random mixed pots too: tests/properties and tests/questions/season_batch_test.cpp
// draw them among others.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/account/crop_run.hpp"
#include "wiltline/questions/heatwave.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

const Place& weather() {
  static const WeatherRecord record = sample("tolvenau.csv");
  static const Place place(record, model());
  return place;
}

const Date planted = make_date(2022, 4, 20);

Planting pot_of(const std::string& crops, const std::string& plants = "",
                const std::string& pot = "nursery 37 l") {
  return one_row(crops, pot + ",potting mix," + plants + ",2022-04-20,patio,daily 07:00");
}

SeasonResult season_of(const Planting& planting) {
  return run_season(planting, planted, weather(), {.ledger = true});
}

/// The second half of the plants as if they were another crop, which reading never makes.
Planting split(const std::string& crop, int first, int second) {
  Planting planting = pot_of(crop, std::to_string(first));
  planting.beside.push_back({planting.crop, second});
  return planting;
}

}  // namespace

TEST_CASE("mixed pot: one crop written twice is the pot with both plants, to the last bit") {
  const SeasonSummary twice = season_of(pot_of("kale 1 + kale 1")).summary;
  const SeasonSummary both = season_of(pot_of("kale", "2")).summary;
  CHECK(twice == both);
  CHECK(both.used_l > 50.0);
}

TEST_CASE("mixed pot: the parts of a crown split in two are the crown, in round pots and boxes") {
  for (const char* pot : {"nursery 37 l", "nursery 11 l", "deep window box 20 l"}) {
    for (const char* crop : {"kale", "beet", "tomato"}) {
      CAPTURE(pot);
      CAPTURE(crop);
      Planting whole = pot_of(crop, "5", pot);
      Planting parts = split(crop, 2, 3);
      parts.pot = whole.pot;
      const SeasonResult one = season_of(whole);
      const SeasonResult two = season_of(parts);
      REQUIRE(two.ledger.size() == one.ledger.size());
      for (std::size_t i = 0; i < one.ledger.size(); ++i) {
        const LedgerLine& a = one.ledger[i];
        const LedgerLine& b = two.ledger[i];
        REQUIRE(near(b.canopy_m2, a.canopy_m2, 1e-12));
        REQUIRE(near(b.potential_transpiration_l, a.potential_transpiration_l, 1e-10));
        REQUIRE(near(b.transpired_l, a.transpired_l, 1e-9));
        REQUIRE(near(b.evaporated_l, a.evaporated_l, 1e-9));
        REQUIRE(near(b.rain_l, a.rain_l, 1e-9));
      }
    }
  }
}

TEST_CASE("mixed pot: the order in which its crops are written does not matter") {
  const SeasonSummary one = season_of(pot_of("kale 2 + beet 4 + leaf lettuce 3")).summary;
  const SeasonSummary other = season_of(pot_of("leaf lettuce 3 + kale 2 + beet 4")).summary;
  CHECK(near(other.used_l, one.used_l, 1e-9 * one.used_l));
  CHECK(near(other.watered_l, one.watered_l, 1e-9 * one.watered_l));
  CHECK(near(other.peak_use_l_day, one.peak_use_l_day, 1e-9));
  CHECK(other.stressed_days == one.stressed_days);
  CHECK(other.ended_by == one.ended_by);
}

TEST_CASE("mixed pot: the water balances, day by day and over the season") {
  const Planting planting = pot_of("kale 2 + beet 4 + leaf lettuce 3");
  const SeasonResult result = season_of(planting);
  double in_l = 0.0;
  double out_l = 0.0;
  double before_l = build_pot(planting, model()).refilled_l;
  const double first_l = before_l;
  for (const LedgerLine& day : result.ledger) {
    const double change_l =
        day.rain_l + day.watered_l - day.drained_l - day.transpired_l - day.evaporated_l;
    REQUIRE(near(day.store_l - before_l, change_l, 1e-12 * 40.0));
    before_l = day.store_l;
    in_l += day.rain_l + day.watered_l;
    out_l += day.drained_l + day.transpired_l + day.evaporated_l;
  }
  CHECK(near(before_l - first_l, in_l - out_l, 1e-12 * in_l));
}

TEST_CASE("mixed pot: as sensitive as the most sensitive of its crops") {
  // Lettuce is short of water before kale is: p of FAO-56 Table 22, 0.30 and 0.45.
  const Planting mixed = pot_of("kale 2 + leaf lettuce 3");
  CropRun run(mixed, planted, model(), GrowthClock::stage_days);
  const Planting alone = pot_of("leaf lettuce", "3");
  CropRun lettuce(alone, planted, model(), GrowthClock::stage_days);
  const SpotDay& day = weather().at(mixed.spot)[weather().record().index_of(planted)];
  CHECK(run.begin_day(day, model()).depletion_fraction ==
        lettuce.begin_day(day, model()).depletion_fraction);
  Planting lined = mixed;
  lined.beside.front().crop.wilting_line = Ranged::exactly(0.5);
  lined.beside.front().crop.dry_line = Ranged::exactly(0.6);
  CHECK(build_pot(lined, model()).wilting_fraction == 0.5);
  CHECK(build_pot(lined, model()).dry_fraction == 0.6);
  lined.crop.wilting_line = Ranged::exactly(0.4);
  CHECK(build_pot(lined, model()).wilting_fraction == 0.4);
}

TEST_CASE("mixed pot: a crop that has ended is taken out, and the pot goes on to the last one") {
  const Planting mixed = pot_of("radish 6 + kale 1");
  const SeasonResult both = season_of(mixed);
  const SeasonResult kale = season_of(pot_of("kale", "1"));
  const SeasonResult radish = season_of(pot_of("radish", "6"));
  CHECK(radish.last < kale.last);
  CHECK(both.last == kale.last);
  CHECK(both.summary.ended_by == kale.summary.ended_by);
  // With the radishes gone the kale has the pot for itself, though not yet at its full size: it was
  // given its part of the mix.
  const auto canopy_on = [](const SeasonResult& result, Date date) {
    return result.ledger[static_cast<std::size_t>((date - result.first).count())].canopy_m2;
  };
  CHECK(canopy_on(both, radish.last) > canopy_on(kale, radish.last));
  CHECK(canopy_on(both, kale.last) <= canopy_on(kale, kale.last));
  CHECK(canopy_on(both, kale.last) > 0.7 * canopy_on(kale, kale.last));
}

TEST_CASE("mixed pot: uses more than its largest part alone and less than its parts side by side") {
  const double mixed = season_of(pot_of("kale 2 + beet 4 + leaf lettuce 3")).summary.used_l;
  const double kale = season_of(pot_of("kale", "2")).summary.used_l;
  const double beet = season_of(pot_of("beet", "4")).summary.used_l;
  const double lettuce = season_of(pot_of("leaf lettuce", "3")).summary.used_l;
  CHECK(mixed > std::max({kale, beet, lettuce}));
  CHECK(mixed < kale + beet + lettuce);
}

TEST_CASE("mixed pot: full-grown in a heat wave, one crop twice as the crop once") {
  HeatwaveOptions options;
  options.full_grown = true;
  const Planting whole = pot_of("kale", "5");
  const Planting parts = split("kale", 2, 3);
  const auto peak = [&](const Planting& planting) {
    return heatwave(planting, weather(), options).pots.front().peak_use_l_day;
  };
  CHECK(near(peak(parts), peak(whole), 1e-9));
  CHECK(peak(whole) > 0.5);
}

}  // namespace wiltline::test
