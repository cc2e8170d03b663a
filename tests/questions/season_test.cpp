#include "wiltline/questions/season.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <optional>
#include <set>
#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random_garden.hpp"
#include "wiltline/account/planting_run.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

SeasonResult run(const Planting& planting, const WeatherRecord& record,
                 SeasonOptions options = {}) {
  const Place weather(record, catalogue().parameters);
  const auto dates = planting_dates(planting, record);
  REQUIRE_FALSE(dates.empty());
  return run_season(planting, dates.front(), weather, options);
}

}  // namespace

TEST_CASE("season: every ledger line closes, 10,000 random plantings with every feature") {
  const WeatherRecord records[] = {sample("tolvenau.csv"), sample("port-okaree.csv"),
                                   sample("zarquil-flats.csv"), sample("skerrowick.csv")};
  const Place weathers[] = {{records[0], catalogue().parameters},
                            {records[1], catalogue().parameters},
                            {records[2], catalogue().parameters},
                            {records[3], catalogue().parameters}};
  constexpr int plantings_a_garden = 100;
  constexpr int gardens = 100;
  Random random(41);
  long lines = 0;
  for (int g = 0; g < gardens; ++g) {
    const std::vector<Planting> garden =
        random_garden(random, catalogue(), plantings_a_garden, "2022-");
    for (const Planting& planting : garden) {
      const Place& weather = weathers[random.below(4)];
      const Date planted = std::get<Date>(planting.planted);
      const SeasonResult result = run_season(planting, planted, weather, {.ledger = true});
      const PotParameters pot = build_pot(planting, catalogue().parameters);
      double before = pot.refilled_l;  // planted at refilled capacity
      for (const LedgerLine& line : result.ledger) {
        const double in = line.rain_l + line.watered_l;
        const double out = line.transpired_l + line.evaporated_l + line.drained_l;
        // 1e-12 of throughput, and the last bits of the store itself, which the sum passes through.
        const double last_bits =
            16.0 * std::numeric_limits<double>::epsilon() * (pot.refilled_l + pot.surplus_store_l);
        const bool closes = static_cast<bool>(
            near(in - out, line.store_l - before, 1e-12 * (in + out) + last_bits));
        const bool within = line.ks <= 1.0 + 1e-14 && line.ks >= 0.0 && line.drained_l >= 0.0 &&
                            line.evaporated_l >= 0.0;
        if (!closes || !within) {
          CAPTURE(g);
          CAPTURE(planting.name);
          CAPTURE(to_string(line.date));
          REQUIRE(near(in - out, line.store_l - before, 1e-12 * (in + out) + last_bits));
          REQUIRE(within);
        }
        before = line.store_l;
        ++lines;
      }
    }
  }
  CHECK(lines > 1000000);
}

TEST_CASE("season: the summary is the ledger added up") {
  const Planting planting =
      one_row("tomato", "nursery 37 l,potting mix,1,2022-05-15,patio,every 2 days 07:00");
  const SeasonResult result = run(planting, sample("tolvenau.csv"), {.ledger = true});
  double watered = 0.0;
  double used = 0.0;
  double rain = 0.0;
  double drained = 0.0;
  int stressed = 0;
  int dry = 0;
  for (const LedgerLine& line : result.ledger) {
    watered += line.watered_l;
    used += line.transpired_l + line.evaporated_l;
    rain += line.rain_l;
    drained += line.drained_l;
    stressed += line.stressed_at_h ? 1 : 0;
    dry += line.dry_at_h ? 1 : 0;
  }
  CHECK(near(result.summary.watered_l, watered, 1e-9));
  CHECK(near(result.summary.used_l, used, 1e-9));
  CHECK(near(result.summary.rain_l, rain, 1e-9));
  CHECK(near(result.summary.drained_l, drained, 1e-9));
  // The first weeks are counted apart.
  const SettlingIn& apart = result.summary.settling_in;
  CHECK(result.summary.stressed_days + apart.stressed_days == stressed);
  CHECK(result.summary.dry_days + apart.dry_days == dry);
  CHECK(result.summary.days == static_cast<int>(result.ledger.size()));
}

