#include "wiltline/questions/range_of_use.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

// Judged: a third either way for half of all plants, which is a factor of 1.6 for 8 in 10 if
// factors are normal in their logarithm (a third less or more, 0.288, is 0.674 deviations; the
// judged nine in ten, a factor of 1.8, is 1.645 of 0.357): between the two.
TEST_CASE("the range of use is that of 8 in 10 pots, by factors") {
  const Ranged range = range_of_use(3.0);
  CHECK(range.value == 3.0);
  CHECK(near(range.low, 1.875, 1e-12));
  CHECK(near(range.high, 4.8, 1e-12));
  CHECK(range_of_use(0.0) == Ranged{0.0, 0.0, 0.0});
}

}  // namespace
}  // namespace wiltline::test
