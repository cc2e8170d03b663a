#include "wiltline/account/feeding.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace wiltline::test {
namespace {

ModelParameters model() {
  ModelParameters m;
  m.feed_start_days = 21.0;
  m.feed_interval_days = 10.0;
  m.feed_small_interval_days = 21.0;
  m.feed_leached_mixes = 1.0;
  return m;
}

std::vector<int> feed_days(double leaf_share, double drained_l, int days = 100) {
  const FeedSchedule schedule = feed_schedule(model());
  Feeding feeding;
  std::vector<int> due;
  for (int day = 0; day < days; ++day) {
    const Fed fed = feed(feeding, schedule, 10.0, day, leaf_share, drained_l);
    feeding = fed.after;
    if (fed.due > 0.5) due.push_back(day);
  }
  return due;
}

}  // namespace

TEST_CASE("feeding: starts two to four weeks after planting, then every 7 to 14 days") {
  // Minnesota and Virginia weekly, several bulletins every two weeks, a handout for the start.
  const auto due = feed_days(1.0, 0.0);
  REQUIRE(due.size() > 3);
  CHECK(due.front() >= 14);
  CHECK(due.front() <= 28);
  for (std::size_t i = 1; i < due.size(); ++i) {
    CHECK(due[i] - due[i - 1] >= 7);
    CHECK(due[i] - due[i - 1] <= 14);
  }
}

TEST_CASE("feeding: less often while small, sooner after heavy leaching, never under a week") {
  const auto small = feed_days(0.1, 0.0);
  CHECK(small[1] - small[0] == 21);  // up to 21 days: common practice, no source
  const auto leached = feed_days(1.0, 5.0);
  CHECK(leached[1] - leached[0] == 7);
  const auto normal = feed_days(1.0, 0.5);
  CHECK(normal[1] - normal[0] == 10);
}

}  // namespace wiltline::test