TEST_CASE("season: watered as needed, no pot is ever stressed") {
  for (const char* crop : {"tomato", "pepper", "leaf lettuce", "basil", "summer squash"}) {
    const Planting planting =
        one_row(crop, "nursery 21 l,potting mix,1,2022-05-15,patio,as-needed");
    const SeasonResult result = run(planting, sample("tolvenau.csv"));
    CAPTURE(crop);
    CHECK(result.summary.stressed_days == 0);
    CHECK(result.summary.waterings >= 3);
  }
}

TEST_CASE("season: a week away dries what daily watering keeps moist") {
  const std::string rest = "nursery 21 l,potting mix,1,2022-05-15,patio,daily 07:00";
  const SeasonResult home = run(one_row("tomato", rest), sample("tolvenau.csv"));
  const SeasonResult away =
      run(one_row("tomato", rest + " away 2022-07-20/2022-07-28"), sample("tolvenau.csv"));
  CHECK(home.summary.dry_days == 0);
  CHECK(away.summary.dry_days >= 3);
  REQUIRE(away.summary.first_dry.has_value());
  CHECK(*away.summary.first_dry > make_date(2022, 7, 20));
  CHECK(*away.summary.first_dry <= make_date(2022, 7, 28));
  // Visits on both end days take place: 7 days without one between them.
  CHECK(home.summary.waterings - away.summary.waterings == 7);
}

TEST_CASE("season: planted on a day of every year starts in every year of the record") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Planting planting = one_row("tomato", "nursery 37 l,potting mix,1,05-15,patio,daily 07:00");
  const auto dates = planting_dates(planting, record);
  REQUIRE(dates.size() == 4);
  CHECK(dates.front() == make_date(2021, 5, 15));
  CHECK(dates.back() == make_date(2024, 5, 15));
  const Planting leap = one_row("tomato", "nursery 37 l,potting mix,1,02-29,patio,daily 07:00");
  REQUIRE(planting_dates(leap, record).size() == 1);
  CHECK(planting_dates(leap, record).front() == make_date(2024, 2, 29));
}

TEST_CASE("season: ends at its end day, at the crop's end, or with the record, and says which") {
  const WeatherRecord record = sample("tolvenau.csv");
  const SeasonResult by_crop =
      run(one_row("radish", "window box 10 l,potting mix,8,2022-04-10,patio,daily 07:00"), record);
  CHECK((by_crop.last - by_crop.first).count() + 1 ==
        std::lround(catalogue().crops.find("radish")->season_days()));
  CHECK(by_crop.summary.ended_by == EndedBy::mature);

  const SeasonResult by_row =
      run(one_row("tomato", "nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00", ",ends",
                  ",2022-06-30"),
          record);
  CHECK(by_row.last == make_date(2022, 6, 30));
  CHECK(by_row.summary.ended_by == EndedBy::by_garden_row);
  CHECK_FALSE(by_row.summary.reached_mid_season);

  const SeasonResult cut =
      run(one_row("spinach", "nursery 11 l,potting mix,1,2024-12-10,patio,daily 07:00"), record);
  CHECK(cut.last == record.last());
  CHECK(cut.summary.ended_by == EndedBy::record);
}

TEST_CASE("season: a crop picked over a season goes on until the autumn frost, by either clock") {
  const WeatherRecord record = sample("tolvenau.csv");
  for (const GrowthClock growth : {GrowthClock::stage_days, GrowthClock::degree_days}) {
    for (const char* crop : {"summer squash", "tomato", "kale", "basil", "strawberry"}) {
      CAPTURE(crop);
      const Planting planting =
          one_row(crop, "nursery 37 l,potting mix,1,2021-05-20,patio,daily 07:00");
      const SeasonResult season = run(planting, record, {.growth = growth, .ledger = true});
      CHECK(season.summary.ended_by == EndedBy::frost);
      CHECK(season.last > make_date(2021, 9, 1));
      // The frost is the season's last day, and there is none between midsummer and it.
      int frosts = 0;
      for (const LedgerLine& line : season.ledger) {
        frosts += line.date >= make_date(2021, 6, 21) && line.care.frost ? 1 : 0;
      }
      CHECK(frosts == 1);
      CHECK(season.ledger.back().care.frost);
    }
  }
}

