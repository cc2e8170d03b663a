#include "wiltline/questions/shares.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {

TEST_CASE("a share is reached by whole summers, none of none") {
  CHECK(share_reached(19, 20, 0.95));
  CHECK_FALSE(share_reached(18, 20, 0.95));
  // 0.7 of 10 is a hair more than 7 in doubles.
  CHECK(share_reached(7, 10, 0.7));
  CHECK(share_reached(0, 5, 0.0));
  CHECK_FALSE(share_reached(0, 0, 0.0));
}

}  // namespace wiltline::test
