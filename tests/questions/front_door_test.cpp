// What every question refuses, in words: days outside the weather, rain that is not known, options
// that mean nothing. And that a whole garden in one call is its plantings one by one.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <limits>
#include <string>
#include <vector>

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
    CHECK(refusal([&] { (void)run_block(sweep, sweep.block(0), place, catalogue()); }) == answer);
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
        "request: absence: found 0 hours away; expected more than 0 and up to 876600");
  CHECK(absence_refused({.away_h = 1e300}) ==
        "request: absence: found 1e+300 hours away; expected more than 0 and up to 876600");
  CHECK(refusal([&] { (void)trip_help(garden, place, catalogue(), {.away_h = 1e300}); }) ==
        absence_refused({.away_h = 1e300}));
  CHECK(absence_refused({.start_day = MonthDay{13, 45}}) ==
        "request: absence: found 13-45 as the day of leaving; expected a day of the year");
  CHECK(absence_refused({.start_day = MonthDay{2, 29}}) == no_fault);
  CHECK(absence_refused({.away_h = 72.0,
                         .helper = {.visits = {{1, 18.0}},
                                    .give_l = std::numeric_limits<double>::infinity()}}) ==
        "request: absence: found a helper who gives inf L; expected more than nothing and up to "
        "10000");
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

TEST_CASE("no place, and the same weather twice, are refused by every question over places") {
  const Place place(record_of(warm_days(100)), model());
  const auto garden = tomato();
  const std::vector<Place> none;
  const std::vector<Place> twice{place, place};
  const std::string no_place = "request: found no place; expected one at least";
  const std::string again =
      "request: made up: found the days of made up a second time; expected every weather record "
      "once";
  const auto ask = [&](const auto& question) {
    CHECK(refusal([&] { question(none); }) == no_place);
    CHECK(refusal([&] { question(twice); }) == again);
  };
  ask([&](Places places) { (void)compare(garden, places); });
  ask([&](Places places) { (void)run_summers(garden, places, {}); });
  ask([&](Places places) { (void)choice_spreads(garden, places, catalogue(), {}, {}); });
  ask([&](Places places) { (void)absence(garden, places); });
  ask([&](Places places) { (void)absence_windows(garden, places); });
  ask([&](Places places) { (void)absence_spreads(garden, places, catalogue(), {}, {}); });
  ask([&](Places places) { (void)warmest_months(places); });
  ask([&](Places places) { (void)trip_help(garden, places, catalogue(), {}); });
  ask([&](Places places) { (void)remedies(garden, places, catalogue()); });
  ask([&](Places places) { (void)remedies(garden.front(), places, catalogue(), {}); });
  ask([&](Places places) { (void)absence_remedies(garden.front(), places, catalogue(), {}, {}); });
  ask([&](Places places) { (void)season_what_matters(garden, places, catalogue(), {}, {}); });
  ask([&](Places places) { (void)absence_what_matters(garden, places, catalogue(), {}, {}); });
  ask([&](Places places) { (void)without_effect(garden, places, GrowthClock::stage_days); });
}

TEST_CASE("places of two models are refused where one model must do for all") {
  ModelParameters other = model();
  other.frost_tender_c += 1.0;  // not drawn
  const Place first(record_of(warm_days(100)), model());
  const Place second(record_of(warm_days(101)), other);
  const std::vector<Place> places{first, second};
  const auto garden = tomato();
  const std::string expected =
      "request: made up: found another model than that of made up; expected one for all";
  CHECK(refusal([&] { (void)choice_spreads(garden, places, catalogue(), {}, {}); }) == expected);
  CHECK(refusal([&] { (void)absence_spreads(garden, places, catalogue(), {}, {}); }) == expected);
  CHECK(refusal([&] { (void)season_what_matters(garden, places, catalogue(), {}, {}); }) ==
        expected);
  CHECK(refusal([&] { (void)absence_what_matters(garden, places, catalogue(), {}, {}); }) ==
        expected);
  CHECK(refusal([&] { (void)remedies(garden, places, catalogue()); }) == expected);
  CHECK(refusal([&] { (void)absence_remedies(garden.front(), places, catalogue(), {}, {}); }) ==
        expected);
  // Each place under its own.
  CHECK(refusal([&] { (void)compare(garden, places); }) == no_fault);
  CHECK(refusal([&] { (void)absence(garden, places); }) == no_fault);
  CHECK(refusal([&] { (void)choice_spreads(garden, second, catalogue(), {}, {.draws = 2}); }) ==
        no_fault);
}

