#include "wiltline/account/feeding.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace wiltline::test {
namespace {

constexpr FeedSchedule schedule{.feed_start_days = 21.0,
                                .feed_interval_days = 10.0,
                                .feed_small_interval_days = 21.0,
                                .feed_leached_mixes = 1.0,
                                .feed_small_leaf_share = 0.3,
                                .feed_shortest_interval_days = 7.0};

std::vector<int> feed_days(double leaf_share, double drained_l, int days = 100) {
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

TEST_CASE("feeding: a plant is small below three tenths of its leaves") {
  const auto interval = [](double leaf_share) {
    const auto due = feed_days(leaf_share, 0.0);
    return due[1] - due[0];
  };
  CHECK(interval(0.2999) == 21);
  CHECK(interval(0.3) == 10);
}

TEST_CASE("feeding: a pot volume of drained water brings the next feed forward, once") {
  // 10 L of mix lose 2 L a day: a volume is gone on the fifth, but a week is the shortest interval.
  const auto due = [&](double since_days, double drained_before_l, double drained_l) {
    return feed({.last_days = 30.0, .drained_since_l = drained_before_l}, schedule, 10.0,
                30.0 + since_days, 1.0, drained_l);
  };
  CHECK(due(7.0, 8.0, 2.0).due == 1.0);
  CHECK(due(7.0, 7.9, 2.0).due == 0.0);
  CHECK(due(6.0, 8.0, 2.0).due == 0.0);
  CHECK(due(10.0, 0.0, 0.0).due == 1.0);
  CHECK(due(7.0, 8.0, 2.0).after.drained_since_l == 0.0);
  CHECK(due(7.0, 8.0, 2.0).after.last_days == 37.0);
  CHECK(due(6.0, 8.0, 2.0).after.drained_since_l == 10.0);
  CHECK(due(6.0, 8.0, 2.0).after.last_days == 30.0);
}

}  // namespace wiltline::test
