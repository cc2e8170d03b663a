#include "wiltline/account/season_summary.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"

namespace wiltline::test {
namespace {

/// A dark pot in the sun of noon and afternoon.
Planting dark_pot() {
  Planting planting = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00");
  planting.pot.wall.dark = true;
  planting.spot = {};
  return planting;
}

}  // namespace

TEST_CASE("hot roots: a dark pot in direct sun from 12 to 15, alone and without a net") {
  CHECK(heats_in_sun(dark_pot()));
  const auto with = [](auto change) {
    Planting planting = dark_pot();
    change(planting);
    return heats_in_sun(planting);
  };
  CHECK(with([](Planting& p) { p.spot.sun_to_h = 15.0; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.sun_to_h = 14.99; }));
  CHECK(with([](Planting& p) { p.spot.sun_from_h = 12.0; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.sun_from_h = 12.01; }));
  CHECK_FALSE(with([](Planting& p) { p.pot.wall.dark = false; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.tight_group = true; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.shade_cloth = 0.1; }));
}

TEST_CASE("peak: the four weeks about the peak week, as far as the season has them") {
  struct Case {
    int days;
    int peak_end;  // one past the week's last day
    std::size_t first, count;
  };
  for (const Case& c : {Case{100, 50, 33, 28}, Case{100, 7, 0, 28}, Case{100, 100, 72, 28},
                        Case{20, 12, 0, 20}, Case{28, 28, 0, 28}, Case{29, 29, 1, 28}}) {
    CAPTURE(c.days);
    CAPTURE(c.peak_end);
    SeasonResult result;
    result.first = make_date(2023, 5, 1);
    result.summary.days = c.days;
    std::vector<int> waterings;
    for (int day = 0; day < c.days; ++day) waterings.push_back(day % 3 == 0 ? 2 : 0);
    set_peak(
        {1.5, static_cast<std::size_t>(c.peak_end)}, 1.8,
        [&](std::size_t day) { return waterings[day]; }, result);
    CHECK(result.summary.peak_use_l_day == 1.5);
    CHECK(result.summary.peak_use_full_size_l_day == 1.8);
    CHECK(result.summary.peak_ends == result.first + std::chrono::days(c.peak_end - 1));
    const DayRange month = peak_month(result);
    CHECK(month.first == c.first);
    CHECK(month.count == c.count);
    int count = 0;
    for (std::size_t day = c.first; day < c.first + c.count; ++day) count += waterings[day];
    CHECK(near(result.summary.waterings_week_peak, 7.0 * count / static_cast<double>(c.count),
               1e-12));
  }
}

TEST_CASE("care: each flag counts its own days") {
  CareDays days;
  days.count({.feed = true, .hot_roots = true});
  days.count({.feed = true, .frost = true});
  days.count({.too_warm = true, .poor_fruit_set = true, .blossom_end_rot = true});
  days.count({.sheds_water = true, .finger_only = true});
  days.count({.finger_only = true, .root_only = true});
  CHECK(days == CareDays{.feed = 2,
                         .frost = 1,
                         .too_warm = 1,
                         .poor_fruit_set = 1,
                         .blossom_end_rot = 1,
                         .hot_roots = 1,
                         .sheds_water = 1,
                         .finger_only = 2,
                         .root_only = 1});
}

}  // namespace wiltline::test
