// Readings of a pot: which of them are weights.
#include "wiltline/account/pot_log.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {

TEST_CASE("readings: weights are those before and after a watering, and nothing else") {
  for (const ReadingKind kind : {ReadingKind::weighed_before, ReadingKind::weighed_after}) {
    CHECK(is_weighing(kind));
    CHECK(Reading{.when = {}, .kind = kind}.weighed());
  }
  for (const ReadingKind kind :
       {ReadingKind::top_felt_dry, ReadingKind::top_felt_moist, ReadingKind::wilted,
        ReadingKind::not_wilted, ReadingKind::watered}) {
    CHECK_FALSE(is_weighing(kind));
    CHECK_FALSE(Reading{.when = {}, .kind = kind}.weighed());
  }
}

}  // namespace wiltline::test
