#include "wiltline/questions/absence.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <string>

#include "support/fixtures.hpp"
#include "support/random.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

std::vector<Pot> all_pots() {
  std::vector<Pot> pots;
  for (const auto& entry : catalogue().pots.entries()) pots.push_back(entry.value);
  return pots;
}

/// A stretch of a day as a day of its own: so much of the demand, and what happens at 00:00 only
/// if it begins there.
DayForcing part_of(const DayForcing& day, double share, bool from_midnight) {
  DayForcing part = day;
  part.full_rates.transpiration_l *= share;
  part.full_rates.wall_l *= share;
  part.full_rates.top_l *= share;
  part.full_rates.mulch_l *= share;
  if (!from_midnight) {
    part.rain_l = 0.0;
    part.roots_grow = false;
    part.roots_filled = false;
  }
  return part;
}

bool crossed(const DayResult& day, Line line) {
  switch (line) {
    case Line::stressed:
      return day.stressed_at.has_value();
    case Line::wilting:
      return day.wilting_at.has_value();
    default:
      return day.dry_at.has_value();
  }
}

/// What the question is answered against: each window run for itself, from the planting day on.
struct Counted {
  int windows = 0;
  std::vector<Date> failed;
};

Counted brute_force(const Planting& planting, const Place& weather, const AbsenceOptions& options) {
  const WeatherRecord& record = weather.record();
  const std::vector<SpotDay>& spot = weather.at(planting.spot);
  const PotParameters pot = build_pot(planting, model());
  const PlantingSetting setting = planting_setting(planting, pot, model());
  Counted counted;
  for (const Date planted : planting_dates(planting, record)) {
    const std::size_t first = record.index_of(planted);
    std::vector<DayForcing> days;
    Development development(planting.crop, GrowthClock::stage_days,
                            catalogue().parameters.leaf_curve(), setting.crop.first_leaf_share);
    const bool matures = planting.crop.life == LifeSpan::matures;
    const auto life =
        static_cast<std::size_t>(matures ? std::lround(planting.crop.season_days()) : 365);
    bool frozen = false;
    while (!frozen && days.size() < life && first + days.size() < record.size()) {
      const std::size_t i = days.size();
      CropDay crop = crop_day(setting.crop, spot[first + i], development, model());
      if (!options.rain_counts) crop.rain_mm = 0.0;
      days.push_back(planting_day(setting, crop, static_cast<double>(i), model()).day);
      development.next_day(spot[first + i].mean_temperature_c);
      // None of the samples used here has a frost between spring and midsummer.
      const bool after_midsummer = record.date(first + i) >= make_date(year_of(planted), 6, 21);
      frozen = !matures && after_midsummer &&
               record.day(first + i).tmin_c < lowest_borne_c(planting.crop, frost_limits(model()));
    }
    const double leave_day_h = options.leave_h;
    for (std::size_t start = 0; start < days.size(); ++start) {
      const unsigned month = month_of(planted + std::chrono::days(static_cast<int>(start)));
      const bool asked = options.first_month <= options.last_month
                             ? month >= options.first_month && month <= options.last_month
                             : month >= options.first_month || month <= options.last_month;
      if (!asked) continue;
      // Hours left of the absence, day by day.
      double left_h = options.away_h - (24.0 - leave_day_h);
      std::size_t end = start;
      double end_h = leave_day_h + options.away_h;
      while (left_h > 0.0) {
        ++end;
        end_h = left_h;
        left_h -= 24.0;
      }
      if (end >= days.size()) continue;
      if (rooted_share(pot, static_cast<double>(start)) < 0.5) continue;
      ++counted.windows;

      PotState state{.rooted_share = pot.initial_rooted_share};
      const auto pour = [&] { state = water(pot, state, litres_until_drained(pot, state)).state; };
      for (std::size_t i = 0; i <= start; ++i) {
        const double leave = spot[first + i].curve.share_by(options.leave_h);
        state = run_day(pot, state, part_of(days[i], leave, true), {}).state;
        pour();
        if (i < start) state = run_day(pot, state, part_of(days[i], 1.0 - leave, false), {}).state;
      }
      bool failed = false;
      for (std::size_t i = start; i <= end; ++i) {
        const DemandCurve& curve = spot[first + i].curve;
        const double from = i == start ? curve.share_by(options.leave_h) : 0.0;
        const double to = i == end ? curve.share_by(end_h) : 1.0;
        const DayResult day = run_day(pot, state, part_of(days[i], to - from, i > start), {});
        failed = failed || crossed(day, options.line);
        state = day.state;
      }
      if (failed) counted.failed.push_back(planted + std::chrono::days(static_cast<int>(start)));
    }
  }
  return counted;
}

