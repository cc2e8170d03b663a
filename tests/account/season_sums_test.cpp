// The accumulator against sums written out here, for a chunk of one and for full and partly filled
// chunks of 32.
#include "wiltline/account/season_sums.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random.hpp"

namespace wiltline::test {
namespace {

constexpr int days_to_mid_season = 30;

/// An invented course: only what the sums read.
Course course_of(std::size_t days, bool grows_up, Random& random) {
  Course course;
  course.first = make_date(2023, 5, 1);
  for (std::size_t i = 0; i < days; ++i) {
    CourseDay day;
    day.age_days = static_cast<double>(i);
    day.leaf_area_share = random.uniform();
    day.flowering = i >= 20;
    day.mid_season = grows_up && i >= days_to_mid_season;
    day.comfort = {.frost = random.chance(0.1),
                   .too_warm = random.chance(0.2),
                   .poor_fruit_set = random.chance(0.3)};
    day.tmax_c = random.uniform(20.0, 40.0);
    day.crop.rain_mm = random.chance(0.3) ? 5.0 : 0.0;
    course.days.push_back(day);
  }
  return course;
}

/// What a day did to one pot.
struct PlainDay {
  double use, full_size_use, rain, watered, drained, transpired, evaporated, highest, taw,
      threshold;
  bool sheds, top_dry, past_threshold, stressed, wilting, dry;
  int waterings;
};

PlainDay random_day(Random& random, const CourseDay& day) {
  PlainDay one{};
  one.use = random.uniform(0.0, 4.0);
  one.full_size_use = one.use * random.uniform(1.0, 2.0);
  one.rain = day.crop.rain_mm > 0.0 ? random.uniform(0.0, 2.0) : 0.0;
  one.watered = random.uniform(0.0, 3.0);
  one.drained = random.uniform(0.0, 1.5);
  one.transpired = random.uniform(0.0, 3.0);
  one.evaporated = random.uniform();
  one.taw = random.uniform(2.0, 9.0);
  one.highest = one.taw * random.uniform();
  one.threshold = one.taw * random.uniform(0.3, 0.6);
  one.sheds = random.chance(0.2);
  one.top_dry = random.chance(0.5);
  one.past_threshold = random.chance(0.5);
  one.stressed = random.chance(0.2);
  one.wilting = one.stressed && random.chance(0.5);
  one.dry = one.wilting && random.chance(0.3);
  one.waterings = static_cast<int>(random.below(3));
  return one;
}

template <std::size_t width>
DayOf<width> in_lanes(const std::vector<PlainDay>& pots) {
  DayOf<width> day;
  const bool lines_passed =
      std::any_of(pots.begin(), pots.end(), [](const PlainDay& one) { return one.stressed; });
  day.lines_passed = lines_passed;
  for (std::size_t i = 0; i < pots.size(); ++i) {
    const PlainDay& one = pots[i];
    const auto flag = [](bool is) { return is ? 1.0 : 0.0; };
    day.potential_use[i] = one.use;
    day.full_size_use[i] = one.full_size_use;
    day.rain[i] = one.rain;
    day.watered[i] = one.watered;
    day.drained[i] = one.drained;
    day.transpired[i] = one.transpired;
    day.evaporated[i] = one.evaporated;
    day.waterings[i] = one.waterings;
    day.highest_depletion[i] = one.highest;
    day.taw[i] = one.taw;
    day.threshold[i] = one.threshold;
    day.sheds[i] = flag(one.sheds);
    day.top_felt_dry[i] = flag(one.top_dry);
    day.past_threshold[i] = flag(one.past_threshold);
    // Where no pot passed a line these three hold an earlier day's flags and must not be read.
    day.stressed[i] = lines_passed ? flag(one.stressed) : 1.0;
    day.wilting[i] = lines_passed ? flag(one.wilting) : 1.0;
    day.dry[i] = lines_passed ? flag(one.dry) : 1.0;
  }
  return day;
}

/// The days on which feed is due, by the rule of feeding.hpp.
std::vector<int> feed_days(const std::vector<PlainDay>& days, const Course& course, double mix_l,
                           const ModelParameters& model) {
  std::vector<int> due;
  double drained_l = 0.0;
  for (std::size_t i = 0; i < days.size(); ++i) {
    if (i > 0) drained_l += days[i - 1].drained;
    const double since = due.empty() ? 1e9 : static_cast<double>(i) - due.back();
    const double interval = course.days[i].leaf_area_share < 0.3 ? model.feed_small_interval_days
                                                                 : model.feed_interval_days;
    const bool leached = drained_l >= model.feed_leached_mixes * mix_l && since >= 7.0;
    if (static_cast<double>(i) >= model.feed_start_days && (since >= interval || leached)) {
      due.push_back(static_cast<int>(i));
      drained_l = 0.0;
    }
  }
  return due;
}

double mean(const std::vector<double>& values, std::size_t first, std::size_t count) {
  double sum = 0.0;
  for (std::size_t i = first; i < first + count; ++i) sum += values[i];
  return sum / static_cast<double>(count);
}

void check_sums(const SeasonResult& result, const std::vector<PlainDay>& days, const Course& course,
                const Planting& planting, const ModelParameters& model) {
  const SeasonSummary& s = result.summary;
  SeasonSummary expected;
  std::vector<double> use;
  std::vector<double> full_size_use;
  std::vector<double> waterings;
  std::vector<double> threshold;
  std::vector<double> mid_threshold;
  int hot_days = 0;
  for (std::size_t i = 0; i < days.size(); ++i) {
    const PlainDay& day = days[i];
    const CourseDay& today = course.days[i];
    expected.watered_l += day.watered;
    expected.rain_l += day.rain;
    expected.drained_l += day.drained;
    expected.used_l += day.transpired + day.evaporated;
    expected.waterings += day.waterings;
    expected.stressed_days += day.stressed ? 1 : 0;
    expected.wilting_days += day.wilting ? 1 : 0;
    expected.dry_days += day.dry ? 1 : 0;
    if (day.dry && !expected.first_dry) expected.first_dry = course.date(i);
    expected.care.sheds_water += day.sheds ? 1 : 0;
    expected.care.finger_only += day.top_dry && !day.past_threshold ? 1 : 0;
    expected.care.root_only += !day.top_dry && day.past_threshold ? 1 : 0;
    expected.care.frost += today.comfort.frost ? 1 : 0;
    expected.care.too_warm += today.comfort.too_warm ? 1 : 0;
    expected.care.poor_fruit_set += today.comfort.poor_fruit_set ? 1 : 0;
    expected.care.blossom_end_rot +=
        today.flowering && day.highest > model.rot_line * day.taw ? 1 : 0;
    hot_days += today.tmax_c > model.hot_root_tmax_c ? 1 : 0;
    use.push_back(day.use);
    full_size_use.push_back(day.full_size_use);
    waterings.push_back(day.waterings);
    threshold.push_back(day.threshold);
    if (today.mid_season) mid_threshold.push_back(day.threshold);
  }
  constexpr double rounding = 1e-9;
  CHECK(near(s.watered_l, expected.watered_l, rounding));
  CHECK(near(s.rain_l, expected.rain_l, rounding));
  CHECK(near(s.drained_l, expected.drained_l, rounding));
  CHECK(near(s.used_l, expected.used_l, rounding));
  CHECK(s.days == static_cast<int>(days.size()));
  CHECK(s.waterings == expected.waterings);
  CHECK(s.stressed_days == expected.stressed_days);
  CHECK(s.wilting_days == expected.wilting_days);
  CHECK(s.dry_days == expected.dry_days);
  CHECK(s.first_dry == expected.first_dry);
  const std::vector<int> feeds = feed_days(days, course, planting.pot.mix_l(), model);
  expected.care.feed = static_cast<int>(feeds.size());
  expected.care.hot_roots = planting.pot.wall.dark ? hot_days : 0;
  CHECK(s.care == expected.care);
  CHECK(s.first_feed.has_value() == !feeds.empty());
  if (!feeds.empty()) CHECK(s.first_feed == course.date(static_cast<std::size_t>(feeds.front())));

  const std::size_t week = std::min<std::size_t>(7, days.size());
  double peak = -1.0;
  double full_size_peak = -1.0;
  std::size_t peak_last = 0;
  for (std::size_t first = 0; first + week <= days.size(); ++first) {
    if (mean(use, first, week) > peak) {
      peak = mean(use, first, week);
      peak_last = first + week - 1;
    }
    full_size_peak = std::max(full_size_peak, mean(full_size_use, first, week));
  }
  CHECK(near(s.peak_use_l_day, peak, rounding));
  CHECK(near(s.peak_use_full_size_l_day, full_size_peak, rounding));
  CHECK(s.peak_ends == course.date(peak_last));
  const std::size_t month = std::min<std::size_t>(28, days.size());
  const auto middle = static_cast<int>(peak_last + 1) - static_cast<int>(week / 2);
  const auto from = static_cast<std::size_t>(
      std::clamp(middle - static_cast<int>(month / 2), 0, static_cast<int>(days.size() - month)));
  CHECK(near(s.waterings_week_peak, 7.0 * mean(waterings, from, month), rounding));

  CHECK(s.reached_mid_season == !mid_threshold.empty());
  const double refill_at = mid_threshold.empty() ? mean(threshold, threshold.size() - week, week)
                                                 : mean(mid_threshold, 0, mid_threshold.size());
  CHECK(near(s.refill_at_l, refill_at, rounding));
}

struct Garden {
  std::vector<Planting> plantings;
  std::vector<PlantingSetting> settings;

