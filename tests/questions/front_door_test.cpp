// What every question refuses, in words: days outside the weather, rain that is not known, options
// that mean nothing. And that a whole garden in one call is its plantings one by one.
#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"
#include "support/refusal.hpp"
#include "wiltline/account/course.hpp"
#include "wiltline/wiltline.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

/// Warm days from 1 May 2022 on, at 45 degrees north.
std::vector<WeatherDay> warm_days(std::size_t count) {
  WeatherDay day;
  day.tmin_c = 12.0;
  day.tmax_c = 25.0;
  day.rain_mm = 0.0;
  return std::vector<WeatherDay>(count, day);
}

WeatherRecord record_of(std::vector<WeatherDay> days, bool rain_observed = true) {
  Site site;
  site.latitude_deg = 45.0;
  return {"made up", site, make_date(2022, 5, 1), std::move(days), rain_observed};
}

std::vector<Planting> tomato(const std::string& planted = "05-15") {
  return plantings("t,tomato,nursery 21 l,potting mix,1," + planted + ",patio,daily 07:00\n");
}

std::vector<Planting> courtyard() {
  return read_garden(read_file(std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv"),
                     catalogue());
}

const std::string no_fault = "nothing refused";

}  // namespace

TEST_CASE("a date outside the record is refused by every question that is given one") {
  const Place place(record_of(warm_days(100)), model());
  const auto garden = tomato();
  const Planting& one = garden.front();
  for (const Date date : {make_date(2022, 4, 30), make_date(2022, 8, 9), make_date(2031, 1, 1)}) {
    const std::string expected = "request: made up: found " + to_string(date) +
                                 "; expected a day of the record, 2022-05-01 to 2022-08-08";
    CHECK(refusal([&] { (void)run_season(one, date, place); }) == expected);
    const SeasonStart start{&one, date};
    CHECK(refusal([&] { (void)run_seasons({&start, 1}, place); }) == expected);
    CHECK(refusal([&] {
            (void)season_spreads({&start, 1}, place, catalogue(), {}, {});
          }) == expected);
    const auto& days = place.at(one.spot);
    CHECK(refusal([&] {
            (void)plan_course(one, date, place.record(), days, model(), GrowthClock::stage_days);
          }) == expected);
    const HotSpell spell{.first = date, .days = 1};
    CHECK(refusal([&] { (void)heatwave(garden, place, spell, {}); }) == expected);
    ForecastOptions options = at_end_of(place.record());
    options.known_last = date;
    CHECK(refusal([&] { (void)forecast(garden, place, catalogue(), options); }) == expected);
  }
  // A spell that begins within the record and ends beyond it.
  const HotSpell beyond{.first = make_date(2022, 8, 8), .days = 2};
  CHECK(refusal([&] { (void)heatwave(garden, place, beyond, {}); }) ==
        "request: made up: found 2022-08-09; expected a day of the record, 2022-05-01 to "
        "2022-08-08");
  CHECK(refusal([&] { (void)run_season(one, make_date(2022, 8, 8), place); }) == no_fault);
}

TEST_CASE("rain that is not known is refused where an account runs through it") {
  std::vector<WeatherDay> days = warm_days(100);
  days[31].rain_mm.reset();
  days[40].rain_mm.reset();
  const auto garden = tomato();
  const SeasonStart start{&garden.front(), make_date(2022, 5, 15)};
  const std::string expected =
      "made up: found no rain on 2 of 100 days, first on 2022-06-01; expected an amount: unknown "
      "rain cannot be kept in an account";
  const auto ask_all = [&](const Place& place, const std::string& answer) {
    CHECK(refusal([&] { (void)season(garden, place); }) == answer);
    CHECK(refusal([&] { (void)run_season(*start.planting, start.planted, place); }) == answer);
    CHECK(refusal([&] { (void)run_seasons({&start, 1}, place, {.ledger = true}); }) == answer);
    CHECK(refusal([&] { (void)compare(garden, place); }) == answer);
    CHECK(refusal([&] { (void)choose(garden, place); }) == answer);
    CHECK(refusal([&] { (void)absence(garden, place); }) == answer);
    CHECK(refusal([&] { (void)remedies(garden, place, catalogue()); }) == answer);
    CHECK(refusal([&] { (void)forecast(garden, place, catalogue(), at_end_of(place.record())); }) ==
          answer);
    CHECK(refusal([&] { (void)plan(garden, place, catalogue(), at_end_of(place.record())); }) ==
          answer);
    const SweepAxes axes{.crops = {garden.front().crop},
                         .spots = {garden.front().spot},
                         .pots = {garden.front().pot},
                         .mixes = {garden.front().mix},
                         .plants = {1},
                         .planted = {},
                         .routine = garden.front().routine};
    const SweepPlan sweep(axes, 1, model());
    Place swept = place;
    CHECK(refusal([&] { (void)run_block(sweep, sweep.block(0), swept, catalogue()); }) == answer);
    // Neither falls in a hot spell, nor in an absence that counts none.
    CHECK(refusal([&] { (void)heatwave(garden, place); }) == no_fault);
    CHECK(refusal([&] { (void)absence(garden, place, {.rain_counts = false}); }) == no_fault);
  };
  ask_all(Place(record_of(days), model()), expected);
  // Taken as none where that is said, or where nobody measured rain at all.
  ask_all(Place(record_of(days), model(), {.unknown_rain_is_none = true}), no_fault);
  ask_all(Place(record_of(days, false), model()), no_fault);
}

