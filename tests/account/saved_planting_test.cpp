#include "wiltline/account/saved_planting.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {
namespace {

const Date planted = make_date(2023, 5, 1);

PotEvent watered(int day, double hour, std::optional<double> litres = {}) {
  return {{planted + std::chrono::days(day), hour}, PotEventKind::watered, litres};
}

}  // namespace

TEST_CASE("merging a log: alone it is sorted, complete from its first watering on") {
  const PotEvent felt{{planted + std::chrono::days(2), 8.0}, PotEventKind::top_felt_dry, {}};
  const MergedLog merged =
      merge_log({watered(9, 7.0), watered(4, 18.0, 1.5), felt, watered(-3, 7.0)}, planted, {});
  CHECK(merged.log.events == std::vector<PotEvent>{felt, watered(4, 18.0, 1.5), watered(9, 7.0)});
  CHECK(merged.log.complete_from == watered(4, 18.0).when);
  CHECK(merged.counted_before == 0);
  const MergedLog without = merge_log({felt}, planted, {});
  CHECK_FALSE(without.log.complete_from);
}

TEST_CASE("merging a log: what a saved state holds is not counted twice") {
  SavedPlanting saved{.name = "it", .planted = planted, .run = {}, .log = {}};
  saved.run.date = planted + std::chrono::days(6);
  saved.log = {.events = {watered(6, 8.25, 0.5)}, .complete_from = watered(3, 7.0).when};
  const MergedLog merged = merge_log(
      {watered(3, 7.0), watered(5, 7.0), watered(6, 8.25, 0.5), watered(7, 7.0)}, planted, saved);
  CHECK(merged.log.events == std::vector<PotEvent>{watered(6, 8.25, 0.5), watered(7, 7.0)});
  CHECK(merged.log.complete_from == watered(3, 7.0).when);
  CHECK(merged.counted_before == 2);
  // An older log makes the record complete from an earlier day.
  CHECK(merge_log({watered(1, 7.0)}, planted, saved).log.complete_from == watered(1, 7.0).when);
}

TEST_CASE("merging a log: at one instant what was felt stands beside what was given") {
  const Instant when{planted, 7.0};
  const PotEvent weighed{when, PotEventKind::weighed, 12.0};
  const PotEvent given{when, PotEventKind::watered, {}};
  const MergedLog merged = merge_log({weighed, given, given}, planted, {});
  CHECK(merged.log.events == std::vector<PotEvent>{given, weighed});
}

}  // namespace wiltline::test
