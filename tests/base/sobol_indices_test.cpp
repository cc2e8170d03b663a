// Sobol's indices against functions whose indices are known by formula, and how often their ranges
// hold the truth.
#include "wiltline/base/sobol_indices.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <string>

#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/base/random.hpp"
#include "wiltline/base/sobol.hpp"

namespace wiltline::test {
namespace {

using Point = std::vector<double>;

struct Known {
  std::string name;
  std::size_t inputs;
  std::function<double(const Point&)> of;  // of a point of the unit cube
  Point first_order;
  Point total;
};

// Ishigami and Homma (1990): sin x1 + a sin^2 x2 + b x3^4 sin x1 on (-pi, pi), here a = 7, b = 0.1.
// The indices as published for these (Saltelli et al., Global Sensitivity Analysis: The Primer,
// 2008; Sobol and Levitan 1999), four digits, from memory; a test has them from the formula too.
Known ishigami() {
  return {"Ishigami",
          3,
          [](const Point& x) {
            const auto at = [&](std::size_t i) { return std::numbers::pi * (2.0 * x[i] - 1.0); };
            return std::sin(at(0)) + 7.0 * std::pow(std::sin(at(1)), 2) +
                   0.1 * std::pow(at(2), 4) * std::sin(at(0));
          },
          {0.3139, 0.4424, 0.0},
          {0.5576, 0.4424, 0.2437}};
}

// Sobol's g-function (Saltelli and Sobol 1995): the product of (|4 x_i - 2| + a_i) / (1 + a_i).
// With V_i = 1 / (3 (1 + a_i)^2) the variance is the product of (1 + V_i), less 1; S_i = V_i / V
// and ST_i = V_i times the product of the others' (1 + V_j) over V. The a_i of Saltelli et al.
// (2010).
Known g_function() {
  const Point a{0.0, 0.5, 3.0, 9.0, 99.0, 99.0};
  Known known{"g",
              a.size(),
              [a](const Point& x) {
                double product = 1.0;
                for (std::size_t i = 0; i < a.size(); ++i) {
                  product *= (std::abs(4.0 * x[i] - 2.0) + a[i]) / (1.0 + a[i]);
                }
                return product;
              },
              {},
              {}};
  double all = 1.0;
  for (const double of : a) all *= 1.0 + 1.0 / (3.0 * (1.0 + of) * (1.0 + of));
  for (const double of : a) {
    const double one = 1.0 / (3.0 * (1.0 + of) * (1.0 + of));
    known.first_order.push_back(one / (all - 1.0));
    known.total.push_back(one * all / (1.0 + one) / (all - 1.0));
  }
  return known;
}

/// `number` gives the next point of twice as many coordinates: A's and B's by turns.
PairedAnswers asked(const Known& known, std::size_t rows,
                    const std::function<Point(std::size_t)>& number) {
  PairedAnswers answers{.a = {}, .b = {}, .swapped = std::vector<Point>(known.inputs)};
  for (std::size_t row = 0; row < rows; ++row) {
    const Point both = number(row);
    Point a(known.inputs);
    Point b(known.inputs);
    for (std::size_t i = 0; i < known.inputs; ++i) {
      a[i] = both[2 * i];
      b[i] = both[2 * i + 1];
    }
    answers.a.push_back(known.of(a));
    answers.b.push_back(known.of(b));
    for (std::size_t i = 0; i < known.inputs; ++i) {
      Point swapped = a;
      swapped[i] = b[i];
      answers.swapped[i].push_back(known.of(swapped));
    }
  }
  return answers;
}

PairedAnswers over_sobol_points(const Known& known, std::size_t rows, std::uint64_t seed) {
  return asked(known, rows, [&](std::size_t row) {
    return shifted_sobol_point(2 * known.inputs, rows - 1 + row, seed);
  });
}

PairedAnswers over_random_points(const Known& known, std::size_t rows, std::uint64_t seed) {
  return asked(known, rows, [&, bits = RandomBits(seed)](std::size_t) mutable {
    Point point(2 * known.inputs);
    for (double& x : point) x = bits.uniform();
    return point;
  });
}

struct Repeated {
  Point mean;
  Point error;      // root mean square, from the truth
  Point deviation;  // standard deviation of one estimate
  Point held;       // share of ranges that hold the truth
};

/// First-order indices, then total ones, of `repeats` sets of points.
Repeated repeated(const Known& known, int repeats,
                  const std::function<PairedAnswers(std::uint64_t)>& answers) {
  const std::size_t all = 2 * known.inputs;
  Repeated result{Point(all), Point(all), Point(all), Point(all)};
  for (int repeat = 0; repeat < repeats; ++repeat) {
    const auto seed = static_cast<std::uint64_t>(repeat + 1);
    const auto found = sobol_indices(answers(seed), seed);
    REQUIRE(found);
    for (std::size_t i = 0; i < all; ++i) {
      const bool first = i < known.inputs;
      const std::size_t input = first ? i : i - known.inputs;
      const IndexEstimate& one = first ? found->first_order[input] : found->total[input];
      const double truth = first ? known.first_order[input] : known.total[input];
      result.mean[i] += one.value / repeats;
      result.error[i] += std::pow(one.value - truth, 2) / repeats;
      result.held[i] += (one.low <= truth && truth <= one.high ? 1.0 : 0.0) / repeats;
    }
  }
  for (std::size_t i = 0; i < all; ++i) {
    const bool first = i < known.inputs;
    const double truth = first ? known.first_order[i] : known.total[i - known.inputs];
    result.deviation[i] = std::sqrt(result.error[i] - std::pow(result.mean[i] - truth, 2));
    result.error[i] = std::sqrt(result.error[i]);
  }
  return result;
}

}  // namespace

// V = a^2 / 8 + b pi^4 / 5 + b^2 pi^8 / 18 + 1 / 2, V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8, V13
// = 8 b^2 pi^8 / 225.
TEST_CASE("sobol indices: the published figures of Ishigami's function follow from its formula") {
  const double p4 = std::pow(std::numbers::pi, 4);
  const double v1 = std::pow(1.0 + 0.1 * p4 / 5.0, 2) / 2.0;
  const double v2 = 49.0 / 8.0;
  const double v13 = 8.0 * 0.01 * p4 * p4 / 225.0;
  const double all = v1 + v2 + v13;
  CHECK(near(all, 49.0 / 8.0 + 0.1 * p4 / 5.0 + 0.01 * p4 * p4 / 18.0 + 0.5, 1e-12));
  const Known known = ishigami();
  constexpr double half_a_digit = 0.00005;
  CHECK(near(v1 / all, known.first_order[0], half_a_digit));
  CHECK(near(v2 / all, known.first_order[1], half_a_digit));
  CHECK(near((v1 + v13) / all, known.total[0], half_a_digit));
  CHECK(near(v13 / all, known.total[2], half_a_digit));
}

TEST_CASE("sobol indices: right on average, as far as the sampling error lets one see") {
  constexpr int repeats = 100;
  for (const Known& known : {ishigami(), g_function()}) {
    const Repeated found = repeated(
        known, repeats, [&](std::uint64_t seed) { return over_random_points(known, 512, seed); });
    for (std::size_t i = 0; i < 2 * known.inputs; ++i) {
      CAPTURE(known.name);
      CAPTURE(i);
      const double truth = i < known.inputs ? known.first_order[i] : known.total[i - known.inputs];
      // Four standard errors of the mean of the repeats; the ratio's own bias is of the order of
      // 1 / rows.
      CHECK(near(found.mean[i], truth, 4.0 * found.deviation[i] / std::sqrt(repeats) + 1.0 / 512));
    }
  }
}

TEST_CASE("sobol indices: over Sobol points far nearer than over random ones") {
  constexpr int repeats = 20;
  for (const Known& known : {ishigami(), g_function()}) {
    double even = 0.0;
    double random = 0.0;
    const Repeated over_even = repeated(
        known, repeats, [&](std::uint64_t seed) { return over_sobol_points(known, 1024, seed); });
    const Repeated over_random = repeated(
        known, repeats, [&](std::uint64_t seed) { return over_random_points(known, 1024, seed); });
    for (std::size_t i = 0; i < 2 * known.inputs; ++i) {
      CAPTURE(known.name);
      CAPTURE(i);
      even += std::pow(over_even.error[i], 2);
      random += std::pow(over_random.error[i], 2);
      MESSAGE(known.name << " " << i << ": error over Sobol points " << over_even.error[i]
                         << ", over random ones " << over_random.error[i]);
    }
    CHECK(std::sqrt(even) < 0.5 * std::sqrt(random));
  }
}

TEST_CASE("sobol indices: ranges for 9 in 10 hold the truth of random points") {
  constexpr int repeats = 300;
  for (const Known& known : {ishigami(), g_function()}) {
    const Repeated found = repeated(
        known, repeats, [&](std::uint64_t seed) { return over_random_points(known, 256, seed); });
    const Repeated even = repeated(
        known, 40, [&](std::uint64_t seed) { return over_sobol_points(known, 256, seed); });
    for (std::size_t i = 0; i < 2 * known.inputs; ++i) {
      CAPTURE(known.name);
      CAPTURE(i);
      MESSAGE(known.name << " " << i << ": held " << found.held[i] << " over random points, "
                         << even.held[i] << " over Sobol points");
      CHECK(near(found.held[i], 0.9, 0.08));
    }
  }
}

TEST_CASE("sobol indices: an input without effect has a total of 0, and nothing is clipped") {
  Known known{"first alone", 2, [](const Point& x) { return x[0]; }, {1.0, 0.0}, {1.0, 0.0}};
  const auto found = sobol_indices(over_random_points(known, 256, 3), 1);
  REQUIRE(found);
  CHECK(found->total[1].value == 0.0);
  CHECK(found->first_order[1].value == 0.0);
  CHECK(found->first_order[0].low < 1.0);
  CHECK(found->first_order[0].high > 1.0);
  CHECK(near(found->mean, 0.5, 4.0 * std::sqrt(1.0 / 12.0 / 512.0)));
  // Of Ishigami's third input, 0 by itself, about half of the estimates are negative.
  int negative = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const auto one = sobol_indices(over_random_points(ishigami(), 64, seed), seed);
    REQUIRE(one);
    negative += one->first_order[2].value < 0.0 ? 1 : 0;
  }
  CHECK(std::abs(negative - 20) < 4.0 * std::sqrt(10.0));
}

