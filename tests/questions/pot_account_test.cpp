// The account of one pot over its readings: what it foretells, and how its numbers move that.
#include "wiltline/questions/pot_account.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "support/invented_pots.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

/// Weighings without any error, before and after waterings, of a pot with its truth.
struct Weighed {
  Place place{real("seattle.csv"), catalogue().parameters};
  std::vector<Planting> garden = pots_to_learn();
  Truth truth{.use_factor = 1.3, .usable_factor = 1.1, .empty_kg = 9.0};
  PotReadings readings;
  CalibrationOptions options;

  explicit Weighed(double day_error = 0.0) {
    const Date first = *MonthDay{6, 20}.in_year(year_of(place.record().last()) - 1);
    const Writing how{
        .first = first, .scale_error_kg = 0.0, .day_error = day_error, .wrong_kg = 0.0};
    readings = invented_readings(garden[2], truth, how, place, 3);
  }
  [[nodiscard]] PotNumbers true_numbers() const {
    return {std::log(truth.use_factor), std::log(truth.usable_factor), truth.empty_kg,
            truth.plant_kg_per_leaf_m2, std::log(truth.wall_factor)};
  }
};

double squares(const std::vector<Residual>& residuals) {
  return std::accumulate(
      residuals.begin(), residuals.end(), 0.0,
      [](double sum, const Residual& one) { return sum + one.value * one.value; });
}

}  // namespace

TEST_CASE("pot account: the true numbers foretell every weight that has no error") {
  const Weighed weighed;
  PotAccount account(weighed.readings, weighed.place, catalogue(), weighed.options);
  account.set_variances(weighed.true_numbers());
  const std::vector<Residual> residuals = account.residuals(weighed.true_numbers());
  CHECK(residuals.size() == 45);  // with the waterings
  CHECK(account.telling() == 30);
  for (const Residual& one : residuals) {
    CHECK(near(one.off_kg, 0.0, 1e-9));
    if (!one.reading->weighed()) CHECK(one.value == 0.0);
  }
  for (Eigen::Index k = 0; k < PotNumber::count; ++k) {
    INFO(k);
    for (const double by : {-0.1, 0.1}) {
      PotNumbers beside = weighed.true_numbers();
      beside[k] += by;
      CHECK(squares(account.residuals(beside)) > squares(residuals));
    }
  }
}

TEST_CASE(
    "pot account: after a weighing it is nearer to the weight, after a watering not lighter") {
  const Weighed weighed(0.15);
  PotAccount account(weighed.readings, weighed.place, catalogue(), weighed.options);
  account.set_variances(account.prior());
  for (const Residual& one : account.residuals(account.prior())) {
    if (!one.reading->weighed()) {
      CHECK(one.point.then_kg >= one.point.foretold_kg);
      continue;
    }
    CHECK(near(one.reading->weight_kg - one.point.foretold_kg, one.off_kg, 1e-9));
    CHECK(near(one.off_kg / one.point.error_kg.value(), one.value, 1e-9));
    CHECK(std::abs(one.reading->weight_kg - one.point.then_kg) <= std::abs(one.off_kg) + 1e-9);
  }
}

TEST_CASE("pot account: slopes by small steps to either side agree") {
  // So the step of the fit's slopes is neither too long nor lost in rounding; a rate that changes
  // at an edge can part the two at single readings.
  const Weighed weighed(0.15);
  PotAccount account(weighed.readings, weighed.place, catalogue(), weighed.options);
  account.set_variances(account.prior());
  const auto cost_at = [&](const PotNumbers& at) { return squares(account.residuals(at)); };
  for (Eigen::Index k = 0; k < PotNumber::count; ++k) {
    INFO(k);
    const auto slope = [&](double step) {
      PotNumbers above = account.prior();
      PotNumbers below = account.prior();
      above[k] += step;
      below[k] -= step;
      return (cost_at(above) - cost_at(below)) / (2.0 * step);
    };
    const double fine = slope(1e-5 * account.prior_error()[k]);
    const double coarse = slope(0.005 * account.prior_error()[k]);
    CHECK(near(coarse / fine, 1.0, 0.02));
  }
}

TEST_CASE("pot account: what is known of the tare tells how much less a weighed pot would") {
  const Weighed weighed;
  PotReadings with_tare = weighed.readings;
  Planting known = weighed.garden[2];
  known.tare_kg = 4.0;
  with_tare.planting = &known;
  const PotAccount unknown_of(weighed.readings, weighed.place, catalogue(), weighed.options);
  const PotAccount known_of(with_tare, weighed.place, catalogue(), weighed.options);
  CHECK(known_of.prior_error()[PotNumber::empty] < unknown_of.prior_error()[PotNumber::empty]);
  CHECK(near(std::pow(known_of.prior_error()[PotNumber::empty], 2),
             known_of.variance_of(NextMeasure::empty_pot), 1e-12));
  // A day's use varies by 15 % (judged): one says no more than that.
  CHECK(unknown_of.variance_of(NextMeasure::hot_day) > 0.15 * 0.15);
}

}  // namespace wiltline::test
