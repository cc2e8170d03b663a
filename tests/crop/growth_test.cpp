// Growth: the logistic of leaf area, the line of the late season, the two clocks.
#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/crop/growth.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::test {
namespace {

/// A printed number may lie exactly half a digit from the true one; the last bit then decides.
constexpr double floating_point_slack = 1e-9;

Crop bean() {
  Crop crop;
  crop.kcb_mid = 1.14;
  crop.kcb_end = 0.25;
  crop.days_to_full = {50.0, 40.0, 60.0};
  crop.mid_days = 30.0;
  crop.late_days = 20.0;
  crop.base_temperature_c = 10.0;
  crop.upper_temperature_c = 30.0;
  crop.degree_days_to_full = 500.0;
  return crop;
}

/// As shipped.
LeafCurve curve() {
  return catalogue().parameters.leaf_curve();
}

}  // namespace

TEST_CASE("growth: leaf area starts at a hundredth, is half at 0.575 and full at 1") {
  // The form and its middle are judged (models/parameters.csv); what it says of itself is checked
  // here.
  CHECK(near(leaf_area_share(0.0, curve()), 0.01, 0.0005));
  CHECK(near(leaf_area_share(0.575, curve()), 0.5, 0.02));
  CHECK(leaf_area_share(1.0, curve()) == 1.0);
  CHECK(leaf_area_share(1.3, curve()) == 1.0);
  CHECK(leaf_area_share(50.0, curve()) == 1.0);
  CHECK(near(leaf_area_share(1.0 - 1e-9, curve()), 1.0, 1e-7));  // no step where the curve ends
  double before = 0.0;
  for (int i = 0; i <= 1000; ++i) {
    const double now = leaf_area_share(i / 1000.0, curve());
    REQUIRE(now > before);
    REQUIRE(now <= 1.0);
    before = now;
  }
  // Logistic: the log of share over the missing share is a straight line, here of the share of its
  // own upper end a.
  const double a = leaf_area_share(0.575, curve()) * 2.0;
  const auto log_odds = [&](double t) {
    return std::log(leaf_area_share(t, curve()) / (a - leaf_area_share(t, curve())));
  };
  CHECK(near(log_odds(0.575), 0.0, 1e-12));
  CHECK(near(log_odds(0.375) / (0.375 - 0.575), log_odds(0.875) / (0.875 - 0.575), 1e-9));
}

TEST_CASE("growth: the late season of FAO-56 examples 28 and 30 (eq. 66)") {
  const CsvTable table(
      read_file(std::string(WILTLINE_TEST_DATA) + "/reference/fao56-crop-coefficients.csv"));
  int checked = 0;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto number = [&](std::string_view name) {
      return parse_number(table.cell(row, table.column(name).value())).value();
    };
    if (table.cell(row, table.column("quantity").value()) != "late season") continue;
    Crop crop;
    crop.kcb_mid = number("k_mid");
    crop.kcb_end = number("k_end");
    crop.mid_days = number("mid_days");
    crop.late_days = number("late_days");
    const double since_full = number("day") - number("initial_days") - number("development_days");
    CAPTURE(table.line(row));
    CHECK(near(crop.kcb_mid * late_season_share(crop, since_full), number("expected"),
               number("tolerance") + floating_point_slack));
    ++checked;
  }
  CHECK(checked == 4);
}

TEST_CASE("growth: the coefficient is level, then a line, then level again") {
  const Crop crop = bean();
  CHECK(late_season_share(crop, -10.0) == 1.0);
  CHECK(late_season_share(crop, 0.0) == 1.0);
  CHECK(late_season_share(crop, 30.0) == 1.0);
  CHECK(near(late_season_share(crop, 40.0), (1.14 + 0.25) / 2.0 / 1.14, 1e-14));
  CHECK(near(late_season_share(crop, 35.0) - late_season_share(crop, 45.0),
             late_season_share(crop, 30.0) - late_season_share(crop, 40.0), 1e-14));
  CHECK(near(late_season_share(crop, 50.0), 0.25 / 1.14, 1e-14));
  CHECK(near(late_season_share(crop, 500.0), 0.25 / 1.14, 1e-14));

  Crop sudden = bean();
  sudden.late_days = 0.0;
  CHECK(late_season_share(sudden, 30.0) == 1.0);
  CHECK(near(late_season_share(sudden, 30.5), 0.25 / 1.14, 1e-14));
}

