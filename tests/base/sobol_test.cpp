// Sobol points against the published sequence, and what they are for: means that are nearer.
#include "wiltline/base/sobol.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/base/random.hpp"

namespace wiltline::test {

// Joe and Kuo, "Notes on generating Sobol sequences" (2008), the first ten points in three
// dimensions of their direction numbers new-joe-kuo-6.21201, without the origin; from memory. The
// fourth and fifth dimension worked out by hand from the direction numbers of the same file (s = 3,
// a = 1, m = 1 3 1 and a = 2, m = 1 1 1).
TEST_CASE("sobol: the published first points") {
  constexpr std::array<std::array<double, 5>, 7> published{{
      {0.5, 0.5, 0.5, 0.5, 0.5},
      {0.75, 0.25, 0.25, 0.25, 0.75},
      {0.25, 0.75, 0.75, 0.75, 0.25},
      {0.375, 0.375, 0.625, 0.875, 0.375},
      {0.875, 0.875, 0.125, 0.375, 0.875},
      {0.625, 0.125, 0.875, 0.625, 0.625},
      {0.125, 0.625, 0.375, 0.125, 0.125},
  }};
  for (std::size_t n = 0; n < published.size(); ++n) {
    const std::vector<double> point = sobol_point(5, n);
    for (std::size_t i = 0; i < 5; ++i) {
      CAPTURE(n);
      CAPTURE(i);
      CHECK(point[i] == published[n][i]);
    }
  }
}

TEST_CASE("sobol: every stretch of 2^k points has one in each 2^-k of every dimension") {
  constexpr std::size_t points = 256;
  for (const std::uint64_t seed : {1U, 7U}) {
    std::vector<std::array<int, points>> counts(most_sobol_dimensions);
    for (std::size_t n = 0; n < points; ++n) {
      // The sequence with its origin begins one before number 0: a stretch ends on 2^k - 2.
      const std::vector<double> point =
          shifted_sobol_point(most_sobol_dimensions, n + points - 1, seed);
      for (std::size_t i = 0; i < point.size(); ++i) {
        ++counts[i][static_cast<std::size_t>(point[i] * points)];
      }
    }
    for (const auto& of : counts) {
      CHECK(std::all_of(of.begin(), of.end(), [](int count) { return count == 1; }));
    }
  }
}

TEST_CASE("sobol: a mean is nearer than over random points, and right over the seeds") {
  // The mean over the cube of the sum of x_i^2 over 20 dimensions: 20 / 3.
  constexpr std::size_t dimensions = 20;
  constexpr std::size_t points = 128;
  constexpr double truth = dimensions / 3.0;
  const auto of = [](const std::vector<double>& point) {
    double sum = 0.0;
    for (const double x : point) sum += x * x;
    return sum;
  };
  double even = 0.0;
  double random = 0.0;
  double bias = 0.0;
  constexpr int seeds = 50;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    RandomBits bits(seed);
    double even_mean = 0.0;
    double random_mean = 0.0;
    for (std::uint64_t n = 0; n < points; ++n) {
      even_mean += of(shifted_sobol_point(dimensions, n, seed)) / points;
      for (std::size_t i = 0; i < dimensions; ++i) {
        random_mean += std::pow(bits.uniform(), 2) / points;
      }
    }
    bias += (even_mean - truth) / seeds;
    even += std::pow(even_mean - truth, 2) / seeds;
    random += std::pow(random_mean - truth, 2) / seeds;
  }
  CHECK(std::sqrt(even) < 0.2 * std::sqrt(random));
  CHECK(near(bias, 0.0, 3.0 * std::sqrt(even / seeds) + 1e-9));
}

TEST_CASE("sobol: more dimensions than there are direction numbers kept for are refused") {
  CHECK(refusal([] { (void)sobol_point(most_sobol_dimensions + 1, 0); }) ==
        "request: found 257 dimensions of a Sobol sequence; expected at most 256");
}

}  // namespace wiltline::test
