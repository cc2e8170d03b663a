#include "wiltline/questions/compare.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <tuple>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/account/dry_down.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/candidates.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

/// Thirsty and modest plantings, under routines that are and are not enough.
std::vector<Planting> some_plantings() {
  return plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "b,tomato,fabric 36 l,coir mix,1,05-15,hot paving,every 2 days 18:00\n"
      "c,basil,clay 3 l,potting mix,3,05-25,balcony,mon wed fri 18:30\n"
      "d,kale,nursery 21 l,potting mix,1,04-10,morning sun,as-needed\n"
      "e,pepper,nursery 5.5 l,bark mix,2,2022-05-20,patio,check daily 07:00\n"
      "f,spinach,deep window box 20 l,potting mix,5,04-10,patio,every 7 days 07:00\n"
      "g,pepper,glazed 18 l,potting mix,1,05-15,patio,every 2 days 07:00\n");
}

/// The same day of a season without rain: its crop grown from planting, one day at a time.
DayForcing rainless_day(const PlantingSetting& setting, Date planted, std::size_t age,
                        const std::vector<SpotDay>& spot, const WeatherRecord& record) {
  Development development(setting.planting->crop, GrowthClock::stage_days,
                          catalogue().parameters.leaf_curve(), setting.crop.first_leaf_share);
  const std::size_t first = record.index_of(planted);
  for (std::size_t i = 0; i < age; ++i) {
    development.next_day(spot[first + i].mean_temperature_c);
  }
  CropDay crop = crop_day(setting.crop, spot[first + age], development, model());
  crop.rain_mm = 0.0;
  return planting_day(setting, crop, static_cast<double>(age), model()).day;
}

