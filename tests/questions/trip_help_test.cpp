#include "wiltline/questions/trip_help.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"

namespace wiltline::test {

TEST_CASE("trip help: visits spread evenly over the days away") {
  const auto days = [](double away_days, int visits) {
    AbsenceOptions options;
    options.away_h = 24.0 * away_days;
    std::vector<int> found;
    for (const TripHelper::Visit& visit : spread_visits(options, visits)) {
      CHECK(visit.hour == options.leave_h);
      found.push_back(visit.day);
    }
    return found;
  };
  CHECK(days(7, 0).empty());
  CHECK(days(7, 1) == std::vector{4});
  CHECK(days(7, 2) == std::vector{2, 5});
  CHECK(days(14, 1) == std::vector{7});
  CHECK(days(4, 3) == std::vector{1, 2, 3});
  CHECK(days(4, 9) == std::vector{1, 2, 3});
  CHECK(days(1, 1).empty());
  // Away for 103 hours, with four days between: none is lost to rounding.
  CHECK(days(103.0 / 24.0, 4) == std::vector{1, 2, 3, 4});
  CHECK(days(103.0 / 24.0, 5) == std::vector{1, 2, 3, 4});
  for (int hours = 1; hours <= 24 * 20; ++hours) {
    AbsenceOptions options;
    options.away_h = hours;
    for (int visits = 0; visits <= options.days_to_return(); ++visits) {
      CAPTURE(hours);
      const auto spread = spread_visits(options, visits);
      REQUIRE(static_cast<int>(spread.size()) ==
              std::max(0, std::min(visits, options.days_to_return() - 1)));
      for (std::size_t i = 1; i < spread.size(); ++i) REQUIRE(spread[i - 1].day < spread[i].day);
      if (!spread.empty()) REQUIRE(spread.front().day >= 1);
      if (!spread.empty()) REQUIRE(spread.back().day < options.days_to_return());
    }
  }
}

TEST_CASE("trip help: with the visits named each pot passes, with one fewer it does not") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  const auto garden = plantings(
      "big,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00\n"
      "small,basil,clay 4 l,potting mix,1,05-15,patio,daily 07:00\n"
      "thyme,thyme,clay 16 l,potting mix,1,04-20,deep shade,daily 07:00\n"
      "tiny,tomato,clay 3 l,potting mix,1,05-15,hot paving,daily 07:00\n");
  AbsenceOptions options;
  options.away_h = 24.0 * 8;
  const TripHelp help = trip_help(garden, place, catalogue(), options);
  REQUIRE(help.pots.size() == garden.size());
  const auto all_pass = [&](int visits, bool rest) {
    AbsenceOptions with = options;
    with.helper.visits = spread_visits(options, visits);
    for (const PotHelp& pot : help.pots) {
      if (!pot.visits || (rest && pot.passes_grouped_in_shade)) continue;
      if (!passes(absence(*pot.planting, place, with).pots.front(), options.share)) return false;
    }
    return true;
  };
  for (const PotHelp& pot : help.pots) {
    CAPTURE(pot.planting->name);
    const auto passes_with = [&](int visits) {
      AbsenceOptions with = options;
      with.helper.visits = spread_visits(options, visits);
      return passes(absence(*pot.planting, place, with).pots.front(), options.share);
    };
    if (!pot.visits) {
      CHECK_FALSE(passes_with(7));
      continue;
    }
    CHECK(passes_with(*pot.visits));
    if (*pot.visits > 0) CHECK_FALSE(passes_with(*pot.visits - 1));
  }
  CHECK(all_pass(help.visits, false));
  CHECK_FALSE(all_pass(help.visits - 1, false));
  CHECK(all_pass(help.visits_for_the_rest, true));
  if (help.visits_for_the_rest > 0) CHECK_FALSE(all_pass(help.visits_for_the_rest - 1, true));
  CHECK(help.visits > 0);
  CHECK(help.pots[2].visits == 0);
  CHECK_FALSE(help.pots[3].visits);
}

}  // namespace wiltline::test