TEST_CASE("options that mean nothing are refused") {
  const Place place(record_of(warm_days(100)), model());
  const auto garden = tomato();
  const auto absence_refused = [&](const AbsenceOptions& options) {
    return refusal([&] { (void)absence(garden, place, options); });
  };
  CHECK(absence_refused({.leave_h = 24.0}) ==
        "request: absence: found 24 as the hour of leaving; expected 0 to less than 24");
  CHECK(absence_refused({.away_h = 0.0}) ==
        "request: absence: found 0 hours away; expected more than 0");
  CHECK(absence_refused({.first_month = 0}) == "request: absence: found month 0; expected 1 to 12");
  CHECK(absence_refused({.last_month = 13}) ==
        "request: absence: found month 13; expected 1 to 12");
  CHECK(absence_refused({.share = 1.5}) ==
        "request: absence: found 1.5 as the share of windows; expected more than 0, up to 1");
  CHECK(absence_refused({.share = 0.0}) ==
        "request: absence: found 0 as the share of windows; expected more than 0, up to 1");

  CHECK(refusal([&] { (void)hottest_spell(place, 0, Heat::tmax); }) ==
        "request: found 0 days of a spell; expected 1 or more");
  CHECK(refusal([&] { (void)spell_from(place, make_date(2022, 6, 1), -3); }) ==
        "request: found -3 days of a spell; expected 1 or more");
  CHECK(refusal([&] { (void)longest_spell(place, 30.0, 0); }) ==
        "request: found 0 days of a spell; expected 1 or more");
  CHECK(refusal([&] { (void)warmer(place.record(), -1.0, {}); }) ==
        "request: found -1 degrees warmer; expected 0 or more");
  CHECK(refusal([&] { (void)heatwave(garden, Place(record_of(warm_days(4)), model())); }) ==
        "request: made up: found 4 days; expected 5 or more for a hot spell");

  CHECK(refusal([&] { (void)absence_spreads(garden, place, catalogue(), {}, {.draws = 0}); }) ==
        "request: found no draws; expected 1 or more");
  CHECK(refusal([&] { (void)choice_spreads(garden, std::vector<Place>{}, catalogue(), {}, {}); }) ==
        "request: found no place; expected one at least");

  CHECK(refusal([&] { (void)spread_of({}); }) == "request: found no values; expected one at least");
  CHECK(refusal([&] { (void)worst_of({}); }) == "request: found no summer; expected one at least");
  const std::vector<double> answers(4, 1.0);
  CHECK(refusal([&] { (void)most_influential({}, answers); }) ==
        "request: found 4 answers to 0 draws; expected one for each");

  const SeasonStart nothing{nullptr, make_date(2022, 6, 1)};
  CHECK(refusal([&] {
          (void)run_seasons({&nothing, 1}, place);
        }) == "request: found a start without a planting");
  CHECK(refusal([&] {
          (void)season_spreads({&nothing, 1}, place, catalogue(), {}, {});
        }) == "request: found a start without a planting");

  const auto forecast_refused = [&](const auto& change) {
    ForecastOptions options = at_end_of(place.record());
    change(options);
    return refusal([&] { (void)forecast(garden, place, catalogue(), options); });
  };
  CHECK(forecast_refused([](ForecastOptions&) {}) == no_fault);
  CHECK(forecast_refused([](auto& how) { how.now.date = make_date(2022, 8, 10); }) ==
        "request: forecast: found now on 2022-08-10; expected a day from 2022-05-01 to 2022-08-09");
  CHECK(forecast_refused([](auto& how) { how.now.hour = 25.0; }) ==
        "request: forecast: found now at hour 25; expected 0 to 24");
  CHECK(forecast_refused([](auto& how) { how.members = 0; }) ==
        "request: forecast: found no members; expected 1 or more");
  CHECK(forecast_refused([](auto& how) { how.horizon_days = 0; }) ==
        "request: forecast: found 0 days to look ahead; expected 1 to 60");
  const auto early = tomato("2022-04-20");
  CHECK(refusal([&] { (void)forecast(early, place, catalogue(), at_end_of(place.record())); }) ==
        "request: t: found planted 2022-04-20, before made up begins; expected weather from then "
        "on, or a saved state");

  SweepAxes axes{.crops = {garden.front().crop},
                 .spots = {garden.front().spot},
                 .pots = {},
                 .mixes = {garden.front().mix},
                 .plants = {1},
                 .planted = {},
                 .routine = garden.front().routine};
  CHECK(refusal([&] { (void)SweepPlan(axes, 1, model()); }) ==
        "request: sweep: found nothing to cross; expected no empty list");
  axes.pots = {garden.front().pot};
  const SweepPlan plan(axes, 1, model());
  CHECK(refusal([&] { (void)plan.block(1); }) == "request: sweep: found a block after the last");
  CHECK(refusal([&] { (void)plan.at(1); }) == "request: sweep: found a crossing after the last");
  for (const std::size_t k : {0, 3}) {
    CHECK(refusal([&] { (void)plan.part(k, 2); }) ==
          "request: sweep: found no such part; expected 1 to their number");
  }
  CHECK(refusal([&] {
          const Mix& mix = garden.front().mix;
          (void)pot_capacity(garden.front().pot, {mix, mix, mix}, 1.2, model());
        }) == "request: capacity: found 1.2 as the readily available share; expected 0 to 1");
}