TEST_CASE("season: picked leaf by leaf, a crop draws visibly less") {
  const WeatherRecord record = sample("tolvenau.csv");
  for (const char* crop : {"kale", "basil", "chard", "leaf lettuce"}) {
    CAPTURE(crop);
    const std::string rest = "nursery 11 l,potting mix,1,2022-05-15,patio,daily 07:00";
    const double whole_l = run(one_row(crop, rest), record).summary.peak_use_l_day;
    const double said_l =
        run(one_row(crop, rest, ",harvest", ",whole"), record).summary.peak_use_l_day;
    const double leaf_l =
        run(one_row(crop, rest, ",harvest", ",leaf"), record).summary.peak_use_l_day;
    CHECK(said_l == whole_l);
    CHECK(leaf_l < 0.9 * whole_l);
  }
}

TEST_CASE("season: an end on 29 February is the end of February in a common year") {
  std::vector<WeatherDay> days(1500);
  for (WeatherDay& day : days) {
    day.tmin_c = 8.0;
    day.tmax_c = 17.0;
    day.rain_mm = 0.0;
  }
  Site site;
  site.latitude_deg = 40.0;
  const WeatherRecord record("made up", site, make_date(2022, 1, 1), std::move(days), true);
  const Place weather(record, catalogue().parameters);
  const auto last_day = [&](const std::string& planted) {
    const Planting planting = one_row(
        "kale", "nursery 18 l,coir mix,1," + planted + ",patio,daily 07:00", ",ends", ",02-29");
    return run_season(planting, std::get<Date>(planting.planted), weather, {}).last;
  };
  CHECK(last_day("2022-01-10") == make_date(2022, 2, 28));
  CHECK(last_day("2022-11-01") == make_date(2023, 2, 28));
  CHECK(last_day("2023-02-28") == make_date(2024, 2, 29));
  CHECK(last_day("2023-11-01") == make_date(2024, 2, 29));
  CHECK(last_day("2024-01-10") == make_date(2024, 2, 29));
  CHECK(last_day("2024-02-29") == make_date(2025, 2, 28));
}

TEST_CASE("season: degree-days hold a crop back in a cool place") {
  const std::string rest = "nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00";
  const Planting planting = one_row("tomato", rest);
  const SeasonResult cool =
      run(planting, sample("skerrowick.csv"), {.growth = GrowthClock::degree_days});
  const SeasonResult warm =
      run(planting, sample("tolvenau.csv"), {.growth = GrowthClock::degree_days});
  CHECK(warm.summary.reached_mid_season);
  CHECK(cool.summary.peak_use_l_day < warm.summary.peak_use_l_day);
}

TEST_CASE("season: US columns give the same season as metric ones") {
  const std::string header = "name,crop,pot,mix,plants,planted,spot,routine,";
  const std::string row = "it,tomato,nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00,";
  const Planting metric =
      read_garden({"m.csv", header + "volume_l,saucer_l\n" + row + "40,1.5\n"}, catalogue())
          .front();
  const Planting us = read_garden({"u.csv", header + "volume_gal,saucer_gal\n" + row +
                                                "10.566882094325938,0.3962580785372227\n"},
                                  catalogue())
                          .front();
  const WeatherRecord record = sample("tolvenau.csv");
  const SeasonSummary a = run(metric, record).summary;
  const SeasonSummary b = run(us, record).summary;
  CHECK(near(a.watered_l, b.watered_l, 1e-9));
  CHECK(near(a.mix_l, 40.0, 1e-9));
}

