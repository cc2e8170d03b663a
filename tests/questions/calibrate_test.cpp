// Calibration: invented pots with a truth that is known, over observed weather.
#include "wiltline/questions/calibrate.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <string>
#include <vector>

#include "support/invented_pots.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

const Place& seattle() {
  static const Place place(real("seattle.csv"), catalogue().parameters);
  return place;
}

Date in_last_summer(unsigned month, unsigned day) {
  return *MonthDay{month, day}.in_year(year_of(seattle().record().last()) - 1);
}

Writing usual_writing() {
  return {.first = in_last_summer(6, 20)};
}

std::string figures(const Sets& sets) {
  const auto of = [](const Sets::Of& one) {
    return "bias " + std::to_string(100.0 * one.bias) + " %, error " +
           std::to_string(100.0 * one.error) + " % (before " +
           std::to_string(100.0 * one.prior_error) + " %), covered " +
           std::to_string(100.0 * one.covered) + " %";
  };
  return "use: " + of(sets.use) + "; usable: " + of(sets.usable) + "; dry time off by " +
         std::to_string(sets.table_lasts_error) + " days by the tables, " +
         std::to_string(sets.learned_lasts_error) + " learned; wrong entries found " +
         std::to_string(sets.wrong_found) + " of " + std::to_string(sets.pots) +
         ", readings called wrong that are not " + std::to_string(sets.falsely_found);
}

}  // namespace

TEST_CASE("calibrate: one pot without errors is found") {
  const std::vector<Planting> garden = pots_to_learn();
  const Truth truth{.use_factor = 1.4, .usable_factor = 0.9, .empty_kg = 9.0};
  Writing how = usual_writing();
  how.scale_error_kg = how.day_error = how.wrong_kg = 0.0;
  const std::vector<PotReadings> readings{invented_readings(garden[0], truth, how, seattle(), 3)};
  const CalibrationResult result = calibrate(readings, seattle(), catalogue(), {});
  REQUIRE(result.pots.size() == 1);
  CHECK(result.converged);
  MESSAGE(result.pots[0].of("use_factor").estimate.value);
  CHECK(near(result.pots[0].of("use_factor").estimate.value, 1.4, 0.04));
  CHECK(result.pots[0].outliers.empty());
}

TEST_CASE("calibrate: truths are covered as often as is said, without bias") {
  const Sets sets = many_sets(40, usual_writing(), seattle(), 1000);
  MESSAGE(figures(sets));
  CHECK(near(sets.use.bias, 0.0, 0.03));
  CHECK(near(sets.usable.bias, 0.0, 0.03));
  // 160 pots: 90 % within 85 to 95 % of many sets; here with room for chance.
  CHECK(sets.use.covered > 0.80);
  CHECK(sets.usable.covered > 0.80);
}

}  // namespace wiltline::test
