#include "wiltline/questions/plan.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random_garden.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline::test {
namespace {

using std::chrono::days;

ForecastOptions week_from(const Instant& now, Date known_last, Date observed_last) {
  ForecastOptions options;
  options.now = now;
  options.known_last = known_last;
  options.observed_last = observed_last;
  options.horizon_days = 7;
  options.members = 3;
  return options;
}

struct Poured {
  Instant when;
  double litres = 0.0;
};

/// What a season pours from an instant on, and the hour at which the pot first wilts on each day.
struct Played {
  std::vector<Poured> poured;
  std::map<Date, double> wilts;
  bool watered_at_once = false;
};

/// A season day by day through the account; what has wilted at an instant and has nobody there is
/// watered at once.
Played played_season(const Planting& planting, Date planted, const Place& place,
                     const Instant& from, const Instant& to) {
  const std::vector<SpotDay>& spot = place.at(planting.spot);
  PlantingRun run(planting, planted, place.model(), GrowthClock::stage_days);
  std::vector<Visit> visits;
  Played played;
  while (run.date() <= place.record().last() && !run.finished()) {
    const SpotDay& today = spot[place.record().index_of(run.date())];
    const DayForcing forcing = run.begin_day(today);
    const DayPlan plan = run.routine(today.curve, visits);
    DayResult day = run_day(run.pot(), run.pot_state(), forcing, plan);
    if (run.date() == from.date && !plan.as_needed) {
      const double now = today.curve.share_by(from.hour);
      DayInProgress by_hand(run.pot(), run.pot_state(), forcing);
      by_hand.take_rain(plan);
      std::size_t next = 0;
      while (next < visits.size() && visits[next].at < now) by_hand.visit(plan, visits[next++]);
      by_hand.dry_until(now);
      by_hand.watch_from_here();
      const double before_l = by_hand.so_far().watered_l;
      if (by_hand.so_far().wilting_at) {
        by_hand.pour({}, routine_plan(planting.routine).pouring);
        played.watered_at_once = true;
        by_hand.watch_from_here();
        played.poured.push_back({from, by_hand.so_far().watered_l - before_l});
        while (next < visits.size()) by_hand.visit(plan, visits[next++]);
        day = by_hand.finish();
        std::erase_if(day.refills, [&](const Refill& refill) { return refill.at <= now; });
      }
    }
    for (const Refill& refill : day.refills) {
      const Instant when{run.date(), today.curve.hours_at(refill.at)};
      if (refill.poured_l > 0.0 && when > from && when <= to) {
        played.poured.push_back({when, refill.poured_l});
      }
    }
    if (day.wilting_at) played.wilts[run.date()] = today.curve.hours_at(*day.wilting_at);
    run.end_day(day, today);
  }
  return played;
}

double hours_between(const Instant& a, const Instant& b) {
  return 24.0 * static_cast<double>((b.date - a.date).count()) + b.hour - a.hour;
}

}  // namespace