AbsencePot ask(const Planting& planting, const Place& weather, const AbsenceOptions& options) {
  AbsenceResult result = absence(planting, weather, options);
  REQUIRE(result.pots.size() == 1);
  return result.pots.front();
}

}  // namespace

TEST_CASE("absence: every window against a day-by-day run of its own") {
  const WeatherRecord records[] = {sample("tolvenau.csv"), sample("port-okaree.csv"),
                                   real("seattle.csv")};
  const Place weathers[] = {{records[0], model()}, {records[1], model()}, {records[2], model()}};
  static constexpr Line lines[] = {Line::stressed, Line::wilting, Line::dry};
  static constexpr double leave_hours[] = {0.0, 7.0, 12.5, 18.0, 23.75};
  static constexpr double away_hours[] = {3.0,  6.0,  11.25, 24.0, 30.0,
                                          48.0, 50.0, 60.0,  84.0, 240.0};
  Random random(71);
  const auto pick = [&](const auto& table) {
    return table.names()[random.below(table.names().size())];
  };
  int mixed = 0;
  int asked = 0;
  while (asked < 150) {
    const std::size_t place = random.below(3);
    const bool south = place == 1;
    const std::string mulch = random.chance(0.3) ? "yes" : "";
    const std::string saucer = random.chance(0.3) ? "0.4" : "";
    const std::string crop = pick(catalogue().crops);
    const std::string pot = pick(catalogue().pots);
    const bool room_for_three =
        3.0 * catalogue().crops.find(crop)->root_ball_l <= catalogue().pots.find(pot)->mix_l();
    const Planting planting =
        one_row(crop,
                pot + "," + pick(catalogue().mixes) + "," +
                    std::to_string(1 + random.below(room_for_three ? 3 : 1)) +
                    (south ? ",11-20," : ",05-20,") + pick(catalogue().spots) + ",as-needed",
                ",mulch,saucer_l", "," + mulch + "," + saucer);
    AbsenceOptions options;
    options.leave_h = leave_hours[random.below(std::size(leave_hours))];
    options.away_h = away_hours[random.below(std::size(away_hours))];
    options.line = lines[random.below(std::size(lines))];
    options.rain_counts = random.chance(0.7);
    options.first_month = south ? 12 : 6;
    options.last_month = south ? 1 : 7;
    const Place& weather = weathers[place];
    const Counted expected = brute_force(planting, weather, options);
    const AbsencePot actual = ask(planting, weather, options);
    INFO(planting.crop.name << " in " << planting.pot.name << " of " << planting.mix.name << ", "
                            << planting.spot.name << ", " << options.leave_h << " h + "
                            << options.away_h << " h, " << weather.record().name());
    CHECK(actual.windows == expected.windows);
    CHECK(actual.failed == expected.failed);
    CHECK(actual.passed == actual.windows - static_cast<int>(actual.failed.size()));
    mixed += actual.passed > 0 && !actual.failed.empty() ? 1 : 0;
    ++asked;
  }
  CHECK(mixed > 30);  // both outcomes were met, within one run
}