TEST_CASE("a garden in one call is its plantings one by one") {
  const auto garden = courtyard();
  const Place place(sample("tolvenau.csv"), model());
  const auto seasons = season(garden, place);
  std::size_t next = 0;
  for (const Planting& planting : garden) {
    for (const Date planted : planting_dates(planting, place.record())) {
      REQUIRE(next < seasons.size());
      CHECK(seasons[next].planting == &planting);
      CHECK(seasons[next].first == planted);
      CHECK(seasons[next].summary == run_season(planting, planted, place).summary);
      ++next;
    }
  }
  CHECK(next == seasons.size());

  const auto held = capacity(garden, catalogue());
  REQUIRE(held.size() == garden.size());
  for (std::size_t i = 0; i < garden.size(); ++i) {
    INFO(garden[i].name);
    CHECK(held[i].pot == garden[i].pot.name);
    CHECK(held[i].water.available_l() ==
          held_water(garden[i].pot, garden[i].mix, model().refill_share).available_l());
    CHECK(held[i].available_l.varies());
  }

  const Place summer(sample("tolvenau.csv").between(make_date(2022, 1, 1), make_date(2022, 12, 31)),
                     model());
  const auto changes = remedies(garden, summer, catalogue());
  REQUIRE(changes.size() == garden.size());
  std::size_t helped = 0;
  for (std::size_t i = 0; i < garden.size(); ++i) {
    CHECK(changes[i].planting == &garden[i]);
    const auto alone = remedies(garden[i], summer, catalogue(), {});
    REQUIRE(changes[i].remedies.size() == alone.size());
    for (std::size_t k = 0; k < alone.size(); ++k) {
      CHECK(changes[i].remedies[k].change.text == alone[k].change.text);
    }
    helped += alone.empty() ? 0 : 1;
  }
  CHECK(helped > 2);

  const HeatwaveResult hot = heatwave(garden, place);
  CHECK(hot.spell.days == 5);
  CHECK(hot.spell.first == hottest_spell(place, 5, Heat::tmax)->first);
  CHECK(hot.pots.size() + hot.absent.size() == garden.size());
}

}  // namespace wiltline::test