TEST_CASE("sobol indices: an answer that does not vary has none") {
  const Known same{"same", 2, [](const Point&) { return 3.7; }, {}, {}};
  CHECK(!sobol_indices(over_random_points(same, 64, 1), 1));
  const Known rounding{"rounding", 2, [](const Point& x) { return 3.7 + 1e-14 * x[0]; }, {}, {}};
  CHECK(!sobol_indices(over_random_points(rounding, 64, 1), 1));
  // Other in one row of 64: a third of the samples lack it.
  PairedAnswers rare = over_random_points(same, 64, 1);
  rare.a[5] = 4.0;
  CHECK(!sobol_indices(rare, 1));
  // Far from 0 the mean does not drown the variance.
  const Known high{"high", 1, [](const Point& x) { return 1e6 + x[0]; }, {}, {}};
  const auto found = sobol_indices(over_random_points(high, 64, 1), 1);
  REQUIRE(found);
  CHECK(near(found->variance, 1.0 / 12.0, 0.03));
}

TEST_CASE("sobol indices: the same seed gives the same ranges; refusals") {
  PairedAnswers answers = over_random_points(ishigami(), 64, 1);
  const auto one = sobol_indices(answers, 4);
  const auto again = sobol_indices(answers, 4);
  const auto other = sobol_indices(answers, 5);
  REQUIRE((one && again && other));
  CHECK(one->total[0].low == again->total[0].low);
  CHECK(one->total[0].low != other->total[0].low);
  CHECK(one->total[0].value == other->total[0].value);
  answers.swapped[1].pop_back();
  CHECK(refusal([&] { (void)sobol_indices(answers, 1); }) ==
        "request: found 63 answers beside 64; expected as many");
  answers.swapped[1].push_back(std::numeric_limits<double>::quiet_NaN());
  CHECK(refusal([&] { (void)sobol_indices(answers, 1); }) ==
        "request: found an answer that is no number; expected one");
  CHECK(refusal([] { (void)sobol_indices(over_random_points(ishigami(), 31, 1), 1); }) ==
        "request: found 31 rows of answers; expected 32 at least");
}

}  // namespace wiltline::test