TEST_CASE("plan: with the true weather it is the season, to the minute, in 30 random weeks") {
  const WeatherRecord records[] = {sample("tolvenau.csv"), real("new-york.csv")};
  const std::string years[] = {"2022-", "2014-"};
  Random random(23);
  int waterings = 0;
  int wilting = 0;
  int watered_now = 0;
  for (int week = 0; week < 30; ++week) {
    const std::size_t at = random.below(2);
    const WeatherRecord& record = records[at];
    const Place place(record, catalogue().parameters);
    const std::vector<Planting> garden = random_garden(random, catalogue(), 12, years[at]);
    const Instant now{*parse_date(years[at] + "06-10") + days(random.below(80)),
                      random.uniform(0.5, 23.5)};
    const Instant end{now.date + days(7), now.hour};
    const PlanResult result =
        plan(garden, place, catalogue(), week_from(now, record.last(), now.date - days(1)));
    for (const PlantingForecast& pot : result.forecast.pots) {
      CAPTURE(week);
      CAPTURE(pot.planting->name);
      CAPTURE(pot.planting->routine.text);
      std::vector<PlannedWatering> rows;
      for (const PlannedWatering& one : result.waterings) {
        if (one.planting == pot.planting) rows.push_back(one);
      }
      std::vector<Poured> planned;
      for (const ComingVisit& visit : pot.visits) {
        if (visit.poured_l.p50 > 0.0) planned.push_back({visit.when, visit.poured_l.p50});
        CHECK(visit.poured_l.p10 == visit.poured_l.p90);
      }
      const Played played = played_season(*pot.planting, pot.planted, place, now, end);
      REQUIRE(planned.size() == played.poured.size());
      for (std::size_t i = 0; i < planned.size(); ++i) {
        CHECK(near(hours_between(played.poured[i].when, planned[i].when), 0.0, 1e-6));
        CHECK(near(planned[i].litres, played.poured[i].litres, 1e-9));
        CHECK(std::any_of(rows.begin(), rows.end(), [&](const PlannedWatering& row) {
          // What is given now is told as what it takes, and was poured as a difference of sums.
          const double off_l = std::abs(row.give_l.p50 - planned[i].litres);
          return row.visit == planned[i].when && off_l <= (row.visit == now ? 1e-12 : 0.0);
        }));
      }
      waterings += static_cast<int>(planned.size());
      watered_now += played.watered_at_once ? 1 : 0;
      // The season has the first wilting of a day: each of them lies in a row that does not last,
      // and each such row's day is one of them.
      const auto wilts_on = [&](Date date) -> std::optional<double> {
        const auto found = played.wilts.find(date);
        return found == played.wilts.end() ? std::nullopt : std::optional(found->second);
      };
      for (const PlannedWatering& row : rows) {
        if (!row.wilts) continue;
        if (played.watered_at_once && row.visit == now) {  // it is watered because it has wilted
          CHECK(*row.wilts == now);
          continue;
        }
        const auto hour = wilts_on(row.wilts->date);
        REQUIRE(hour);
        CHECK(*hour <= row.wilts->hour + 1e-6);
        ++wilting;
      }
      for (Date date = now.date + days(1); date < end.date; date += days(1)) {
        const auto hour = wilts_on(date);
        if (!hour) continue;
        // The last visit before it.
        const Instant when{date, *hour};
        const ComingVisit* before = nullptr;
        for (const ComingVisit& visit : pot.visits) {
          if (hours_between(visit.when, when) >= -1e-6) before = &visit;
        }
        REQUIRE(before != nullptr);
        REQUIRE(before->wilts);
        CHECK(hours_between(*before->wilts, when) >= -1e-6);
      }
    }
  }
  CHECK(waterings > 500);
  CHECK(wilting > 20);
  CHECK(watered_now > 5);
}

TEST_CASE("plan: a helper's visits are the helper's, what comes before now is not planned") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  const auto garden = plantings(
      "tomato,tomato,nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00 helper "
      "2022-07-12/2022-07-16 every 2 days 18:00 give 2 l\n"
      "radish,radish,clay 4 l,potting mix,3,2022-04-01,patio,daily 07:00\n");
  const Instant now{make_date(2022, 7, 12), 7.0};
  const PlanResult result =
      plan(garden, place, catalogue(), week_from(now, record.last(), now.date - days(1)));
  std::vector<std::string> visits;
  for (const PlannedWatering& one : result.waterings) {
    visits.push_back(to_string(one.visit) + (one.by_helper ? " helper" : " you"));
    if (one.by_helper) CHECK(one.give_l.p90 == 2.0);
  }
  // A visit at the hour of now is still to come.
  CHECK(visits == std::vector<std::string>{"2022-07-12T07:00 you", "2022-07-14T18:00 helper",
                                           "2022-07-16T07:00 you", "2022-07-17T07:00 you",
                                           "2022-07-18T07:00 you", "2022-07-19T07:00 you"});
  CHECK(result.forecast.not_growing.size() == 1);
}