TEST_CASE("absence: the season with the same days away, on the real four-year record") {
  const WeatherRecord record = real("seattle.csv");
  REQUIRE(record.size() == 1461);
  const Place weather(record, model());
  const Planting planting = one_row("tomato", "nursery 14 l,potting mix,1,05-15,patio,daily 18:00");
  const AbsenceOptions options{.away_h = 48.0, .line = Line::dry};
  const AbsencePot actual = ask(planting, weather, options);
  CHECK(actual.windows == 4 * 92);
  const std::set<Date> failed(actual.failed.begin(), actual.failed.end());
  int compared = 0;
  int seen_failed = 0;
  for (const Date planted : planting_dates(planting, record)) {
    const SeasonResult at_home = run_season(planting, planted, weather, {.ledger = true});
    // Without absence it never goes dry, so that a dry day comes from being away.
    REQUIRE(at_home.summary.dry_days == 0);
    const Date first = make_date(year_of(planted), 6, 1);
    for (int i = 0; i < 92; i += 3) {
      const Date leave = first + std::chrono::days(i);
      Planting away = planting;
      away.routine.days_away = {DaysAway{leave, leave + std::chrono::days(2), {}, {}}};
      const SeasonResult season = run_season(away, planted, weather, {});
      INFO(to_string(leave));
      CHECK(failed.contains(leave) == (season.summary.dry_days > 0));
      ++compared;
      seen_failed += season.summary.dry_days > 0 ? 1 : 0;
    }
  }
  CHECK(compared == 124);
  CHECK(seen_failed > 5);
  CHECK(seen_failed < 119);
}

TEST_CASE("absence: a pot that comes through N days comes through every shorter absence") {
  const WeatherRecord records[] = {real("new-york.csv"), sample("zarquil-flats.csv")};
  const Place weathers[] = {{records[0], model()}, {records[1], model()}};
  for (const Place& weather : weathers) {
    for (const char* pot : {"nursery 37 l", "fabric 36 l", "clay 16 l", "self watering tub 8 l"}) {
      const Planting planting =
          one_row("tomato dwarf", std::string(pot) + ",potting mix,1,05-15,patio,as-needed",
                  ",saucer_l", ",0.5");
      std::set<Date> before;
      int most = 0;
      for (const double away_h :
           {1.0, 5.0, 12.0, 23.0, 24.0, 25.0, 47.0, 48.0, 60.0, 96.0, 168.0}) {
        const AbsencePot now = ask(planting, weather, {.leave_h = 9.0, .away_h = away_h});
        const std::set<Date> failed(now.failed.begin(), now.failed.end());
        INFO(pot << ", " << away_h << " h");
        CHECK(std::includes(failed.begin(), failed.end(), before.begin(), before.end()));
        before = failed;
        most = std::max(most, static_cast<int>(failed.size()));
      }
      CHECK(most > 0);
    }
  }
}

TEST_CASE("absence: the smallest is the least mix that passes, not the first or the last") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, model());
  const Planting tomato = one_row("tomato", "nursery 1 l,potting mix,1,05-15,patio,as-needed");
  const std::vector<Planting> candidates = in_pots(tomato, all_pots(), model());
  CHECK(candidates.size() == all_pots().size());
  const AbsenceOptions options{.share = 0.4};
  const AbsenceResult result = absence(candidates, weather, options);
  REQUIRE(result.smallest);
  REQUIRE(result.pots.size() == candidates.size());
  CHECK(result.pots.front().summers == 4);
  bool bigger_but_worse = false;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const AbsencePot& pot = result.pots[i];
    // 92 days of four summers, less those of June on which its roots hold less than half the mix.
    CHECK(pot.windows <= 368);
    CHECK(pot.windows >= 368 - 4 * 10);
    CHECK(pot.planting == &candidates[i]);
    // A pot is answered for itself, whatever stands beside it.
    if (i % 20 == 0) CHECK(ask(candidates[i], weather, options).failed == pot.failed);
    if (pot.share() >= 0.4) CHECK(pot.mix_l >= result.pots[*result.smallest].mix_l);
    bigger_but_worse =
        bigger_but_worse || (pot.mix_l > result.pots[*result.smallest].mix_l && pot.share() < 0.4);
  }
  CHECK(result.pots[*result.smallest].share() >= 0.4);
  CHECK(bigger_but_worse);  // which is why all are run
}

