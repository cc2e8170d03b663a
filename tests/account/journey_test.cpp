// A planting's way to now: its routine until the log begins, and what the log says from then on.
#include "wiltline/account/journey.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline::test {
namespace {

const Date planted = make_date(2022, 5, 15);
const Date day = make_date(2022, 7, 4);

Planting tomato(const std::string& routine) {
  return one_row("tomato", "nursery 11 l,potting mix,1,2022-05-15,patio," + routine);
}

const WeatherRecord& record() {
  static const WeatherRecord read = sample("zarquil-flats.csv");
  return read;
}

const std::vector<SpotDay>& spot() {
  static const std::vector<SpotDay> all = spot_days(
      record(), reference_days(record(), {}), tomato("daily 07:00").spot, catalogue().parameters);
  return all;
}

const SpotWeather& weather() {
  static const SpotWeather of_day = [](std::size_t index) { return spot()[index]; };
  return of_day;
}

PlantingRun fresh(const Planting& planting) {
  return {planting, planted, catalogue().parameters, GrowthClock::stage_days};
}

/// Where the pot stands at 00:00 of a date.
RunState at(Date date, const Planting& planting, const PotLog& log) {
  Journey journey(log, fresh(planting), weather(), record());
  journey.go_to(date);
  return journey.run().state();
}

PotEvent watered(const Instant& when, std::optional<double> litres) {
  return {when, PotEventKind::watered, litres};
}

PotLog log_of(const std::vector<PotEvent>& events) {
  return {.events = events, .complete_from = events.front().when};
}

constexpr auto one_day = std::chrono::days(1);

}  // namespace

TEST_CASE("journey: a watering logged at the hour of a visit is that visit, not a second one") {
  const Planting kept = tomato("daily 07:00");
  const Planting missed = tomato("daily 07:00 away 2022-07-03/2022-07-05");
  const PotLog log = log_of({watered({day, 7.0}, 0.5)});
  const RunState logged = at(day + one_day, kept, log);
  CHECK(logged.pot == at(day + one_day, missed, log).pot);
  CHECK(logged.drained_yesterday_l == at(day + one_day, missed, log).drained_yesterday_l);
  // Logged a minute later, the visit before it was kept.
  const PotLog later = log_of({watered({day, 7.0 + 1.0 / 60.0}, 0.5)});
  CHECK(at(day + one_day, kept, later).pot.rooted_depletion_l <
        logged.pot.rooted_depletion_l - 0.1);
}

TEST_CASE("journey: from the log's first watering on no visit is assumed") {
  const Planting kept = tomato("daily 07:00 19:00");
  const Planting alone = tomato("daily 07:00 19:00 away 2022-07-03/2022-07-20");
  const PotLog log = log_of({watered({day, 7.0}, {}), watered({day + 2 * one_day, 12.0}, 2.0)});
  CHECK(at(day + 5 * one_day, kept, log).pot == at(day + 5 * one_day, alone, log).pot);
}

TEST_CASE("journey: as-needed water ends with the log's first watering too") {
  const Planting as_needed = tomato("as-needed");
  const PotLog log = log_of({watered({day, 12.0}, {})});
  const RunState state = at(day + 6 * one_day, as_needed, log);
  const PotParameters pot = build_pot(as_needed, catalogue().parameters);
  CHECK(state.pot.rooted_depletion_l > 0.7 * pot.total_available_l);
  CHECK(state.drained_yesterday_l == 0.0);
  // Until that hour it is watered as its threshold asks.
  const RunState before = at(day, as_needed, log);
  const IntervalLimits limits = interval_limits(pot, 0.8, 1.0);
  CHECK(before.pot.rooted_depletion_l < limits.raw_l);
  const Planting alone = tomato("daily 07:00 away 2022-05-15/2022-12-31");
  CHECK(at(day, alone, log_of({watered({day, 12.0}, {})})).pot.rooted_depletion_l >
        before.pot.rooted_depletion_l);
}

TEST_CASE(
    "journey: what is logged on a day happens in the order of its hours, with the routine's") {
  // The day by hand: rain, the visit at 07:00, the weighing at 12:00.
  const Planting planting = tomato("daily 07:00");
  const PotParameters pot = build_pot(planting, catalogue().parameters);
  const double weight_kg = dry_mix_kg(planting.mix, pot.mix_l) + 0.8 * pot.refilled_l;
  const PotLog log{.events = {{{day, 12.0}, PotEventKind::weighed, weight_kg}},
                   .complete_from = {}};
  Journey journey(log, fresh(planting), weather(), record());
  journey.go_to(day);
  PlantingRun run = journey.run();
  journey.go_to(day + one_day);

  const SpotDay& today = spot()[record().index_of(day)];
  std::vector<Visit> visits;
  const DayForcing forcing = run.begin_day(today);
  const DayPlan plan = run.routine(today.curve, visits);
  DayInProgress by_hand(run.pot(), run.pot_state(), forcing);
  by_hand.take_rain(plan);
  by_hand.visit(plan, visits.at(0));
  by_hand.dry_until(today.curve.share_by(12.0));
  by_hand.correct(holding(pot, by_hand.state(), 0.8 * pot.refilled_l));
  CHECK(near(store_l(pot, by_hand.state()), 0.8 * pot.refilled_l, 1e-9));
  CHECK(journey.run().pot_state() == by_hand.finish().state);
}

