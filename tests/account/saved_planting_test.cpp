#include "wiltline/account/saved_planting.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace wiltline::test {
namespace {

const Date planted = make_date(2023, 5, 10);
constexpr auto one_day = std::chrono::days(1);

PotEvent watered(Date date, double hour) {
  return {{date, hour}, PotEventKind::watered, 1.0};
}
PotEvent felt_dry(Date date, double hour) {
  return {{date, hour}, PotEventKind::top_felt_dry, {}};
}

}  // namespace

TEST_CASE(
    "log: in the order of time, complete from the first watering, not of an earlier planting") {
  const MergedLog merged =
      merge_log({watered(planted + 3 * one_day, 8.0), felt_dry(planted + one_day, 7.0),
                 watered(planted + 2 * one_day, 9.0), watered(planted - one_day, 9.0)},
                planted, {});
  CHECK(merged.log.events == std::vector<PotEvent>{felt_dry(planted + one_day, 7.0),
                                                   watered(planted + 2 * one_day, 9.0),
                                                   watered(planted + 3 * one_day, 8.0)});
  CHECK(merged.log.complete_from == Instant{planted + 2 * one_day, 9.0});
  CHECK(merged.counted_before == 0);
  CHECK_FALSE(merge_log({felt_dry(planted, 7.0)}, planted, {}).log.complete_from);
}

TEST_CASE("log: with a saved state, what it has counted is not counted again") {
  SavedPlanting saved;
  saved.planted = planted;
  saved.run.date = planted + 5 * one_day;
  saved.log.events = {watered(planted + 5 * one_day, 7.0)};
  saved.log.complete_from = Instant{planted + 4 * one_day, 7.0};
  const MergedLog merged =
      merge_log({watered(planted + 4 * one_day, 7.0), watered(planted + 5 * one_day, 7.0),
                 watered(planted + 6 * one_day, 7.0)},
                planted, saved);
  CHECK(merged.counted_before == 1);
  CHECK(merged.log.events == std::vector<PotEvent>{watered(planted + 5 * one_day, 7.0),
                                                   watered(planted + 6 * one_day, 7.0)});
  CHECK(merged.log.complete_from == Instant{planted + 4 * one_day, 7.0});
}

TEST_CASE("readings: in the order of time, each once, without those of an earlier planting") {
  const auto reading = [](int days, ReadingKind kind) {
    return Reading{.when = {planted + days * one_day, 8.0}, .kind = kind};
  };
  const Reading first = reading(1, ReadingKind::weighed_before);
  const Reading after = reading(1, ReadingKind::weighed_after);
  const Reading second = reading(6, ReadingKind::wilted);
  const std::vector<Reading> given{second, after, first, first, reading(-1, ReadingKind::wilted)};
  const MergedReadings whole = merge_readings(given, planted, {});
  CHECK(whole.readings == std::vector<Reading>{first, after, second});
  CHECK(whole.before_planting == 1);

  SavedPlanting saved;
  saved.run.date = planted + 5 * one_day;
  saved.readings = {second};
  MergedReadings rest = merge_readings(given, planted, saved);
  CHECK(rest.readings == std::vector<Reading>{second});
  CHECK(rest.counted_before == 0);
  CHECK(rest.unknown_before == 3);
  saved.learned.emplace();
  rest = merge_readings(given, planted, saved);
  CHECK(rest.counted_before == 3);
  CHECK(rest.unknown_before == 0);
}

TEST_CASE("log: at one instant what was felt stands after what was given; a repeat counts once") {
  const MergedLog merged = merge_log(
      {felt_dry(planted, 7.0), watered(planted, 7.0), watered(planted, 7.0)}, planted, {});
  CHECK(merged.log.events == std::vector<PotEvent>{watered(planted, 7.0), felt_dry(planted, 7.0)});
}

}  // namespace wiltline::test
