// Calibration: invented pots with a truth that is known, over observed weather.
#include "wiltline/questions/calibrate.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <ctime>
#include <string>
#include <vector>

#include "support/invented_pots.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

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
  const auto share = [](std::size_t some, std::size_t all) {
    return std::to_string(100.0 * static_cast<double>(some) / static_cast<double>(all)) + " %";
  };
  return "use: " + of(sets.use) + "; usable: " + of(sets.usable) +
         "; days a refilled pot lasts: " + std::to_string(sets.table_lasts_error) +
         " off by the tables, " + std::to_string(sets.learned_lasts_error) + " learned, " +
         std::to_string(sets.true_use_lasts_error) + " with the true use alone, " +
         std::to_string(sets.truth_lasts_error) + " with all that is true; wrong weights named " +
         share(sets.wrong_found, sets.pots) + ", of the others " +
         share(sets.falsely_found, sets.weighings) + "; of " + std::to_string(sets.ratios) +
         " ratios of usable water to use covered " + std::to_string(100.0 * sets.ratio_covered) +
         " %, without their correlation " + std::to_string(100.0 * sets.ratio_covered_apart) + " %";
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
  CHECK(near(result.pots[0].of("use_factor").estimate.value, 1.4, 0.04));
  CHECK(result.pots[0].outliers.empty());
}

TEST_CASE("calibrate: truths are covered as often as is said, without bias") {
  const Sets sets = many_sets(30, usual_writing(), seattle(), 1000);
  MESSAGE(figures(sets));
  // 120 pots, of which pots of a crop go together: what is asked of many (below), with room for
  // three standard errors of a mean and of a share.
  const double chance = 3.0 / std::sqrt(static_cast<double>(sets.pots));
  CHECK(near(sets.use.bias, 0.0, 0.03 + chance * sets.use.error));
  CHECK(near(sets.usable.bias, 0.0, 0.03 + chance * sets.usable.error));
  CHECK(sets.use.covered > 0.82);
  CHECK(sets.usable.covered > 0.82);
  CHECK(sets.use.error < 0.4 * sets.use.prior_error);
  CHECK(sets.wrong_found >= sets.pots * 7 / 10);
  CHECK(sets.falsely_found <= sets.weighings / 100);
}

TEST_CASE("calibrate: two to four readings leave ranges that hold the truth") {
  Writing few = usual_writing();
  few.wrong_kg = 0.0;
  for (const int weighings : {2, 4}) {
    few.weighings = weighings;
    const Sets sets = many_sets(30, few, seattle(), 3000);
    MESSAGE(weighings << " weighings: " << figures(sets));
    CHECK(sets.use.covered > 0.82);
    CHECK(sets.usable.covered > 0.82);
  }
}

TEST_CASE("calibrate: a wall's range holds the truth, after few readings and after many") {
  const std::vector<Planting> garden = pots_to_learn();
  for (const int weighings : {2, 4, 30}) {
    int covered = 0;
    constexpr int pots = 40;
    for (int i = 0; i < pots; ++i) {
      Normal normal(static_cast<std::uint64_t>(i) + 1);
      Writing how = usual_writing();
      how.weighings = weighings;
      how.wrong_kg = 0.0;
      // As far apart as the tables have walls: 9 in 10 from 0.48 to 2.07 times the middle.
      const Truth truth{.empty_kg = 10.0, .wall_factor = std::exp(0.44 * normal())};
      const PotReadings readings =
          invented_readings(garden[2], truth, how, seattle(), static_cast<std::uint64_t>(i) + 500);
      const Ranged wall =
          calibrate({&readings, 1}, seattle(), catalogue(), {}).pots[0].of("wall_factor").estimate;
      covered += truth.wall_factor >= wall.low && truth.wall_factor <= wall.high ? 1 : 0;
    }
    MESSAGE(weighings << " weighings: " << covered << " of " << pots << " walls covered");
    CHECK(covered >= pots * 8 / 10);
  }
}

// tests/calibration.sh runs the skipped ones.
TEST_CASE("long calibration: 500 sets of invented readings" * doctest::skip()) {
  const Sets sets = many_sets(500, usual_writing(), seattle(), 100000);
  MESSAGE(figures(sets));
  CHECK(near(sets.use.bias, 0.0, 0.03));
  CHECK(near(sets.usable.bias, 0.0, 0.03));
  CHECK(near(sets.use.covered, 0.90, 0.05));
  CHECK(near(sets.usable.covered, 0.90, 0.05));
  CHECK(near(sets.ratio_covered, 0.90, 0.03));
  CHECK(sets.ratio_covered > sets.ratio_covered_apart + 0.02);
  CHECK(sets.falsely_found <= sets.weighings / 100);
}

