#include "wiltline/questions/forecast_frame.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline::test {
namespace {

using std::chrono::days;

const Date today = make_date(2022, 7, 10);
const Instant now{today, 9.0};

Planting with_routine(const std::string& routine) {
  return plantings("it,tomato,nursery 11 l,potting mix,1,2022-05-15,patio," + routine + "\n")
      .front();
}

ForecastOptions week() {
  ForecastOptions options;
  options.now = now;
  options.known_last = options.observed_last = today - days(1);
  options.horizon_days = 7;
  return options;
}

}  // namespace

TEST_CASE("forecast frame: the visit after an instant is at most 60 days off") {
  const Date planted = make_date(2022, 5, 15);
  const auto after_now = [&](const std::string& routine) {
    return visit_after(with_routine(routine), planted, now);
  };
  CHECK(after_now("daily 07:00") == Instant{today + days(1), 7.0});
  CHECK(after_now("daily 09:00") == Instant{today + days(1), 9.0});
  CHECK(after_now("daily 18:00") == Instant{today, 18.0});
  CHECK(after_now("daily 07:00 away 2022-07-01/2022-12-31") == Instant{today + days(60), 9.0});
  CHECK(!after_now("as-needed"));
  CHECK(horizon(week()) == Instant{today + days(7), 9.0});
}

TEST_CASE("forecast frame: days reach as far as the next visit, and as the weather") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place place(record, catalogue().parameters);
  const auto last_day = [&](const std::string& routine, const Place& at, bool visits = false) {
    const Planting planting = with_routine(routine);
    const std::vector<ForecastPlanting> one = by_routine_alone(planting);
    ForecastOptions options = week();
    options.visits = visits;
    return forecast_frame(one, at, options).last_day;
  };
  CHECK(last_day("daily 07:00", place) == today + days(7));
  // The second day of those away is the day back (as in plan_test's helper).
  const std::string away = "daily 07:00 away 2022-07-10/2022-07-29";
  CHECK(last_day(away, place) == make_date(2022, 7, 29));
  // A visit plan goes on to the first visit after the horizon.
  CHECK(last_day("daily 07:00", place, true) == today + days(8));
  // No other year from which days to come could be drawn.
  const Place one_year(record.between(make_date(2022, 1, 1), make_date(2022, 12, 31)),
                       catalogue().parameters);
  CHECK(last_day("daily 07:00", one_year) == today - days(1));
}

TEST_CASE("forecast frame: what grows now, and since when") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place place(record, catalogue().parameters);
  std::vector<Planting> garden{with_routine("daily 07:00"), with_routine("daily 07:00")};
  garden[1].planted = today + days(1);
  const ForecastFrame frame = forecast_frame(by_routine_alone(garden), place, week());
  CHECK(frame.planted == std::vector<std::optional<Date>>{make_date(2022, 5, 15), std::nullopt});
  ForecastOptions too_far = week();
  too_far.horizon_days = 61;
  CHECK_THROWS_AS((void)forecast_frame(by_routine_alone(garden), place, too_far), RequestError);
}

}  // namespace wiltline::test