namespace {

/// The rows of one pot of 10 litres in the heat of July 2022.
std::vector<PlannedWatering> planned(const std::string& routine, const Instant& now,
                                     const std::vector<PotEvent>& events = {},
                                     const std::string& mix = "potting mix") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place place(record, catalogue().parameters);
  const auto garden =
      plantings("it,tomato,nursery 10 l," + mix + ",1,2022-05-15,patio," + routine + "\n");
  const ForecastPlanting one{
      .planting = &garden.front(), .log = {.events = events, .complete_from = {}}, .saved = {}};
  ForecastOptions options = week_from(now, record.last(), now.date - days(1));
  options.horizon_days = 3;
  return plan(std::span(&one, 1), place, catalogue(), options).waterings;
}

/// Each of them as `21T07:00 wilts`.
std::vector<std::string> rows_of(const std::string& routine, const Instant& now,
                                 const std::vector<PotEvent>& events = {}) {
  std::vector<std::string> rows;
  for (const PlannedWatering& row : planned(routine, now, events)) {
    rows.push_back(to_string(row.visit).substr(8) + (row.give_l.p50 > 0.0 ? "" : " nothing") +
                   (row.wilts ? *row.wilts <= row.visit ? " wilted" : " wilts" : " lasts"));
  }
  return rows;
}

double litres_of(const std::string& routine, const Instant& now, std::size_t row) {
  return planned(routine, now).at(row).give_l.p50;
}

}  // namespace

TEST_CASE("plan: a pot that has wilted is listed once until it is watered") {
  using Rows = std::vector<std::string>;
  const Date today = make_date(2022, 7, 21);
  const Instant before{today, 6.0};
  const Instant at_visit{today, 7.0};
  // Now; the visit an hour later then finds what it lost since. Each day's watering lasts until the
  // afternoon.
  CHECK(rows_of("daily 07:00", before) ==
        Rows{"21T06:00 wilted", "21T07:00 wilts", "22T07:00 wilts", "23T07:00 wilts"});
  CHECK(litres_of("daily 07:00", before, 0) > 3.0);
  CHECK(litres_of("daily 07:00", before, 1) < 0.2);
  // Somebody comes this very minute and waters it, unless that is done.
  Rows visited{"21T07:00 wilts", "22T07:00 wilts", "23T07:00 wilts", "24T07:00 wilts"};
  CHECK(rows_of("daily 07:00", at_visit) == visited);
  visited.front() = "21T07:00 nothing wilts";
  CHECK(rows_of("daily 07:00", at_visit, {{at_visit, PotEventKind::watered, {}}}) == visited);
  // Nobody comes on the day itself.
  CHECK(rows_of("every 3 days 07:00", before) == Rows{"21T06:00 wilted", "23T07:00 wilts"});
}

TEST_CASE("plan: a pot so dry that it sheds water is said to in the row that waters it") {
  const Instant now{make_date(2022, 7, 21), 9.0};  // a Thursday; watered a week ago
  const auto rows = planned("thu 18:00", now, {}, "peat 100");
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].visit == now);
  CHECK(rows[0].sheds);
  CHECK(rows[1].give_l.p50 > 0.0);
  CHECK_FALSE(rows[1].sheds);
}