/// Days from watered until it drains at an hour to wilting, by run_day alone: visits on the first
/// day, none after.
std::optional<double> days_to_wilting(const Planting& planting, Date planted, std::size_t age,
                                      double hour, std::size_t season_days, const Place& weather) {
  const PotParameters pot = build_pot(planting, model());
  const PlantingSetting setting = planting_setting(planting, pot, model());
  const std::vector<SpotDay>& spot = weather.at(planting.spot);
  const std::size_t first = weather.record().index_of(planted);
  PotState state{.rooted_share = rooted_share(pot, std::max(0.0, static_cast<double>(age) - 1.0))};
  for (std::size_t day = age; day < season_days; ++day) {
    const DemandCurve& curve = spot[first + day].curve;
    // Visits before the one at the hour, so that it does not wilt before that.
    std::vector<Visit> visits;
    for (int eighth = 0; day == age && eighth <= 8; ++eighth) {
      visits.push_back({.at = curve.share_by(hour * eighth / 8.0)});
    }
    DayPlan plan;
    plan.visits = visits;
    const DayResult result =
        run_day(pot, state, rainless_day(setting, planted, day, spot, weather.record()), plan);
    state = result.state;
    if (!result.wilting_at) continue;
    return static_cast<double>(day - age) + (curve.hours_at(*result.wilting_at) - hour) / 24.0;
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("compare: the rows are the season's own figures, summed up by hand") {
  const WeatherRecord records[] = {sample("tolvenau.csv"), sample("port-okaree.csv")};
  std::vector<Place> weathers;
  for (const WeatherRecord& record : records) weathers.emplace_back(record, model());
  const std::vector<Planting> garden = some_plantings();
  const auto compared = compare(garden, weathers, {});
  REQUIRE(compared.size() == garden.size());
  REQUIRE(model().root_fill_days == 35.0);
  int enough = 0;
  int young = 0;
  for (const ComparedChoice& choice : compared) {
    INFO(choice.planting->name);
    std::vector<SeasonResult> seasons;
    for (const Place& weather : weathers) {
      for (const Date planted : planting_dates(*choice.planting, weather.record())) {
        seasons.push_back(run_season(*choice.planting, planted, weather, {.ledger = true}));
      }
    }
    CHECK(choice.summers == static_cast<int>(seasons.size()));
    std::tuple<int, int, int> worst{-1, -1, -1};
    double watered_l = 0.0;
    double peak_use_l_day = 0.0;
    double waterings_week = 0.0;
    double gap_days = 0.0;
    int fine = 0;
    std::optional<Date> first_wilting;
    int rooted_most = 0;
    int settling_most = 0;
    for (const SeasonResult& season : seasons) {
      int rooted = 0;
      for (std::size_t age = 35; age < season.ledger.size(); ++age) {
        rooted += season.ledger[age].wilting_at_h ? 1 : 0;
      }
      rooted_most = std::max(rooted_most, rooted);
      const SeasonSummary& s = season.summary;
      settling_most = std::max(settling_most, s.settling_in.wilting_days);
      watered_l += s.watered_l;
      peak_use_l_day = std::max(peak_use_l_day, s.peak_use_l_day);
      waterings_week = std::max(waterings_week, s.waterings_week_peak);
      gap_days = std::max(gap_days, s.longest_gap_days);
      if (s.wilting_days == 0) ++fine;
      const std::tuple hard{s.dry_days, s.wilting_days, s.stressed_days};
      if (hard <= worst) continue;
      worst = hard;
      first_wilting.reset();
      for (const LedgerLine& line : season.ledger) {
        if (line.wilting_at_h && !first_wilting && line.date >= s.settling_in.settled) {
          first_wilting = line.date;
        }
      }
    }
    const SeasonSummary& s = choice.worst.summary;
    CHECK(std::tuple{s.dry_days, s.wilting_days, s.stressed_days} == worst);
    CHECK(near(choice.watered_l, watered_l / static_cast<double>(seasons.size()), 1e-9));
    CHECK(choice.peak_use_l_day == peak_use_l_day);
    CHECK(choice.waterings_week_peak == waterings_week);
    CHECK(choice.longest_gap_days == gap_days);
    CHECK(choice.summers_above_wilting == fine);
    CHECK(choice.enough() == (fine == choice.summers));
    CHECK(choice.enough() == (s.wilting_days == 0));
    CHECK(choice.first_wilting == first_wilting);
    CHECK(choice.wilting_days_rooted == rooted_most);
    CHECK(choice.wilting_days_settling == settling_most);
    young += settling_most > 0 ? 1 : 0;
    CHECK(choice.first_wilting.has_value() != choice.enough());
    enough += choice.enough() ? 1 : 0;
  }
  CHECK(enough > 0);
  CHECK(young > 0);
  CHECK(enough < static_cast<int>(garden.size()));
}

TEST_CASE("compare: how long a pot lasts ranges over the summers one by one") {
  const WeatherRecord record = sample("tolvenau.csv");
  const std::vector<Planting> garden = plantings(
      "a,tomato,nursery 21 l,potting mix,1,05-15,patio,daily 07:00\n"
      "b,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  int differing = 0;
  for (const ComparedChoice& all : compare(garden, Place(record, model()), {})) {
    std::vector<double> of_summers;
    for (int year = year_of(record.first()); year <= year_of(record.last()); ++year) {
      const Place summer(record.between(make_date(year, 1, 1), make_date(year, 12, 31)), model());
      for (const ComparedChoice& one : compare(garden, summer, {})) {
        if (one.planting != all.planting || !one.longest_safe_gap_days) continue;
        CHECK(one.mildest_safe_gap_days == one.longest_safe_gap_days);
        of_summers.push_back(*one.longest_safe_gap_days);
      }
    }
    REQUIRE(of_summers.size() > 1);
    const auto [shortest, longest] = std::minmax_element(of_summers.begin(), of_summers.end());
    CHECK(near(all.longest_safe_gap_days.value(), *shortest, 1e-9));
    CHECK(near(all.mildest_safe_gap_days.value(), *longest, 1e-9));
    differing += *longest > *shortest ? 1 : 0;
  }
  CHECK(differing > 0);
}

TEST_CASE("compare: how long a pot lasts at its peak, against day after day of run_day") {
  const WeatherRecord record =
      sample("tolvenau.csv").between(make_date(2022, 1, 1), make_date(2022, 12, 31));
  const Place weather(record, model());
  const std::vector<Planting> garden = some_plantings();
  int found = 0;
  for (const ComparedChoice& choice : compare(garden, weather, {})) {
    const Planting& planting = *choice.planting;
    INFO(planting.name);
    const Date planted = choice.worst.first;
    const int days = choice.worst.summary.days;
    const int peak_end = static_cast<int>((choice.worst.summary.peak_ends - planted).count()) + 1;
    // The four weeks with the peak week, which ends on day peak_end, in their middle.
    const int from = std::clamp(peak_end - 3 - 14, 0, days - 28);
    const double hour = first_watering_h(planting.routine);
    std::optional<double> shortest;
    for (int start = from; start < from + 28; ++start) {
      const auto lasts = days_to_wilting(planting, planted, static_cast<std::size_t>(start), hour,
                                         static_cast<std::size_t>(days), weather);
      if (lasts && (!shortest || *lasts < *shortest)) shortest = lasts;
    }
    REQUIRE(choice.longest_safe_gap_days.has_value() == shortest.has_value());
    if (!shortest) continue;
    CHECK(near(*choice.longest_safe_gap_days, *shortest, 1e-6));
    ++found;
  }
  CHECK(found >= 5);
}

TEST_CASE("compare: how long a pot lasts while its roots still grow, against run_day") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, model());
  int over_days = 0;
  for (const Planting& planting : some_plantings()) {
    INFO(planting.name);
    const Date planted = make_date(2022, 5, 20);
    const PlantingSetting setting =
        planting_setting(planting, build_pot(planting, model()), model());
    const std::vector<SpotDay>& spot = weather.at(planting.spot);
    constexpr std::size_t season_days = 50;
    const std::size_t first = record.index_of(planted);
    for (const std::size_t age : {0, 1, 2, 5, 9, 20, 33}) {
      std::vector<RainlessDay> days;
      for (std::size_t day = age; day < season_days; ++day) {
        days.push_back(
            {rainless_day(setting, planted, day, spot, record), spot[first + day].curve});
      }
      for (const double hour : {0.0, 7.0, 18.5}) {
        const auto passing =
            dry_down(setting.pot, days, static_cast<double>(age), hour, Line::wilting);
        const auto lasts = days_to_wilting(planting, planted, age, hour, season_days, weather);
        CAPTURE(age);
        CAPTURE(hour);
        REQUIRE(passing.has_value() == lasts.has_value());
        if (!passing) continue;
        CHECK(near(passing->days_from(hour), *lasts, 1e-6));
        over_days += passing->day > 0 ? 1 : 0;
      }
    }
  }
  CHECK(over_days > 50);
}

TEST_CASE("compare: a pot that is not touched for its whole season is left without a gap") {
  // Lettuce in a huge pot, harvested before it could use the water up.
  const auto garden =
      plantings("it,leaf lettuce,half barrel 100 l,potting mix,1,04-10,deep shade,daily 07:00\n");
  const WeatherRecord record = sample("skerrowick.csv");
  const Place weather(record, model());
  const auto compared = compare(garden, weather, {});
  REQUIRE(compared.size() == 1);
  CHECK_FALSE(compared.front().longest_safe_gap_days.has_value());
  CHECK(compared.front().enough());
}

TEST_CASE("compare: enough first, then fewest dry, wilting and stressed days, then least mix") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, model());
  const auto base = plantings("t,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n");
  Choices choices;
  for (const char* pot : {"nursery 4.5 l", "nursery 37 l", "clay 16 l", "nursery 21 l",
                          "fabric 36 l", "nursery 11 l", "nursery 90 l"}) {
    choices.pots.push_back(*catalogue().pots.find(pot));
  }
  choices.spots = {*catalogue().spots.find("patio"), *catalogue().spots.find("hot paving")};
  const auto all = crossed(base, choices);
  const auto compared = compare(all, weather, {});
  REQUIRE(compared.size() == 14);
  for (std::size_t i = 1; i < compared.size(); ++i) {
    const auto rank = [](const ComparedChoice& choice) {
      const SeasonSummary& s = choice.worst.summary;
      return std::tuple(choice.enough() ? 0 : 1, s.dry_days, s.wilting_days, s.stressed_days,
                        s.mix_l);
    };
    CHECK(rank(compared[i - 1]) <= rank(compared[i]));
  }
  CHECK(compared.front().enough());
  CHECK_FALSE(compared.back().enough());
}

TEST_CASE("compare: a wall that loses water never makes a pot last longer") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place weather(record, model());
  const auto base = plantings("t,tomato,nursery 21 l,potting mix,1,05-15,patio,daily 07:00\n");
  Choices choices;
  for (const char* wall : {"plastic", "clay", "fabric"}) {
    choices.walls.push_back(*catalogue().walls.find(wall));
  }
  const auto all = crossed(base, choices);
  const auto compared = compare(all, weather, {});
  const auto lasts = [&](std::string_view wall) {
    for (const ComparedChoice& choice : compared) {
      if (choice.planting->pot.wall.name == wall) return choice.longest_safe_gap_days.value();
    }
    FAIL("no such wall");
    return 0.0;
  };
  CHECK(lasts("plastic") > lasts("clay"));
  CHECK(lasts("clay") > lasts("fabric"));
}

}  // namespace wiltline::test
