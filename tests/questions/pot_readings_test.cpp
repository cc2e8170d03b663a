// Files of weighings and of what was seen: units, sides of a watering, and what is refused.
#include "wiltline/questions/pot_readings.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/questions/calibrate.hpp"

namespace wiltline::test {
namespace {

struct Table {
  std::vector<Planting> garden = plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00\n");
  WeatherRecord weather = sample("tolvenau.csv");

  [[nodiscard]] ReadingsOf of() const {
    return {.garden = garden, .model = &catalogue().parameters, .weather = &weather};
  }
  [[nodiscard]] std::vector<PotReadings> weighings(const std::string& text) const {
    return read_weighings({"w.csv", text}, of());
  }
  [[nodiscard]] std::vector<PotReadings> sightings(const std::string& text) const {
    return read_sightings({"s.csv", text}, of());
  }
};

}  // namespace

TEST_CASE("readings: a list for each planting of the garden") {
  const Table table;
  const auto lists = table.weighings(
      "name,when,weight_lb,watering\n"
      "basil,2024-07-01 18:00,8,after\nbasil,2024-07-01 18:00,7,\na,2024-07-02 07:30,20,before\n");
  REQUIRE(lists.size() == 2);
  CHECK(lists[0].planting == &table.garden[0]);
  REQUIRE(lists[1].readings.size() == 2);
  CHECK(lists[1].readings[0].kind == ReadingKind::weighed_after);
  CHECK(near(lists[1].readings[0].weight_kg, 8.0 * 0.45359237, 1e-12));
  CHECK(lists[1].readings[1].kind == ReadingKind::weighed_before);
  CHECK(lists[0].readings[0].when.hour == 7.5);
}

TEST_CASE("readings: a weighing that is there twice counts once") {
  const Table table;
  const auto lists = table.weighings(
      "name,when,weight_kg\nbasil,2024-07-01 18:00,3.5\nbasil,2024-07-01 18:00,3.5\n"
      "basil,2024-07-02 18:00,3.5\n");
  CHECK(lists[1].readings.size() == 2);
}

TEST_CASE("readings: a pot is no lighter than half its dry mix, whatever the pot weighs") {
  const Table table;
  const std::string mix_alone =
      refusal([&] { (void)table.weighings("name,when,weight_kg\nbasil,2024-07-01 18:00,0.1\n"); });
  CHECK(mix_alone.find("found 0.1 kg, less than half of what the dry mix of \"basil\" weighs") !=
        std::string::npos);
  CHECK(table.weighings("name,when,weight_kg\nbasil,2024-07-01 18:00,2\n")[1].readings.size() == 1);
}

TEST_CASE("readings: both of a row that says two things, and a log's waterings") {
  const Table table;
  auto lists = table.sightings("name,when,wilting,top_dry\nbasil,2024-07-01 18:00,no,yes\n");
  REQUIRE(lists[1].readings.size() == 2);
  CHECK(lists[1].readings[0].kind == ReadingKind::top_felt_dry);
  CHECK(lists[1].readings[1].kind == ReadingKind::not_wilted);
  const std::vector<LogEntry> log = read_watering_log(
      {"log.csv", "when,name,given_l,drained_l\n2024-07-02 18:00,basil,1.5,0.2\n"}, table.garden,
      {table.weather.last(), 24.0});
  add_log(lists, log);
  REQUIRE(lists[1].readings.size() == 3);
  CHECK(lists[1].readings[2].kind == ReadingKind::watered);
  CHECK(lists[1].readings[2].given_l == 1.5);
  CHECK(lists[1].readings[2].drained_l == 0.2);
  add_readings(lists, table.weighings("name,when,weight_kg\na,2024-07-01 18:00,8\n"));
  CHECK(lists[0].readings.size() == 1);
}

TEST_CASE("readings: two alike at one instant count once, two that disagree are refused") {
  const Table table;
  const std::string rows = "name,when,weight_kg\nbasil,2024-07-01 18:00,3\nbasil,2024-07-01 18:00,";
  CHECK(table.weighings(rows + "3.1\n")[1].readings.size() == 1);
  CHECK(refusal([&] {
          (void)table.weighings(rows + "3.5\n");
        }).starts_with("w.csv:3:24: found 3.5 kg, where line 2 has 3 kg of \"basil\""));
}

TEST_CASE("readings: weights in pounds under kilograms stand out in the file as a whole") {
  const Table table;
  const auto times = [&](double factor, const std::string& unit) {
    std::string text = "name,when,weight_" + unit + "\n";
    const auto add = [&](const std::string& when, const std::string& name, double kg) {
      text += name + ",2024-07-" + when + " 18:00," + std::to_string(kg * factor) + "\n";
    };
    add("01", "basil", 3.1);
    add("02", "basil", 2.9);
    add("03", "basil", 6.0);  // one mistyped
    add("01", "a", 8.0);
    add("03", "a", 9.0);
    return *times_expected(table.weighings(text), catalogue().parameters);
  };
  constexpr double pounds = 1.0 / 0.45359237;  // NIST SP 811
  CHECK(times(1.0, "kg") < times_like_pounds);
  CHECK(times(pounds, "kg") > times_like_pounds);
  CHECK(near(times(pounds, "lb"), times(1.0, "kg"), 1e-4));
  CHECK_FALSE(times_expected(table.sightings("name,when,wilting\nbasil,2024-07-01 18:00,no\n"),
                             catalogue().parameters));
}

TEST_CASE("readings: what the library refuses to take") {
  Table table;
  CHECK(refusal([&] {
          (void)read_weighings({"w.csv", "name,when,weight_kg\n"},
                               {.garden = table.garden, .weather = &table.weather});
        }) == "request: found no model for weighings; expected one");
  CHECK(refusal([&] {
          (void)read_sightings({"s.csv", "name,when,wilting\nbasil,2024-07-01 18:00,no\n"},
                               {.garden = table.garden});
        }) == "request: found no weather for readings; expected a record, or now of a forecast");

  const std::string null = "request: found no planting; expected one for its readings";
  const std::vector<PotReadings> nobody(1);
  CHECK(refusal([&] { (void)times_expected(nobody, catalogue().parameters); }) == null);
  const Place place(table.weather, catalogue().parameters);
  CHECK(refusal([&] { (void)calibrate(nobody, place, catalogue(), {}); }) == null);

  const Reading sound{
      .when = {make_date(2024, 7, 1), 18.0}, .kind = ReadingKind::weighed_before, .weight_kg = 8.0};
  const auto refused = [&](const auto& change) {
    Reading one = sound;
    change(one);
    const std::vector<PotReadings> pots{{&table.garden[0], {one}}};
    const std::string by_check =
        refusal([&] { check_readings(&table.garden[0], pots[0].readings); });
    CHECK(refusal([&] { (void)calibrate(pots, place, catalogue(), {}); }) == by_check);
    CHECK(refusal([&] { (void)times_expected(pots, catalogue().parameters); }) == by_check);
    ForecastOptions options = at_end_of(table.weather);
    options.now.date = options.known_last = options.observed_last = make_date(2024, 7, 2);
    const ForecastPlanting planting{
        .planting = &table.garden[0], .log = {}, .saved = {}, .readings = {one}};
    CHECK(refusal([&] {
            (void)forecast({&planting, 1}, place, catalogue(), options);
          }) == by_check);
    return by_check;
  };
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(refused([](Reading&) {}) == "nothing refused");
  CHECK(refused([](Reading& one) { one.weight_kg = nan; }) ==
        "request: a: found nan kg as a weight; expected more than 0 and up to 100000");
  CHECK(refused([](Reading& one) { one.weight_kg = -5.0; }) ==
        "request: a: found -5 kg as a weight; expected more than 0 and up to 100000");
  CHECK(refused([](Reading& one) { one.when.hour = nan; }) ==
        "request: a: found nan as the hour of a reading; expected 0 to 24");
  CHECK(refused([](Reading& one) { one.when.hour = 70.0; }) ==
        "request: a: found 70 as the hour of a reading; expected 0 to 24");
  CHECK(refused([](Reading& one) { one.drained_l = -1.0; }) ==
        "request: a: found -1 litres of a watering; expected 0 to 10000");

  const ForecastPlanting nothing{.planting = nullptr, .log = {}, .saved = {}};
  CHECK(refusal([&] {
          (void)forecast({&nothing, 1}, place, catalogue(), at_end_of(table.weather));
        }) == null);

  // Lists stay as they were.
  std::vector<PotReadings> lists{{&table.garden[0], {sound}}};
  const std::string other =
      "request: found readings of other plantings; expected a list for each of the same";
  CHECK(refusal([&] { add_readings(lists, {}); }) == other);
  CHECK(refusal([&] { add_readings(lists, {{&table.garden[1], {sound}}}); }) == other);
  const PotEvent poured{.when = sound.when, .kind = PotEventKind::watered, .amount = 1.0};
  const std::vector<LogEntry> log{{"a", poured}, {"zz", poured}};
  CHECK(refusal([&] { add_log(lists, log); }) ==
        "request: found a watering of \"zz\"; expected one of a planting that has readings");
  CHECK(lists[0].readings.size() == 1);
}

TEST_CASE("readings: what a file may not hold") {
  const Table table;
  const auto weighed = [&](const std::string& row) {
    return refusal([&] { (void)table.weighings("name,when,weight_kg\n" + row + "\n"); });
  };
  CHECK(weighed("basil,2024-07-01 18:00,0").starts_with("w.csv:2:24: found 0 in weight_kg"));
  CHECK(weighed("basil,2024-07-01 18:00,").starts_with("w.csv:2:24: found nothing in weight_kg"));
  CHECK(
      weighed("basil,yesterday,3").starts_with("w.csv:2:7: found \"yesterday\"; expected a date"));
  CHECK(weighed("basil,2050-07-01 18:00,3").find("outside the weather") != std::string::npos);
}

TEST_CASE(
    "readings: a pot is no heavier than full, by its own tare or else as if it were of stone") {
  Table table;
  const std::string heavy = "name,when,weight_kg\nbasil,2024-07-01 18:00,";
  CHECK(refusal([&] { (void)table.weighings(heavy + "3900\n"); })
            .starts_with("w.csv:2:24: found \"basil\" of 3900 kg, heavier than full; expected at "
                         "most "));
  // 6 kg of stone, no tare known.
  CHECK(table.weighings(heavy + "9.5\n")[1].readings.size() == 1);
  table.garden[1].tare_kg = 1.0;
  CHECK(refusal([&] {
          (void)table.weighings(heavy + "9.5\n");
        }).starts_with("w.csv:2:24: found \"basil\" of 9.5 kg, heavier than full"));
  CHECK(table.weighings(heavy + "4.5\n")[1].readings.size() == 1);
}

}  // namespace wiltline::test