TEST_CASE("plan: with drawn inputs a pot is watered now in all members or in none") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place place(record, catalogue().parameters);
  const auto garden =
      plantings("it,tomato,nursery 37 l,potting mix,1,2022-05-15,patio,every 2 days 07:00\n");
  int few_wilted = 0;
  int most_wilted = 0;
  for (int day = 0; day < 10; ++day) {
    for (const double hour : {6.0, 9.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0}) {
      const Instant now{make_date(2022, 7, 20) + days(day), hour};
      CAPTURE(to_string(now));
      ForecastOptions options = week_from(now, record.last(), now.date - days(1));
      options.horizon_days = 3;
      options.members = 40;
      options.uncertain = true;
      const PlanResult result = plan(garden, place, catalogue(), options);
      const PlantingForecast& pot = result.forecast.pots.front();
      const ComingVisit& at_now = pot.visits.front();
      const bool listed_wilted = at_now.wilts && *at_now.wilts <= now;
      if (listed_wilted) {
        ++most_wilted;
        CHECK(result.waterings.front().visit == now);
        CHECK(at_now.poured_l.p10 > 0.0);
        // The same water as is said to be given.
        CHECK(near(at_now.poured_l.p50, pot.give_now_l, 1e-12));
      } else {
        few_wilted += pot.dry.p10 && *pot.dry.p10 <= now ? 1 : 0;
        CHECK(at_now.poured_l.p90 == 0.0);
      }
    }
  }
  CHECK(few_wilted > 2);
  CHECK(most_wilted > 2);
}

TEST_CASE("plan: pots to look at again the same day come first, then those that do not last") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place place(record, catalogue().parameters);
  const auto garden = plantings(
      "large,tomato,nursery 50 l,potting mix,1,2022-05-15,patio,every 4 days 07:00\n"
      "lasting,thyme,clay 16 l,potting mix,1,2022-05-15,deep shade,every 4 days 07:00\n"
      "tiny,basil,clay 3 l,potting mix,3,2022-05-15,hot paving,every 4 days 07:00\n");
  const Instant now{make_date(2022, 7, 1), 6.0};
  const PlanResult result =
      plan(garden, place, catalogue(), week_from(now, record.last(), now.date - days(1)));
  bool mixed_visit = false;  // with pots that last and pots that do not
  for (std::size_t i = 1; i < result.waterings.size(); ++i) {
    const PlannedWatering& before = result.waterings[i - 1];
    const PlannedWatering& one = result.waterings[i];
    CHECK(before.visit <= one.visit);
    if (before.visit != one.visit) continue;
    CHECK(before.again_same_day() >= one.again_same_day());
    if (before.again_same_day() == one.again_same_day()) {
      CHECK(before.lasts_to_next() <= one.lasts_to_next());
    }
    mixed_visit = mixed_visit || before.lasts_to_next() != one.lasts_to_next();
  }
  CHECK(mixed_visit);
  CHECK(std::any_of(result.waterings.begin(), result.waterings.end(),
                    [](const PlannedWatering& one) { return one.again_same_day(); }));
  CHECK(std::any_of(result.waterings.begin(), result.waterings.end(),
                    [](const PlannedWatering& one) { return one.lasts_to_next(); }));
}

namespace {

WeatherDay dry_day(double tmin_c, double tmax_c) {
  WeatherDay day;
  day.tmin_c = tmin_c;
  day.tmax_c = tmax_c;
  day.rain_mm = 0.0;
  return day;
}

WeatherRecord made_up(Date first, const std::vector<WeatherDay>& observed) {
  Site site;
  site.latitude_deg = 46.0;
  return {"made up", site, first, observed, true};
}

}  // namespace

TEST_CASE("plan: frost and heat of the known days to come, by what each crop and pot bears") {
  std::vector<WeatherDay> all(40, dry_day(12.0, 22.0));
  all[32].tmin_c = -1.0;
  all[34].tmax_c = 36.0;
  const Date first = make_date(2022, 6, 1);
  const WeatherRecord record = made_up(first, all);
  const Place place(record, catalogue().parameters);
  const auto garden = plantings(
      "tomato,tomato,nursery 37 l,potting mix,1,2022-06-01,open ground,daily 07:00\n"
      "kale,kale,clay 16 l,potting mix,1,2022-06-01,open ground,daily 07:00\n"
      "kale and basil,kale 1 + basil 2,glazed 18 l,potting mix,,2022-06-01,open ground,daily "
      "07:00\n");
  const PlanResult result =
      plan(garden, place, catalogue(),
           week_from({first + days(30), 0.0}, record.last(), first + days(29)));
  REQUIRE(result.warnings.size() == 2);
  CHECK(result.warnings[0].frost);
  CHECK(result.warnings[0].date == first + days(32));
  // Basil beside kale is hurt as tomato is.
  const auto hurt = result.warnings[0].plantings;
  CHECK(std::set(hurt.begin(), hurt.end()) == std::set<const Planting*>{&garden[0], &garden[2]});
  CHECK(result.past_nights.years == 0);
  CHECK_FALSE(result.warnings[1].frost);
  CHECK(result.warnings[1].temperature_c == 36.0);
  CHECK(result.warnings[1].plantings == std::vector<const Planting*>{&garden[0]});  // a dark pot
}