TEST_CASE(
    "season: the real record's summers, May to September ET0 as listed for the same choices") {
  // Sums for the record's four summers with dew point at the lowest temperature, radiation from the
  // temperature range (0.16, at most clear sky), wind from 10 m (own results, cross-check; nothing
  // measured stands behind them). Hargreaves, eq. 52, in the second column.
  struct Summer {
    const char* file;
    int year;
    double penman_mm;
    double hargreaves_mm;
    double rain_mm;
    int longest_dry_run;
  };
  static const Summer summers[] = {{"seattle.csv", 2012, 516.0, 562.9, 154.5, 48},
                                   {"seattle.csv", 2013, 545.2, 599.5, 284.8, 35},
                                   {"seattle.csv", 2014, 569.2, 615.6, 221.1, 23},
                                   {"seattle.csv", 2015, 593.9, 639.3, 127.4, 25},
                                   {"new-york.csv", 2012, 577.6, 607.4, 599.2, 9},
                                   {"new-york.csv", 2013, 577.6, 603.9, 480.5, 8},
                                   {"new-york.csv", 2014, 579.5, 610.4, 424.6, 8},
                                   {"new-york.csv", 2015, 606.4, 634.6, 355.0, 14}};
  for (const Summer& summer : summers) {
    const WeatherRecord record =
        real(summer.file).between(make_date(summer.year, 5, 1), make_date(summer.year, 9, 30));
    const Place weather(record, catalogue().parameters);
    double penman = 0.0;
    double hargreaves = 0.0;
    double rain = 0.0;
    int run_length = 0;
    int longest = 0;
    for (std::size_t i = 0; i < record.size(); ++i) {
      const WeatherDay& day = record.day(i);
      penman += weather.reference()[i].et0.total_mm();
      hargreaves += hargreaves_et0_mm(day.tmax_c, day.tmin_c, weather.reference()[i].ra_mj_m2);
      rain += *day.rain_mm;
      run_length = *day.rain_mm < 0.2 ? run_length + 1 : 0;
      longest = std::max(longest, run_length);
      CHECK(weather.reference()[i].estimated() == "humidity+radiation");
    }
    CAPTURE(summer.file);
    CAPTURE(summer.year);
    CHECK(near(penman, summer.penman_mm, 0.05));
    CHECK(near(hargreaves, summer.hargreaves_mm, 0.05));
    CHECK(near(rain, summer.rain_mm, 0.05));
    CHECK(longest == summer.longest_dry_run);
  }
}

TEST_CASE("season: a helper's visits are those of a routine written for those days") {
  const WeatherRecord record = sample("tolvenau.csv");
  const auto summary = [&](const std::string& routine) {
    return run(one_row("tomato", "nursery 21 l,potting mix,1,2022-05-15,patio," + routine), record)
        .summary;
  };
  // Over the whole life; the interval falls on the same days as counted from planting.
  CHECK(summary("as-needed helper 2022-05-13/2022-12-31 every 2 days 18:00 give 1 l") ==
        summary("every 2 days 18:00 give 1 l"));
  CHECK(summary("daily 07:00 helper 2022-05-14/2022-12-31 as-needed") == summary("as-needed"));
  // In the middle: the gardener's own routine, and a helper who comes on no day.
  const std::string july = "daily 07:00 helper 07-08/07-20 ";
  CHECK(summary(july + "daily 07:00") == summary("daily 07:00"));
  CHECK(summary(july + "every 30 days 07:00") == summary("daily 07:00 away 07-08/07-20"));
  CHECK(summary(july + "daily 19:00").watered_l != summary("daily 07:00").watered_l);
  // A gardener who checks knows that the helper comes: only every 30 days is too late for a pot
  // that would last a day.
  CHECK(summary("check daily 07:00 helper 07-08/07-20 daily 06:00") !=
        summary("check daily 07:00 helper 07-08/07-20 every 10 days 06:00"));
}