TEST_CASE("journey: now and from now on") {
  const Planting planting = tomato("daily 07:00");
  const PotLog none;
  Journey journey(none, fresh(planting), weather(), record());
  journey.go_to(day);
  const auto same_days = [](Date date) { return record().index_of(date); };
  const Instant now{day, 9.0};
  const Instant far{day + 30 * one_day, 9.0};
  const Journey::Outcome outcome = journey.go_on(now, far, {}, same_days);
  REQUIRE(outcome.refill);
  REQUIRE(outcome.dry);
  CHECK(*outcome.refill > now);
  CHECK(*outcome.refill < *outcome.dry);
  CHECK(outcome.depletion_l < outcome.refill_at_l);
  // Until it drains, and only what was lost since the visit two hours ago.
  CHECK(outcome.give_now_l > 0.0);
  CHECK(outcome.give_now_l < 0.5);

  // Nothing after the end is told.
  const Journey::Outcome until_refill = journey.go_on(now, *outcome.refill, {}, same_days);
  CHECK(until_refill.refill == outcome.refill);
  CHECK_FALSE(until_refill.dry);
  const Instant just_before{outcome.refill->date, outcome.refill->hour - 0.01};
  CHECK_FALSE(journey.go_on(now, just_before, {}, same_days).refill);

  // Past the threshold already: now.
  const Instant dry_now{outcome.dry->date, outcome.dry->hour};
  Journey unattended(none, journey.run(), weather(), record());
  CHECK(unattended.go_on(now, far, {}, same_days).dry == dry_now);
}

TEST_CASE("journey: a visit at the very minute of now is to come, unless the log has it") {
  const Planting planting = tomato("daily 07:00 19:00");
  const Instant at_visit{day, 7.0};
  const Instant evening{day, 19.0};
  const PotLog none;
  const PotLog minute_before = log_of({watered({day, 7.0 - 1.0 / 60.0}, {})});
  const PotLog done = log_of({watered(at_visit, {})});
  const auto same_days = [](Date date) { return record().index_of(date); };
  const auto first_stop = [&](const PotLog& log) {
    Journey journey(log, fresh(planting), weather(), record());
    journey.go_to(day);
    const auto stops = journey.keep_routine(at_visit, {day + one_day, 12.0}, same_days, false);
    REQUIRE(stops.size() > 2);
    CHECK(stops[0].when == at_visit);
    CHECK(stops[0].poured_l == 0.0);
    return stops[1].when;
  };
  // One rule for the visit that forecast names and those that plan lists.
  for (const PotLog* const log : {&none, &minute_before}) {
    CHECK(coming_visit(planting.routine, planted, *log, at_visit) == at_visit);
    CHECK(first_stop(*log) == at_visit);
  }
  CHECK(coming_visit(planting.routine, planted, done, at_visit) == evening);
  CHECK(first_stop(done) == evening);
  CHECK(coming_visit(planting.routine, planted, none, {day, 7.0 + 1.0 / 60.0}) == evening);
}

TEST_CASE("journey: a helper's visits are those of a log written by hand, to the bit") {
  const Planting helped =
      tomato("daily 07:00 helper 2022-07-04/2022-07-15 every 3 days 18:00 give 2 l");
  std::vector<PotEvent> events;
  for (Date date = planted; date < day + 20 * one_day; date += one_day) {
    const long away = (date - day).count();
    if (away <= 0 || away >= 11) {
      events.push_back(watered({date, 7.0}, {}));
    } else if (away % 3 == 0) {
      events.push_back(watered({date, 18.0}, 2.0));
    }
  }
  const PotLog by_hand{.events = events, .complete_from = Instant{planted, 0.0}};
  for (const Date date :
       {day + one_day, day + 4 * one_day, day + 11 * one_day, day + 16 * one_day}) {
    CAPTURE(to_string(date));
    CHECK(at(date, helped, {}) == at(date, tomato("daily 07:00"), by_hand));
  }
  CHECK_FALSE(at(day + 11 * one_day, helped, {}) ==
              at(day + 11 * one_day, tomato("daily 07:00"), {}));
}

TEST_CASE("journey: it keeps the weather it was given") {
  const Planting planting = tomato("daily 07:00");
  const PotLog none;
  SpotWeather given = weather();
  Journey journey(none, fresh(planting), given, record());
  given = {};  // empty: calling it throws
  journey.go_to(day);
  CHECK(journey.run().state() == at(day, planting, none));
}

}  // namespace wiltline::test
