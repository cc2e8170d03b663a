// A pot in a saucer: one more visit a day never adds stressed days, and as-needed agrees.
#include <doctest/doctest.h>

#include <string>

#include "support/fixtures.hpp"
#include "wiltline/questions/heatwave.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {

TEST_CASE("saucer: a visit a day more never adds stressed days") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  const Date planted = make_date(2022, 5, 15);
  int stressed = 0;
  for (const char* pot : {"pepper,nursery 11 l", "tomato,clay 10.5 l", "pepper,clay 3 l"}) {
    for (const char* saucer_l : {"", "0.2", "0.5", "1", "2"}) {
      int before = 366;
      for (const char* hours : {"07:00", "07:00 19:00", "07:00 13:00 19:00"}) {
        const std::string row = std::string("it,") + pot +
                                ",potting mix,1,2022-05-15,patio,daily " + hours + "," + saucer_l +
                                "\n";
        CAPTURE(row);
        const Planting planting =
            read_garden(
                {"garden.csv", "name,crop,pot,mix,plants,planted,spot,routine,saucer_l\n" + row},
                catalogue())
                .front();
        const SeasonSummary season = run_season(planting, planted, place, {}).summary;
        const int days = season.stressed_days + season.settling_in.stressed_days;
        CHECK(days <= before);
        before = days;
        stressed += days;
      }
    }
  }
  CHECK(stressed > 0);
}

TEST_CASE("saucer: a spell without a stressed day wants no water before the next morning") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place place(record, catalogue().parameters);
  int lasts = 0;
  for (const char* saucer_l : {"0.5", "1", "2", "4"}) {
    CAPTURE(saucer_l);
    const Planting planting =
        one_row("pepper", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00", ",saucer_l",
                std::string(",") + saucer_l);
    const HeatwaveResult result = heatwave(planting, place);
    REQUIRE(result.pots.size() == 1);
    const HeatwavePot& pot = result.pots.front();
    if (pot.once_a_day.stressed_days > 0) continue;
    ++lasts;
    CHECK_FALSE(pot.refill_at_h);
  }
  CHECK(lasts > 0);
}

}  // namespace wiltline::test
