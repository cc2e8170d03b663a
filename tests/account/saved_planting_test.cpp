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

TEST_CASE("log: at one instant what was felt stands after what was given; a repeat counts once") {
  const MergedLog merged = merge_log(
      {felt_dry(planted, 7.0), watered(planted, 7.0), watered(planted, 7.0)}, planted, {});
  CHECK(merged.log.events == std::vector<PotEvent>{watered(planted, 7.0), felt_dry(planted, 7.0)});
}

}  // namespace wiltline::test
