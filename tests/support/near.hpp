// Comparing numbers in tests. doctest's own Approx is lax near zero; this one is absolute.
#pragma once

#include <cmath>
#include <ostream>

namespace wiltline::test {

/// The outcome of a comparison, printed by doctest when a CHECK fails.
struct Near {
  double actual;
  double expected;
  double tolerance;

  /// False for NaN on either side.
  explicit operator bool() const { return std::abs(actual - expected) <= tolerance; }

  friend std::ostream& operator<<(std::ostream& stream, const Near& near) {
    const auto precision = stream.precision(17);
    stream << near.actual << " against " << near.expected << ", off by "
           << near.actual - near.expected << ", allowed " << near.tolerance;
    stream.precision(precision);
    return stream;
  }
};

[[nodiscard]] inline Near near(double actual, double expected, double tolerance) {
  return {actual, expected, tolerance};
}

}  // namespace wiltline::test