TEST_CASE("growth: degree-days above a base, held at an upper temperature") {
  // The usual cut-off rule of heat units: common practice, no source.
  CHECK(degree_days(22.0, 10.0, 30.0) == 12.0);
  CHECK(degree_days(10.0, 10.0, 30.0) == 0.0);
  CHECK(degree_days(-3.0, 10.0, 30.0) == 0.0);
  CHECK(degree_days(30.0, 10.0, 30.0) == 20.0);
  CHECK(degree_days(38.0, 10.0, 30.0) == 20.0);
  CHECK(degree_days(5.0, -2.0, 30.0) == 7.0);
}

TEST_CASE("growth: by stage days, whatever the weather") {
  const Crop crop = bean();
  Development development(crop, GrowthClock::stage_days, curve());
  CHECK(development.progress() == 0.0);
  CHECK(near(development.leaf_area_share(), 0.01, 0.0005));
  CHECK(development.days_since_full() < 0.0);
  CHECK_FALSE(development.mid_season());
  CHECK_FALSE(development.finished());
  for (int day = 1; day <= 25; ++day) development.next_day(day % 2 == 0 ? -5.0 : 40.0);
  CHECK(near(development.progress(), 0.5, 1e-12));
}

TEST_CASE("growth: a crop is full after its days to full canopy, not a day later") {
  for (const auto& entry : catalogue().crops.entries()) {
    CAPTURE(entry.name);
    const double days_to_full = entry.value.days_to_full.value;
    Development development(entry.value, GrowthClock::stage_days, curve());
    int day = 0;
    while (development.progress() < 1.0 && day < 1000) {
      development.next_day(20.0);
      ++day;
    }
    CHECK(day == static_cast<int>(std::ceil(days_to_full)));
    CHECK(development.days_since_full() == 0.0);
    CHECK(development.leaf_area_share() == 1.0);
  }
}

TEST_CASE("growth: mid-season and the end come after their days") {
  const Crop crop = bean();
  Development development(crop, GrowthClock::stage_days, curve());
  while (development.progress() < 1.0) development.next_day(20.0);
  for (int since_full = 0; since_full <= 60; ++since_full) {
    CAPTURE(since_full);
    CHECK(development.days_since_full() == since_full);
    CHECK(development.mid_season() == (since_full <= 30));
    CHECK(development.finished() == (since_full > 50));
    CHECK(development.late_season_share() == late_season_share(crop, since_full));
    development.next_day(20.0);
  }
  CHECK(crop.season_days() == 100.0);
}

TEST_CASE("growth: a crop picked over a season never finishes, by either clock") {
  Crop crop = bean();
  for (const GrowthClock clock : {GrowthClock::stage_days, GrowthClock::degree_days}) {
    for (const LifeSpan life : {LifeSpan::lasts, LifeSpan::declines}) {
      crop.life = life;
      Development development(crop, clock, curve());
      for (int day = 0; day < 300; ++day) {
        development.next_day(20.0);
        CHECK_FALSE(development.finished());
      }
      // Long past its last stage: as in mid-season, or at what it has fallen to.
      const bool lasts = life == LifeSpan::lasts;
      CHECK(development.days_since_full() > crop.mid_days + crop.late_days);
      CHECK(development.mid_season() == lasts);
      CHECK(
          near(development.late_season_share(), lasts ? 1.0 : crop.kcb_end / crop.kcb_mid, 1e-14));
    }
  }
}

