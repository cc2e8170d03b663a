#include "wiltline/base/normal_draw.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/near.hpp"

namespace wiltline::test {

TEST_CASE("normal draw: a number number leaves the share asked for below it") {
  // Abramowitz and Stegun 1964, table 26.5: x where Q(x) is given.
  CHECK(near(normal_at_level(0.0), 0.0, 1e-15));
  CHECK(near(normal_at_level(2.0 * 0.900 - 1.0), 1.28155, 5e-6));
  CHECK(near(normal_at_level(2.0 * 0.975 - 1.0), 1.95996, 5e-6));
  CHECK(near(normal_at_level(2.0 * 0.995 - 1.0), 2.57583, 5e-6));
  // Back through the standard library's error function.
  for (double level = -0.999; level < 1.0; level += 0.037) {
    CHECK(near(std::erf(normal_at_level(level) / std::sqrt(2.0)), level, 4e-16));
  }
}

TEST_CASE("normal draw: the ends of all levels give six standard errors, not infinity") {
  CHECK(near(normal_at_level(1.0), 6.1094, 1e-3));
  CHECK(near(normal_at_level(-1.0), -6.1094, 1e-3));
}

}  // namespace wiltline::test