// Wanted is half the error of the tables. Weighed before and after waterings alone, ten weighings
// take off a quarter, and the true use itself would not take off more: how much water the plants
// can use does not show in pots that are never left dry. It shows where the last two are those that
// calibrate asks for, or where the empty pot was weighed; with both it is half.
TEST_CASE("long calibration: ten weighings against the tables alone" * doctest::skip()) {
  Writing ten = usual_writing();
  ten.weighings = 10;
  ten.wrong_kg = 0.0;
  const auto tried = [&](const std::string& what, bool until_wilting, bool tare_known) {
    ten.until_wilting = until_wilting;
    ten.tare_known = tare_known;
    const Sets sets = many_sets(200, ten, seattle(), 200000);
    MESSAGE(what << ": " << figures(sets));
    return sets.learned_lasts_error / sets.table_lasts_error;
  };
  CHECK(tried("before and after waterings", false, false) < 0.8);
  CHECK(tried("the last two when leaves hang", true, false) < 0.65);
  CHECK(tried("the empty pot weighed", false, true) < 0.6);
  CHECK(tried("both", true, true) < 0.55);
}

TEST_CASE("long calibration: forty pots with thirty weighings, on one core" * doctest::skip()) {
  std::vector<Planting> garden;
  std::vector<PotReadings> readings;
  while (garden.size() < 40) {
    for (const Planting& pot : pots_to_learn()) garden.push_back(pot);
  }
  for (std::size_t i = 0; i < garden.size(); ++i) {
    const Truth truth{.use_factor = 0.8 + 0.015 * static_cast<double>(i), .empty_kg = 8.0};
    readings.push_back(invented_readings(garden[i], truth, usual_writing(), seattle(), i + 1));
  }
  const std::clock_t start = std::clock();  // of the process, all threads
  const CalibrationResult result = calibrate(readings, seattle(), catalogue(), {});
  const double took_s = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  MESSAGE("40 pots with 30 weighings: " << took_s << " s of processor time");
  CHECK(result.converged);
  CHECK(took_s < 2.0);
}

TEST_CASE("calibrate: a plant that follows another model is foretold better than by the tables") {
  // Truth: leaf area x ET0 / 2.88 (the published form that the model is checked against), times a
  // factor of 0.7 to 1.4; the model has stomata, sun on the crown and a ceiling besides.
  const std::vector<Planting> garden = pots_to_learn();
  double tables = 0.0;
  double learned = 0.0;
  int pots = 0;
  for (std::uint64_t set = 0; set < 10; ++set) {
    std::vector<PotReadings> readings;
    std::vector<double> truth_l(garden.size());
    for (std::size_t i = 0; i < garden.size(); ++i) {
      const double factor = 0.7 * std::pow(2.0, static_cast<double>((set + 3 * i) % 10) / 9.0);
      readings.push_back(readings_by_leaf_area(garden[i], factor, usual_writing(), seattle(),
                                               10 * set + i, truth_l[i]));
    }
    const CalibrationResult result = calibrate(readings, seattle(), catalogue(), {});
    for (std::size_t i = 0; i < garden.size(); ++i) {
      const Date last = readings[i].readings.back().when.date;
      Planting own = garden[i];
      own.learned = result.pots[i].learned;
      tables += std::abs(std::log(week_l(garden[i], seattle(), last) / truth_l[i]));
      learned += std::abs(std::log(week_l(own, seattle(), last) / truth_l[i]));
      ++pots;
    }
  }
  MESSAGE("next week's litres off by " << 100.0 * tables / pots << " % by the tables, "
                                       << 100.0 * learned / pots << " % learned");
  CHECK(learned < 0.5 * tables);
}

TEST_CASE("calibrate: readings that say nothing give the prior back") {
  const std::vector<Planting> garden = pots_to_learn();
  std::vector<PotReadings> readings{{&garden[2], {}}};
  const CalibrationResult result = calibrate(readings, seattle(), catalogue(), {});
  const Estimate& use = result.pots[0].of("use_factor");
  CHECK(near(use.estimate.value, 1.0, 1e-9));
  CHECK(near(use.learned, 0.0, 1e-9));
  CHECK(result.pots[0].learned == Learned{});
  CHECK(refusal([&] {
          (void)result.pots[0].of("colour");
        }).starts_with("request: pepper: found no estimate of colour"));
}