TEST_CASE("growth: a plant cut back in mid-season has all of its mid-season before it once more") {
  const Crop crop = bean();
  Development development(crop, GrowthClock::stage_days, curve());
  const auto grow = [&](double days) {
    for (int day = 0; day < static_cast<int>(days); ++day) development.next_day(20.0);
  };
  grow(crop.days_to_full.value + crop.mid_days + crop.late_days / 2.0);
  REQUIRE(development.late_season_share() < 1.0);
  development.prune(0.5);
  CHECK(development.days_since_full() < 0.0);
  CHECK(development.late_season_share() == 1.0);
  int days_to_full = 0;
  for (; development.progress() < 1.0; ++days_to_full) development.next_day(20.0);
  CHECK(days_to_full > 0);
  CHECK(development.days_since_full() == 0.0);
  grow(crop.mid_days);
  CHECK(development.mid_season());
  grow(1.0);
  CHECK_FALSE(development.mid_season());
}

TEST_CASE("growth: by degree-days, at the pace of the weather") {
  const Crop crop = bean();  // 500 degree-days above 10 °C
  const auto days_until_full = [&](double mean_c) {
    Development development(crop, GrowthClock::degree_days, curve());
    int days = 0;
    while (development.progress() < 1.0 && days < 10000) {
      development.next_day(mean_c);
      ++days;
    }
    return days;
  };
  CHECK(days_until_full(20.0) == 50);
  CHECK(days_until_full(15.0) == 100);
  CHECK(days_until_full(30.0) == 25);
  CHECK(days_until_full(40.0) == 25);     // no faster than at the upper temperature
  CHECK(days_until_full(10.0) == 10000);  // never

  // A cold spell only stops the clock.
  Development development(crop, GrowthClock::degree_days, curve());
  for (int day = 0; day < 10; ++day) development.next_day(20.0);
  const double before = development.progress();
  CHECK(near(before, 0.2, 1e-12));
  for (int day = 0; day < 30; ++day) development.next_day(2.0);
  CHECK(development.progress() == before);
}

TEST_CASE("growth: both clocks agree when every day has the temperature the table was made with") {
  // degree_days_to_full = days to full x (middle of the best range - base), rounded to 10 (models/
  // crops.csv says so of every row).
  int checked = 0;
  for (const auto& entry : catalogue().crops.entries()) {
    const Crop& crop = entry.value;
    if (!crop.best_low_c || !crop.best_high_c) continue;
    CAPTURE(entry.name);
    const double warmth = (*crop.best_low_c + *crop.best_high_c) / 2.0 - crop.base_temperature_c;
    CHECK(near(crop.degree_days_to_full, crop.days_to_full.value * warmth, 5.0 + 1e-9));
    ++checked;
  }
  CHECK(checked >= 25);
}

TEST_CASE("growth: pruning cuts leaf area and the plant grows on from there") {
  Crop crop;
  crop.days_to_full = {60.0, 50.0, 70.0};
  crop.mid_days = 40.0;
  crop.late_days = 20.0;
  crop.kcb_mid = crop.kcb_end = 1.0;
  const LeafCurve curve{8.0, 0.575};
  Development plant(crop, GrowthClock::stage_days, curve, 0.02);
  CHECK(near(plant.leaf_area_share(), 0.02, 1e-12));
  for (int day = 0; day < 60; ++day) plant.next_day(20.0);
  CHECK(plant.leaf_area_share() == 1.0);
  plant.prune(0.6);
  CHECK(near(plant.leaf_area_share(), 0.6, 1e-12));
  CHECK_FALSE(plant.mid_season());
  int days = 0;
  while (plant.leaf_area_share() < 1.0 && days < 100) {
    plant.next_day(20.0);
    ++days;
  }
  CHECK(days > 10);
  CHECK(days < 60);
  for (const double share : {0.011, 0.1, 0.5, 0.9, 1.0}) {
    CHECK(near(leaf_area_share(progress_at(share, curve), curve), share, 1e-12));
  }
}

}  // namespace wiltline::test