TEST_CASE("plan: without a forecast, in how many past years a night was too cold") {
  const Date first = make_date(2018, 1, 1);
  const Date last = make_date(2022, 5, 9);
  std::vector<WeatherDay> all(static_cast<std::size_t>((last - first).count()) + 1,
                              dry_day(8.0, 20.0));
  const auto night = [&](int year, unsigned day) -> double& {
    return all[static_cast<std::size_t>((make_date(year, 5, day) - first).count())].tmin_c;
  };
  night(2019, 12) = -1.0;  // within the week from 10 May
  night(2020, 25) = -1.0;  // after it
  night(2021, 17) = -1.0;  // its last day
  const WeatherRecord record = made_up(first, all);
  const Place place(record, catalogue().parameters);
  const auto garden = plantings(
      "kale,kale,clay 16 l,potting mix,1,2022-04-10,open ground,daily 07:00\n"
      "tomato,tomato,nursery 37 l,potting mix,1,2022-05-01,open ground,daily 07:00\n");
  const Date now = last + days(1);
  const PlanResult result = plan(garden, place, catalogue(), week_from({now, 6.0}, last, last));
  CHECK(result.warnings.empty());
  CHECK(result.past_nights.years == 4);
  CHECK(result.past_nights.with_frost == 2);
  CHECK(result.past_nights.plantings == std::vector<const Planting*>{&garden[1]});
}

TEST_CASE("plan: what a seed cell takes, or a routine gives by amount, is worth pouring") {
  const Place place(sample("tolvenau.csv"), catalogue().parameters);
  const auto garden = plantings(
      "cell,basil,cell 0.05 l,potting mix,1,06-25,patio,daily 07:00\n"
      "drops,basil,clay 3 l,potting mix,1,05-25,patio,daily 07:00 give 0.01 l\n"
      "big,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00 19:00\n");
  const Instant now{make_date(2024, 7, 15), 6.0};
  const PlanResult result =
      plan(garden, place, catalogue(), week_from(now, make_date(2024, 12, 31), now.date - days(1)));
  std::map<std::string, int> poured;
  for (const PlannedWatering& one : result.waterings) {
    CAPTURE(one.planting->name);
    CHECK(one.least_l > 0.0);
    CHECK((one.to_pour_l() == one.give_l.p50 || one.to_pour_l() == 0.0));
    CHECK((one.to_pour_l() == 0.0) == (one.give_l.p50 < one.least_l));
    poured[one.planting->name] += one.to_pour_l() > 0.0 ? 1 : 0;
    // A hundredth of what 37 l of mix hold for the plant, about 10 l, is more than 20 mL.
    if (one.planting->name == "big") CHECK(one.least_l > 0.05);
    if (one.planting->name == "cell") CHECK(one.least_l < 0.005);
    // Of its routine; what is given at once, until it drains, has no amount.
    if (one.planting->name == "drops" && !one.at_once) CHECK(one.least_l <= 0.001);
  }
  CHECK(poured["cell"] >= 5);
  CHECK(poured["drops"] >= 5);
  CHECK(poured["big"] >= 5);
}

}  // namespace wiltline::test
