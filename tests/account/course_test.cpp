// Visits, ends and days of a planting: what all its pots share.
#include "wiltline/account/course.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

using std::chrono::days;

Routine routine(const std::string& text) {
  const Result<Routine> read = parse_routine(text);
  REQUIRE(read);
  return *read;
}

/// Wednesday.
const Date planted = make_date(2023, 5, 10);

std::string next(const std::string& text, const Instant& after) {
  const auto visit = next_visit(routine(text), planted, after);
  return visit ? to_string(*visit) : "-";
}

WeatherRecord record_of(const std::vector<WeatherDay>& weather, Date first = planted) {
  Site site;
  site.latitude_deg = 46.0;
  return {"made up", site, first, weather, true};
}

WeatherDay mild() {
  WeatherDay day;
  day.tmin_c = 12.0;
  day.tmax_c = 22.0;
  return day;
}

struct Ran {
  WeatherRecord record;
  std::vector<SpotDay> spot;
  Course course;
};

/// The planting must outlive what is returned.
Ran run(const Planting& planting, const WeatherRecord& record,
        const ModelParameters& model = catalogue().parameters) {
  Ran ran{record, spot_days(record, reference_days(record, {}), planting.spot, model), {}};
  ran.course =
      plan_course(planting, record.first(), ran.record, ran.spot, model, GrowthClock::stage_days);
  return ran;
}

Planting tomato(const std::string& routine = "daily 07:00") {
  return one_row("tomato", "nursery 37 l,potting mix,1,2023-05-10,patio," + routine);
}

}  // namespace

TEST_CASE("next visit: the first strictly after an instant") {
  const Date day = planted + days(5);  // Monday 15 May
  struct Asked {
    const char* routine;
    Instant after;
    const char* visit;
  };
  const std::vector<Asked> all{
      {"daily 07:00", {day, 6.99}, "2023-05-15T07:00"},
      {"daily 07:00", {day, 7.0}, "2023-05-16T07:00"},
      {"daily 07:00 19:00", {day, 7.0}, "2023-05-15T19:00"},
      {"daily 07:00 19:00", {day, 19.0}, "2023-05-16T07:00"},
      {"daily 00:00", {day, 0.0}, "2023-05-16T00:00"},
      {"every 3 days 07:00", {day, 12.0}, "2023-05-16T07:00"},  // 10, 13, 16 May
      {"every 3 days 07:00", {day + days(1), 7.0}, "2023-05-19T07:00"},
      {"wed fri 18:30", {day, 0.0}, "2023-05-17T18:30"},
      {"wed fri 18:30", {day + days(2), 18.5}, "2023-05-19T18:30"},
      {"check daily 07:00", {day, 8.0}, "2023-05-16T07:00"},
      // Visits take place on the ends of an absence, not between them.
      {"daily 07:00 away 2023-05-15/2023-05-20", {day, 6.0}, "2023-05-15T07:00"},
      {"daily 07:00 away 2023-05-15/2023-05-20", {day, 7.0}, "2023-05-20T07:00"},
      {"daily 07:00 away 2023-05-15/2025-05-20", {day, 7.0}, "-"},  // nobody for over a year
      {"as-needed", {day, 7.0}, "-"},
  };
  for (const Asked& asked : all) {
    CAPTURE(std::string(asked.routine));
    CHECK(next(asked.routine, asked.after) == asked.visit);
  }
}

TEST_CASE("visits of a day: at their share of the demand, with what passes before the next") {
  const DemandCurve curve(14.0, 0.0, 0.06, 1.0);
  const double morning = curve.share_by(7.0);
  const double evening = curve.share_by(19.0);
  const auto visits_of = [&](const std::string& text, Date date) {
    std::vector<Visit> visits;
    add_visits(routine(text), planted, date, curve, visits);
    return visits;
  };
  const auto twice = visits_of("daily 07:00 19:00", planted + days(4));
  REQUIRE(twice.size() == 2);
  CHECK(twice[0].at == morning);
  CHECK(near(twice[0].at_days, 4.0 + 7.0 / 24.0, 1e-9));
  CHECK(near(twice[0].until_next, evening - morning, 1e-12));
  CHECK(near(twice[1].until_next, 1.0 - evening + morning, 1e-12));
  // Each day counts as a day like yesterday.
  CHECK(near(visits_of("every 3 days 07:00", planted + days(3))[0].until_next, 3.0, 1e-12));
  CHECK(visits_of("every 3 days 07:00", planted + days(4)).empty());
  CHECK(near(visits_of("daily 07:00 away 2023-05-15/2023-05-20", planted + days(5))[0].until_next,
             5.0, 1e-12));
  CHECK(visits_of("daily 07:00 away 2023-05-15/2023-05-20", planted + days(6)).empty());
  CHECK(visits_of("as-needed", planted).empty());
}

TEST_CASE("course: a day for each day, each with its own visits") {
  const Planting planting = tomato("every 2 days 07:00 19:00");
  const Ran ran = run(planting, record_of(std::vector<WeatherDay>(40, mild())));
  REQUIRE(ran.course.days.size() == 40);
  CHECK(ran.course.ended_by == EndedBy::record);
  CHECK(ran.course.last() == planted + days(39));
  for (std::size_t day = 0; day < 40; ++day) {
    CHECK(ran.course.date(day) == planted + days(static_cast<int>(day)));
    CHECK(ran.course.days[day].age_days == static_cast<double>(day));
    const DayPlan plan = ran.course.plan(day);
    REQUIRE(plan.visits.size() == (day % 2 == 0 ? 2U : 0U));
    if (day % 2 != 0) continue;
    CHECK(plan.visits[0].at == ran.spot[day].curve.share_by(7.0));
    CHECK(plan.visits[1].at == ran.spot[day].curve.share_by(19.0));
  }
}