TEST_CASE("calibrate: what to measure next tells as much as was promised") {
  const std::vector<Planting> garden = pots_to_learn();
  const auto fitted = [&](const PotReadings& readings) {
    return calibrate({&readings, 1}, seattle(), catalogue(), {}).pots[0];
  };
  CHECK(fitted({&garden[0], {}}).next == NextMeasure::hot_day);
  Writing how = usual_writing();
  how.weighings = 10;
  how.wrong_kg = 0.0;
  const Truth truth{.use_factor = 1.2, .empty_kg = 13.0};
  const PotCalibration before = fitted(invented_readings(garden[0], truth, how, seattle(), 6));
  REQUIRE(before.next == NextMeasure::until_wilting);
  CHECK(before.lasting_error_then < 0.8 * before.lasting_error);
  how.weighings = 12;
  how.until_wilting = true;
  const PotCalibration after = fitted(invented_readings(garden[0], truth, how, seattle(), 6));
  MESSAGE("how long it lasts, standard error: " << before.lasting_error << ", promised "
                                                << before.lasting_error_then << ", then "
                                                << after.lasting_error);
  CHECK(near(after.lasting_error / before.lasting_error_then, 1.0, 0.25));
}

TEST_CASE("calibrate: a wrong weight is named, and marked in the account") {
  const std::vector<Planting> garden = pots_to_learn();
  std::size_t wrong = 0;
  const PotReadings readings = invented_readings(garden[3], {.use_factor = 0.9, .empty_kg = 9.0},
                                                 usual_writing(), seattle(), 12, &wrong);
  const PotCalibration pot = calibrate({&readings, 1}, seattle(), catalogue(), {}).pots[0];
  REQUIRE(pot.outliers.size() == 1);
  CHECK(pot.outliers[0].when == readings.readings[wrong].when);
  CHECK(near(std::abs(pot.outliers[0].off_kg), 1.5, 0.5));
  CHECK(pot.account.size() == readings.readings.size());
  for (std::size_t i = 0; i < pot.account.size(); ++i) {
    CHECK(pot.account[i].outlies == (i == wrong));
    const Reading& one = readings.readings[i];
    CHECK(pot.account[i].weighed_kg ==
          (one.weighed() ? std::optional(one.weight_kg) : std::nullopt));
  }
}

TEST_CASE("calibrate: a pot of a crop learns from another's readings, less than that one") {
  const std::vector<Planting> garden = pots_to_learn();
  const std::vector<PotReadings> readings{
      invented_readings(garden[0], {.use_factor = 1.5, .empty_kg = 12.0}, usual_writing(),
                        seattle(), 5),
      {&garden[1], {}}};
  const CalibrationResult result = calibrate(readings, seattle(), catalogue(), {});
  const Estimate& weighed = result.pots[0].of("use_factor");
  const Estimate& other = result.pots[1].of("use_factor");
  CHECK(other.estimate.value > 1.05);
  CHECK(other.estimate.value < weighed.estimate.value);
  CHECK(other.learned > 0.1);
  CHECK(other.learned < weighed.learned);
}

TEST_CASE("calibrate: wilting and finger tests alone move usable water the right way") {
  const std::vector<Planting> garden = pots_to_learn();
  const Date day = in_last_summer(7, 10);
  const auto seen = [&](ReadingKind kind) {
    const std::vector<PotReadings> readings{
        {&garden[1],
         {{.when = {day, 18.0}, .kind = ReadingKind::watered},
          {.when = {day + std::chrono::days(2), 15.0}, .kind = kind},
          {.when = {day + std::chrono::days(2), 18.0}, .kind = ReadingKind::watered}}}};
    const CalibrationResult result = calibrate(readings, seattle(), catalogue(), {});
    return result.pots[0].of("usable_l").estimate.value /
           result.pots[0].of("use_factor").estimate.value;
  };
  CHECK(seen(ReadingKind::wilted) < seen(ReadingKind::not_wilted));
}

TEST_CASE("calibrate: what drained of what was given tells how much was gone") {
  const std::vector<Planting> garden = pots_to_learn();
  const Date day = in_last_summer(7, 10);
  const auto drained = [&](double litres) {
    std::vector<Reading> log{{.when = {day, 18.0}, .kind = ReadingKind::watered}};
    for (int i = 1; i < 8; ++i) {
      log.push_back({.when = {day + std::chrono::days(i), 18.0},
                     .kind = ReadingKind::watered,
                     .given_l = 6.0,
                     .drained_l = litres});
    }
    const std::vector<PotReadings> readings{{&garden[1], log}};
    return calibrate(readings, seattle(), catalogue(), {}).pots[0].of("use_factor").estimate.value;
  };
  CHECK(drained(5.0) < drained(3.5));
}

}  // namespace wiltline::test