TEST_CASE("a model that draws would not be about is refused") {
  ModelParameters own = model();
  own.ceiling *= 2.0;
  const Place place(record_of(warm_days(100)), own);
  const auto garden = tomato();
  const SeasonStart start{&garden.front(), make_date(2022, 5, 15)};
  const std::string expected = fmt::format(
      "request: found a model with ceiling {:g}; expected {:g}, the catalogue's value, "
      "about which it is drawn",
      own.ceiling, model().ceiling);
  CHECK(refusal([&] {
          (void)season_spreads({&start, 1}, place, catalogue(), {}, {});
        }) == expected);
  CHECK(refusal([&] { (void)choice_spreads(garden, place, catalogue(), {}, {}); }) == expected);
  CHECK(refusal([&] { (void)absence_spreads(garden, place, catalogue(), {}, {}); }) == expected);
  const HotSpell spell{.first = make_date(2022, 7, 1), .days = 5};
  CHECK(refusal([&] { (void)heatwave_spreads(garden, place, spell, catalogue(), {}, {}); }) ==
        expected);
  CHECK(refusal([&] { (void)season_what_matters(garden, place, catalogue(), {}, {}); }) ==
        expected);
  ForecastOptions options = at_end_of(place.record());
  CHECK(refusal([&] { (void)forecast(garden, place, catalogue(), options); }) == no_fault);
  options.now = {make_date(2022, 7, 15), 9.0};
  CHECK(refusal([&] {
          (void)forecast_what_matters(by_routine_alone(garden), place, catalogue(), options, {});
        }) == expected);
  options.uncertain = true;
  CHECK(refusal([&] { (void)forecast(garden, place, catalogue(), options); }) == expected);
  const std::vector<PotReadings> readings{{&garden.front(),
                                           {{.when = {make_date(2022, 7, 1), 18.0},
                                             .kind = ReadingKind::weighed_before,
                                             .weight_kg = 15.0}}}};
  CHECK(refusal([&] { (void)calibrate(readings, place, catalogue(), {}); }) == expected);
  ModelParameters lines = model();
  lines.wilting_line *= 0.9;  // drawn with the dry line
  CHECK(refusal([&] {
          check_drawn(lines, catalogue());
        }).starts_with("request: found a model with wilting_line"));
}

TEST_CASE("what a call cannot be asked with is refused, not run into") {
  const Place place(record_of(warm_days(100)), model());
  const auto garden = tomato();
  const Planting& one = garden.front();
  CHECK(refusal([&] { (void)days_left_short(SeasonResult{}, place, GrowthClock::stage_days); }) ==
        "request: found a season without a planting");

  const std::vector<SpotDay> few(place.at(one.spot).begin(), place.at(one.spot).begin() + 50);
  const Date planted = make_date(2022, 5, 15);
  const auto& record = place.record();
  const std::string short_of =
      "request: made up: found 50 days at a spot; expected the record's 100";
  CHECK(refusal([&] {
          (void)plan_course(one, planted, record, few, model(), GrowthClock::stage_days);
        }) == short_of);
  CHECK(refusal([&] {
          (void)crop_days(one, planted, record, few, model(), GrowthClock::stage_days);
        }) == short_of);

  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  std::vector<double> answers(4, 1.0);
  answers[2] = nan;
  const std::vector<std::vector<DrawnInput>> draws(4, {{"x", 0.5}});
  const std::string no_number = "request: found an answer that is no number; expected numbers";
  CHECK(refusal([&] { (void)most_influential(draws, answers); }) == no_number);
  CHECK(refusal([&] { (void)spread_of(answers); }) == no_number);
  std::vector<std::vector<DrawnInput>> ragged = draws;
  ragged[1].clear();
  CHECK(refusal([&] { (void)most_influential(ragged, std::vector<double>(4, 1.0)); }) ==
        "request: found 0 inputs of a draw; expected 1, as many as of the first");

  for (const double coordinate : {nan, 1.0, -0.1}) {
    std::vector<double> point(draw_coordinates, 0.5);
    point[7] = coordinate;
    CHECK(refusal([&] { (void)draw_garden(garden, model(), catalogue(), point, 1, 0); }) ==
          fmt::format("request: found {:g} as a coordinate of a draw's point; expected 0 to less "
                      "than 1",
                      coordinate));
  }

  // A forecast's members keep their inputs and the place.
  ForecastOptions options = at_end_of(record);
  CHECK(refusal([&] {
          (void)forecast_member(by_routine_alone(garden), place, catalogue(), options);
        }) == "request: forecast: found no weather for 2022-08-09; expected that of another year");
  options.now = {make_date(2022, 7, 15), 9.0};
  const auto late = tomato("09-15");
  const auto asleep = forecast_member(by_routine_alone(late), place, catalogue(), options);
  CHECK(refusal([&] { (void)asleep(0, late.front(), model(), 1); }) ==
        "request: forecast: found planting 0 of 1; expected one of them that grows now");
  std::vector<ForecastPlanting> inputs = by_routine_alone(garden);
  Place there = place;
  const auto member = forecast_member(inputs, there, catalogue(), options);
  const double dry_h = member(0, one, model(), 1).dry_h;
  inputs.front().planting = nullptr;
  there = Place(record_of(warm_days(20)), model());
  CHECK(member(0, one, model(), 1).dry_h == dry_h);
  CHECK(refusal([&] { (void)member(99, one, model(), 1); }) ==
        "request: forecast: found planting 99 of 1; expected one of them that grows now");
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