TEST_CASE("course: frost by what the crop bears, limit by limit") {
  std::vector<WeatherDay> weather(6, mild());
  const double lowest[] = {0.0, -0.01, -2.0, -2.01, -6.0, -6.01};
  for (std::size_t i = 0; i < 6; ++i) weather[i].tmin_c = lowest[i];
  const auto frosts = [&](Frost frost, const ModelParameters& model) {
    Planting planting = tomato();
    planting.crop.frost = frost;
    std::string days;
    for (const CourseDay& day : run(planting, record_of(weather), model).course.days) {
      days += day.comfort.frost ? 'F' : '-';
    }
    return days;
  };
  ModelParameters model = catalogue().parameters;
  model.frost_tender_c = 0.0;
  model.frost_light_c = -2.0;
  model.frost_hard_c = -6.0;
  CHECK(frosts(Frost::tender, model) == "-FFFFF");
  CHECK(frosts(Frost::light, model) == "---FFF");
  CHECK(frosts(Frost::hard, model) == "-----F");
}

TEST_CASE("course: too warm by the mean of the week, as far as there is one") {
  std::vector<WeatherDay> weather(12, mild());  // mean of 17 degrees
  weather[8].tmin_c = 26.0;
  weather[8].tmax_c = 36.0;  // 31: weeks that hold it have a mean of 19
  Planting planting = tomato();
  const auto warm_days = [&](double limit_c) {
    planting.crop.heat_limit_c = limit_c;
    std::string days;
    for (const CourseDay& day : run(planting, record_of(weather)).course.days) {
      days += day.comfort.too_warm ? 'W' : '-';
    }
    return days;
  };
  CHECK(warm_days(18.99) == "--------WWWW");
  CHECK(warm_days(19.0) == "------------");
  weather.assign(12, mild());
  weather[0].tmin_c = 26.0;
  weather[0].tmax_c = 36.0;  // alone 31, of two days 24, of seven 19, of the next seven 17
  CHECK(warm_days(18.99) == "WWWWWWW-----");
  CHECK(warm_days(24.0) == "W-----------");
}

TEST_CASE("course: a plant is cut back on its day, and no other") {
  Planting planting = tomato();
  planting.pruned = {planted + days(60)};
  const Planting whole = tomato();
  const WeatherRecord record = record_of(std::vector<WeatherDay>(80, mild()));
  const Ran cut = run(planting, record);
  const Ran uncut = run(whole, record);
  for (std::size_t day = 0; day < 60; ++day) {
    CHECK(cut.course.days[day].leaf_area_share == uncut.course.days[day].leaf_area_share);
  }
  CHECK(near(cut.course.days[60].leaf_area_share,
             catalogue().parameters.pruned_leaf_share * uncut.course.days[60].leaf_area_share,
             1e-12));
  CHECK(cut.course.days[61].leaf_area_share > cut.course.days[60].leaf_area_share);
}

TEST_CASE("course: the crop's days, asked for alone, are the course's") {
  Planting cut_back = tomato();
  cut_back.pruned = {planted + days(40)};
  Planting taken_out = tomato();
  taken_out.ends = planted + days(50);
  for (const Planting& planting : {tomato(), cut_back, taken_out}) {
    for (const std::size_t record_days : {30, 80, 300}) {
      const WeatherRecord record = record_of(std::vector<WeatherDay>(record_days, mild()));
      const Ran ran = run(planting, record);
      const ModelParameters& model = catalogue().parameters;
      const std::vector<CropDay> all =
          crop_days(planting, planted, record, ran.spot, model, GrowthClock::stage_days);
      const std::vector<CropDay> first =
          crop_days(planting, planted, record, ran.spot, model, GrowthClock::stage_days, 20);
      REQUIRE(all.size() == ran.course.days.size());
      REQUIRE(first.size() == 20);
      for (std::size_t day = 0; day < all.size(); ++day) {
        CHECK(all[day].one_plant.litres == ran.course.days[day].crop.one_plant.litres);
        CHECK(all[day].leaf_share == ran.course.days[day].crop.leaf_share);
        if (day < first.size()) CHECK(first[day].one_plant.litres == all[day].one_plant.litres);
      }
    }
  }
}

TEST_CASE("course: what makes two plantings differ, and what does not") {
  const Planting one = tomato();
  Planting other = one;
  other.pot = *catalogue().pots.find("clay 3 l");
  other.name = "other";
  other.plants = 3;
  CHECK(same_course(one, other));
  const auto differs = [&](auto change) {
    Planting changed = one;
    change(changed);
    return !same_course(one, changed);
  };
  CHECK(differs([](Planting& p) { p.crop.leaf_area_m2.value *= 2.0; }));
  CHECK(differs([](Planting& p) { p.spot.sky_view.value = 0.123; }));
  CHECK(differs([](Planting& p) { p.routine = routine("daily 08:00"); }));
  CHECK(differs([](Planting& p) { p.ends = MonthDay{9, 1}; }));
  CHECK(differs([](Planting& p) { p.hardened = true; }));
  CHECK(differs([](Planting& p) { p.pruned = {MonthDay{7, 1}}; }));
}

}  // namespace wiltline::test