  Garden() {
    // Tomatoes may rot at the blossom end; of these walls, one is dark.
    for (const char* pot : {"nursery 37 l", "terracotta 30 cm", "fabric 23 l"}) {
      if (catalogue().pots.find(pot) == nullptr) continue;
      plantings.push_back(
          one_row("tomato", std::string(pot) + ",potting mix,1,2023-05-01,patio,daily 07:00"));
    }
    REQUIRE(plantings.size() >= 2);
    for (const Planting& planting : plantings) {
      settings.push_back(planting_setting(planting, build_pot(planting, catalogue().parameters),
                                          catalogue().parameters));
    }
  }
};

template <std::size_t width>
void run(std::size_t pots, std::size_t days, bool grows_up, InstructionSet set, Random& random) {
  const Garden garden;
  const ModelParameters& model = catalogue().parameters;
  const Course course = course_of(days, grows_up, random);
  std::vector<const PlantingSetting*> settings;
  for (std::size_t i = 0; i < pots; ++i) {
    settings.push_back(&garden.settings[i % garden.settings.size()]);
  }
  SeasonSums<width> sums(settings, course, model, set, false);
  std::vector<std::vector<PlainDay>> of_pots(pots);
  for (const CourseDay& today : course.days) {
    std::vector<PlainDay> together;
    for (std::vector<PlainDay>& of_pot : of_pots) {
      of_pot.push_back(random_day(random, today));
      together.push_back(of_pot.back());
    }
    sums.add(in_lanes<width>(together));
  }
  sums.finish();
  for (std::size_t i = 0; i < pots; ++i) {
    CAPTURE(i);
    const SeasonResult result = sums.result(i, 3.25);
    CHECK(result.planting == settings[i]->planting);
    CHECK(result.first == course.first);
    CHECK(result.last == course.last());
    CHECK(result.summary.longest_gap_days == 3.25);
    check_sums(result, of_pots[i], course, *settings[i]->planting, model);
  }
}

/// A dark pot in the sun of noon and afternoon.
Planting dark_pot() {
  Planting planting = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00");
  planting.pot.wall.dark = true;
  planting.spot = {};
  return planting;
}

}  // namespace

TEST_CASE("hot roots: a dark pot in direct sun from 12 to 15, alone and without a net") {
  CHECK(heats_in_sun(dark_pot(), catalogue().parameters));
  const auto with = [](auto change) {
    Planting planting = dark_pot();
    change(planting);
    return heats_in_sun(planting, catalogue().parameters);
  };
  CHECK(with([](Planting& p) { p.spot.sun_to_h = 15.0; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.sun_to_h = 14.99; }));
  CHECK(with([](Planting& p) { p.spot.sun_from_h = 12.0; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.sun_from_h = 12.01; }));
  CHECK_FALSE(with([](Planting& p) { p.pot.wall.dark = false; }));
  CHECK_FALSE(with([](Planting& p) { p.spot.closure = Ranged::exactly(1.0); }));
  CHECK_FALSE(with([](Planting& p) { p.spot.shade_cloth = 0.1; }));
}

TEST_CASE("season sums: one pot against sums written out") {
  Random random(11);
  for (const std::size_t days : {1U, 6U, 7U, 20U, 100U}) {
    for (const bool grows_up : {true, false}) {
      CAPTURE(days);
      run<1>(1, days, grows_up, InstructionSet::baseline, random);
    }
  }
}

TEST_CASE("season sums: chunks of 32, full and not, against sums written out") {
  Random random(12);
  for (const std::size_t pots : {1U, 5U, 32U}) {
    for (const std::size_t days : {3U, 75U}) {
      CAPTURE(pots);
      CAPTURE(days);
      run<chunk_pots>(pots, days, true, widest_instruction_set(), random);
      run<chunk_pots>(pots, days, false, InstructionSet::baseline, random);
    }
  }
}

TEST_CASE("season sums: where no pot limits its plant, use at full size is the use") {
  Random random(13);
  const Garden garden;
  const Course course = course_of(30, false, random);
  const PlantingSetting* const settings[] = {&garden.settings.front()};
  SeasonSums<1> sums(settings, course, catalogue().parameters, InstructionSet::baseline, true);
  for (const CourseDay& today : course.days) sums.add(in_lanes<1>({random_day(random, today)}));
  sums.finish();
  const SeasonSummary summary = sums.result(0, 0.0).summary;
  CHECK(summary.peak_use_l_day > 0.0);
  CHECK(summary.peak_use_full_size_l_day == summary.peak_use_l_day);
}

}  // namespace wiltline::test