TEST_CASE("absence: of equal pots the first counts; no share, no pot") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, model());
  const Planting kale = one_row("kale", "nursery 18 l,potting mix,1,05-15,patio,as-needed");
  const std::vector<Planting> twice{kale, kale, kale};
  const auto run = [&](const AbsenceOptions& options) { return absence(twice, weather, options); };
  CHECK(run({.share = 0.01}).smallest == 0);
  CHECK_THROWS_AS((void)run({.share = 0.0}), RequestError);
  CHECK_FALSE(run({.away_h = 24.0 * 40.0, .line = Line::stressed, .share = 1.0}).smallest);
  CHECK(absence(std::span<const Planting>(), weather, {}).pots.empty());
  // Two records: the windows of both.
  const Place other(sample("port-okaree.csv"), model());
  const Place both[] = {weather, other};
  const AbsenceResult pooled = absence(twice, both, {});
  const AbsenceResult single = run({});
  const AbsenceResult there = absence(twice, other, {});
  CHECK(pooled.pots[0].summers == single.pots[0].summers + there.pots[0].summers);
  CHECK(pooled.pots[0].windows == single.pots[0].windows + there.pots[0].windows);
  CHECK(pooled.pots[0].passed == single.pots[0].passed + there.pots[0].passed);
}

TEST_CASE("absence: only windows within the record and the planting's life are counted") {
  const WeatherRecord whole = sample("tolvenau.csv");
  const WeatherRecord record = whole.between(make_date(2022, 5, 1), make_date(2022, 6, 10));
  const Place weather(record, model());
  // A root ball of more than half the mix: settled in from the first day.
  const std::string at_once = ",2022-06-30,12";
  const Planting kale = one_row("kale", "nursery 18 l,potting mix,1,2022-05-15,patio,as-needed",
                                ",ends,root_ball_l", at_once);
  // 1 to 8 June: the last return is on the 10th.
  CHECK(ask(kale, weather, {.away_h = 48.0}).windows == 8);
  // Back at 00:00 on the 11th, which is the end of the 10th.
  CHECK(ask(kale, weather, {.leave_h = 18.0, .away_h = 54.0}).windows == 8);
  CHECK(ask(kale, weather, {.leave_h = 18.0, .away_h = 55.0}).windows == 7);
  CHECK(ask(kale, weather, {.away_h = 480.0}).windows == 0);
  CHECK(ask(kale, weather, {.first_month = 7, .last_month = 8}).windows == 0);
  // Planted on the 15th: no window before.
  CHECK(ask(kale, weather, {.first_month = 5, .last_month = 5}).windows == 17);
  const Planting ended = one_row("kale", "nursery 18 l,potting mix,1,2022-05-15,patio,as-needed",
                                 ",ends,root_ball_l", ",2022-06-04,12");
  CHECK(ask(ended, weather, {.away_h = 48.0}).windows == 2);
  // From a small ball roots hold half the mix in June only: no window before.
  const Planting young = one_row("kale", "nursery 18 l,potting mix,1,2022-05-15,patio,as-needed");
  CHECK(ask(young, weather, {.first_month = 5, .last_month = 5}).windows == 0);
}

