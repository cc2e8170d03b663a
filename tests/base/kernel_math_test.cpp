#include "wiltline/base/kernel_math.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/near.hpp"
#include "support/random.hpp"

namespace wiltline::test {

TEST_CASE("kernel exponential agrees with the library's to the last bits") {
  Random random(1);
  for (int i = 0; i < 200000; ++i) {
    const double x = random.uniform(-690.0, 690.0) * std::pow(random.uniform(), 3.0);
    CAPTURE(x);
    const double relative = kernel::exponential(x) / std::exp(x) - 1.0;
    REQUIRE(near(relative, 0.0, 5e-16));
  }
  CHECK(kernel::exponential(0.0) == 1.0);
  CHECK(kernel::exponential(-1e9) ==
        kernel::exponential(-700.0));  // held, never a denormal or zero
  CHECK(kernel::exponential(-700.0) > 0.0);
}

TEST_CASE("mean decay is (1 - e^-z)/z on both sides of its series, and 1 at zero") {
  const auto mean_decay = [](double z) {
    return kernel::mean_decay_of(z, kernel::exponential(-z));
  };
  CHECK(mean_decay(0.0) == 1.0);
  Random random(2);
  for (int i = 0; i < 200000; ++i) {
    const double z = random.uniform(-30.0, 30.0) * std::pow(random.uniform(), 6.0);
    CAPTURE(z);
    const double expected = z == 0.0 ? 1.0 : -std::expm1(-z) / z;
    REQUIRE(near(mean_decay(z) / expected, 1.0, 2e-15));
  }
  // No step where the series hands over.
  CHECK(near(mean_decay(0.35 - 1e-15), mean_decay(0.35), 1e-14));
}

TEST_CASE("ln(1 + z) agrees with the library's to the last bits, from nothing to the huge") {
  Random random(3);
  for (int i = 0; i < 200000; ++i) {
    const double z = std::pow(10.0, random.uniform(-18.0, i % 2 == 0 ? 1.0 : 299.0));
    CAPTURE(z);
    REQUIRE(near(kernel::log_of_one_and(z) / std::log1p(z), 1.0, 4.5e-16));
  }
  CHECK(kernel::log_of_one_and(0.0) == 0.0);
  for (const double edge : {std::sqrt(2.0) - 1.0, 1.0, std::sqrt(8.0) - 1.0}) {
    for (const double z : {std::nextafter(edge, 0.0), edge, std::nextafter(edge, 9.0)}) {
      CAPTURE(z);
      CHECK(near(kernel::log_of_one_and(z) / std::log1p(z), 1.0, 4.5e-16));
    }
  }
}

TEST_CASE("ln x agrees with the library's to the last bits, and ln 0 is as good as none") {
  Random random(4);
  for (int i = 0; i < 200000; ++i) {
    const double x =
        std::pow(10.0, random.uniform(-300.0, 300.0) * std::pow(random.uniform(), 3.0));
    CAPTURE(x);
    const double expected = std::log(x);
    REQUIRE(near(kernel::logarithm(x), expected, 4.5e-16 * std::max(1.0, std::abs(expected))));
  }
  CHECK(kernel::logarithm(1.0) == 0.0);
  CHECK(kernel::exponential(kernel::logarithm(0.0)) < 1e-300);
}

}  // namespace wiltline::test
