#include "wiltline/questions/range_of_use.hpp"

#include <doctest/doctest.h>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

// Judged: about a third either way, by factors, so that the range is never below zero.
TEST_CASE("the range of use is a third either way, by factors") {
  const Ranged range = range_of_use(3.0);
  CHECK(range.value == 3.0);
  CHECK(near(range.low, 2.26, 0.005));
  CHECK(near(range.high, 3.99, 0.005));
  CHECK(range_of_use(0.0) == Ranged{0.0, 0.0, 0.0});
}

}  // namespace
}  // namespace wiltline::test