TEST_CASE("absence: in a garden every planting has its own crop, spot and dates") {
  const std::vector<Planting> garden = read_garden(
      read_file(std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv"), catalogue());
  const Place place(sample("tolvenau.csv"), model());
  const AbsenceResult together = absence(garden, place, {});
  REQUIRE(together.pots.size() == garden.size());
  for (std::size_t i = 0; i < garden.size(); ++i) {
    const AbsencePot& pot = together.pots[i];
    INFO(garden[i].name);
    CHECK(pot.planting == &garden[i]);
    const AbsencePot alone = ask(garden[i], place, {});
    CHECK(pot.windows == alone.windows);
    CHECK(pot.failed == alone.failed);
    CHECK(pot.summers == alone.summers);
  }
}

TEST_CASE("absence: windows alone are the same, and say nothing of lives") {
  const std::vector<Planting> garden = read_garden(
      read_file(std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv"), catalogue());
  const Place place(sample("tolvenau.csv"), model());
  for (const AbsenceOptions& options :
       {AbsenceOptions{}, AbsenceOptions{.away_h = 10.0 * 24.0, .line = Line::dry},
        AbsenceOptions{.first_month = 10, .last_month = 3, .growth = GrowthClock::degree_days},
        AbsenceOptions{.away_h = 100.0, .start_day = MonthDay{7, 14}}}) {
    const AbsenceResult whole = absence(garden, place, options);
    const AbsenceResult windows =
        absence_windows(garden, Place(sample("tolvenau.csv"), model()), options);
    CHECK(windows.smallest == whole.smallest);
    REQUIRE(windows.pots.size() == whole.pots.size());
    for (std::size_t i = 0; i < whole.pots.size(); ++i) {
      CHECK(windows.pots[i].windows == whole.pots[i].windows);
      CHECK(windows.pots[i].passed == whole.pots[i].passed);
      CHECK(windows.pots[i].failed == whole.pots[i].failed);
      CHECK(windows.pots[i].summers == whole.pots[i].summers);
      CHECK(whole.pots[i].lives.size() == static_cast<std::size_t>(whole.pots[i].summers));
      CHECK(windows.pots[i].lives.empty());
    }
  }
}

TEST_CASE("absence: hours of return") {
  const auto when = [](double leave_h, double away_h) {
    const AbsenceOptions options{.leave_h = leave_h, .away_h = away_h};
    return std::pair{options.days_to_return(), options.return_h()};
  };
  CHECK(when(18.0, 48.0) == std::pair{2, 18.0});
  CHECK(when(18.0, 50.0) == std::pair{2, 20.0});
  CHECK(when(18.0, 6.0) == std::pair{0, 24.0});
  CHECK(when(18.0, 7.0) == std::pair{1, 1.0});
  CHECK(when(0.0, 24.0) == std::pair{0, 24.0});
  CHECK(when(7.0, 2.0) == std::pair{0, 9.0});
}

TEST_CASE("absence: rain helps, or does not count") {
  const WeatherRecord record = real("seattle.csv");
  const Place weather(record, model());
  const Planting kale = one_row("kale", "nursery 8 l,potting mix,1,05-01,open ground,as-needed");
  AbsenceOptions options{.away_h = 96.0};
  const AbsencePot rained = ask(kale, weather, options);
  options.rain_counts = false;
  const AbsencePot dry = ask(kale, weather, options);
  CHECK(dry.windows == rained.windows);
  CHECK(dry.passed < rained.passed);
}

TEST_CASE("absence: 19 of 20 windows are a share of 0.95, and no windows are no share") {
  const auto pot = [](int passed, int windows) {
    AbsencePot result;
    result.passed = passed;
    result.windows = windows;
    return result;
  };
  CHECK(passes(pot(19, 20), 0.95));
  CHECK_FALSE(passes(pot(18, 20), 0.95));
  CHECK(passes(pot(57, 60), 0.95));
  CHECK(passes(pot(20, 20), 1.0));
  CHECK_FALSE(passes(pot(19, 20), 1.0));
  CHECK_FALSE(passes(pot(0, 0), 0.0));
  CHECK_FALSE(pot(0, 0).share());
  CHECK(pot(3, 4).share() == 0.75);
}

TEST_CASE("absence: a helper's trips against seasons with that helper, window by window") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, model());
  Random random(5);
  int failed = 0;
  int windows = 0;
  for (const char* row :
       {"tomato,nursery 37 l", "basil,clay 3 l", "leaf lettuce,clay 4 l", "pepper,glazed 18 l"}) {
    const std::string text = row;
    const std::size_t comma = text.find(',');
    const auto planting = [&](const std::string& routine) {
      return one_row(text.substr(0, comma),
                     text.substr(comma + 1) + ",potting mix,1,2022-05-15,patio," + routine);
    };
    const Planting asked = planting("as-needed");
    for (int trial = 0; trial < 12; ++trial) {
      const int days = 3 + static_cast<int>(random.below(8));
      const int every = 1 + static_cast<int>(random.below(3));
      const bool some = random.below(2) == 0;
      const Date leaving = make_date(2022, 6, 20) + std::chrono::days(random.below(40));
      AbsenceOptions options;
      options.away_h = 24.0 * days;
      options.start_day = month_day_of(leaving);
      if (some) options.helper.give_l = 1.0;
      for (int day = every; day < days; day += every) options.helper.visits.push_back({day, 8.5});
      if (options.helper.visits.empty()) continue;
      const AbsencePot answer = ask(asked, place, options);
      const Planting played =
          planting("daily 18:00 helper " + to_string(leaving) + '/' +
                   to_string(leaving + std::chrono::days(days)) + " every " +
                   std::to_string(every) + " days 08:30" + (some ? " give 1 l" : ""));
      const SeasonResult season =
          run_season(played, make_date(2022, 5, 15), place, {.ledger = true});
      bool wilted = false;
      for (const LedgerLine& line : season.ledger) {
        if (line.date < leaving || line.date > leaving + std::chrono::days(days)) continue;
        if (!line.wilting_at_h) continue;
        // Of the day of leaving and of return the account has hours outside the trip.
        const bool before = line.date == leaving && *line.wilting_at_h < 18.0;
        const bool after =
            line.date == leaving + std::chrono::days(days) && *line.wilting_at_h >= 18.0;
        wilted = wilted || (!before && !after);
      }
      if (answer.windows == 0) continue;
      CAPTURE(row);
      CAPTURE(to_string(leaving));
      CAPTURE(played.routine.text);
      CHECK(answer.windows == 1);
      CHECK((answer.passed == 0) == wilted);
      ++windows;
      failed += wilted ? 1 : 0;
    }
  }
  CHECK(windows >= 30);
  CHECK(failed >= 5);
  CHECK(failed <= windows - 5);
}

TEST_CASE("absence: a trip on given days is played once in every year") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, model());
  AbsenceOptions options;
  options.away_h = 72.0;
  options.start_day = MonthDay{8, 3};
  options.line = Line::stressed;
  const Planting basil = one_row("basil", "clay 3 l,potting mix,1,05-15,patio,as-needed");
  const AbsencePot pot = ask(basil, place, options);
  CHECK(pot.windows == pot.summers);
  CHECK(pot.windows >= 3);
  CHECK_FALSE(pot.failed.empty());
  for (const Date date : pot.failed) CHECK(month_day_of(date) == MonthDay{8, 3});
  options.helper.visits = {{3, 8.0}};
  CHECK_THROWS_AS((void)absence(basil, place, options), RequestError);
  options.helper.visits = {{1, -0.5}};
  CHECK_THROWS_AS((void)absence(basil, place, options), RequestError);
}