TEST_CASE("season: as-needed water comes only while somebody is there, and on the first day back") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  const Planting planting = one_row(
      "tomato", "nursery 11 l,potting mix,1,2022-05-15,patio,as-needed away 2022-07-08/2022-07-15");
  const SeasonResult season = run_season(planting, make_date(2022, 5, 15), place, {.ledger = true});
  double before_l = 0.0;
  for (const LedgerLine& line : season.ledger) {
    CAPTURE(to_string(line.date));
    const bool away = line.date > make_date(2022, 7, 8) && line.date < make_date(2022, 7, 15);
    if (away) CHECK(line.watered_l == 0.0);
    if (line.date < make_date(2022, 7, 9) && line.date > make_date(2022, 7, 1)) {
      before_l += line.watered_l;
    }
    if (line.date == make_date(2022, 7, 15)) CHECK(line.watered_l > 0.0);
  }
  CHECK(before_l > 0.0);
  CHECK(season.summary.wilting_days > 0);
}

namespace {

/// Days with a look that was left and short of water before the next, counted through the days of
/// an account of its own.
int left_short_by_hand(const Planting& planting, Date planted, const Place& place) {
  const std::vector<SpotDay>& spot = place.at(planting.spot);
  PlantingRun run(planting, planted, place.model(), GrowthClock::stage_days);
  std::vector<Visit> visits;
  std::set<Date> days;
  std::optional<Date> left_on;
  while (run.date() <= place.record().last() && !run.finished()) {
    const Date date = run.date();
    const SpotDay& today = spot[place.record().index_of(date)];
    const DayForcing forcing = run.begin_day(today);
    const DayPlan plan = run.routine(today.curve, visits);
    DayInProgress day(run.pot(), run.pot_state(), forcing);
    day.take_rain(plan);
    const auto note_short = [&] {
      if (left_on && day.so_far().stressed_at) days.insert(*left_on);
    };
    for (const Visit& visit : visits) {
      day.dry_until(visit.at);
      note_short();
      const int before = day.so_far().waterings;
      day.visit(plan, visit);
      day.watch_from_here();
      left_on.reset();
      const bool settled = day.state().rooted_share >= 0.5;
      if (settled && day.so_far().waterings == before) left_on = date;
    }
    const DayResult result = day.finish();
    if (left_on && result.stressed_at) days.insert(*left_on);
    run.end_day(result, today);
  }
  return static_cast<int>(days.size());
}

}  // namespace

TEST_CASE("season: days left short are those from the look to the next visit") {
  const Place place(sample("zarquil-flats.csv"), catalogue().parameters);
  const Date planted = make_date(2022, 5, 15);
  int all = 0;
  for (const char* const routine :
       {"check top daily 07:00", "check top daily 07:00 18:00", "check top daily 19:00",
        "check every 2 days 12:00", "check mon wed fri 06:30", "check daily 07:00 give 1 l"}) {
    CAPTURE(routine);
    for (const char* const mulch : {"", "yes"}) {
      const Planting planting = one_row(
          "bush bean", std::string("nursery 10 l,potting mix,4,2022-05-15,hot paving,") + routine,
          ",mulch", std::string(",") + mulch);
      const SeasonResult season = run_season(planting, planted, place);
      const int days = days_left_short(season, place, GrowthClock::stage_days);
      CHECK(days == left_short_by_hand(planting, planted, place));
      all += days;
    }
  }
  CHECK(all > 50);
  // Nobody looks first where every visit waters.
  const Planting always =
      one_row("bush bean", "nursery 10 l,potting mix,4,2022-05-15,hot paving,every 3 days 07:00");
  const SeasonResult season = run_season(always, planted, place);
  CHECK(season.summary.stressed_days > 0);
  CHECK(days_left_short(season, place, GrowthClock::stage_days) == 0);
}

}  // namespace wiltline::test