TEST_CASE("absence: the warmest months are those of the record, south of the equator too") {
  // Invented: warmest half a month after midsummer, three years.
  const auto record = [](double latitude_deg) {
    const int warmest_day = latitude_deg < 0.0 ? 5 : 187;
    std::string text = fmt::format("# latitude_deg = {}", latitude_deg) +
                       "\n# elevation_m = 50\ndate,tmin_c,tmax_c\n";
    for (Date date = make_date(2021, 1, 1); date <= make_date(2023, 12, 31);
         date += std::chrono::days(1)) {
      const auto day = (date - make_date(2021, 1, 1)).count() + 1 - warmest_day;
      const double mean_c =
          14.0 + 9.0 * std::cos(2.0 * std::numbers::pi / 365.25 * static_cast<double>(day));
      text += fmt::format("{},{:.1f},{:.1f}\n", to_string(date), mean_c - 5.0, mean_c + 5.0);
    }
    return read_weather({"weather.csv", text});
  };
  const auto months = [](const WeatherRecord& weather) {
    const Place place(weather, catalogue().parameters);
    const Months warmest = warmest_months(place);
    return std::pair(warmest.first, warmest.last);
  };
  const WeatherRecord north = record(40.0);
  CHECK(months(north) == std::pair(6U, 8U));
  CHECK(months(record(-40.0)) == std::pair(12U, 2U));
  // Of a single month the three that begin with it.
  CHECK(months(north.between(make_date(2022, 5, 3), make_date(2022, 5, 20))) == std::pair(5U, 7U));
}

}  // namespace wiltline::test
