#include "wiltline/questions/heatwave.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline::test {
namespace {

constexpr std::array<const char*, 4> samples{"tolvenau", "port-okaree", "zarquil-flats",
                                             "skerrowick"};

const ModelParameters& model() {
  return catalogue().parameters;
}

std::vector<Planting> some_plantings() {
  return plantings(
      "a,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"
      "b,tomato,fabric 36 l,coir mix,1,05-15,hot paving,every 2 days 18:00\n"
      "c,basil,clay 3 l,potting mix,3,05-25,balcony,mon wed fri 18:30\n"
      "d,kale,nursery 21 l,potting mix,1,04-10,morning sun,as-needed\n"
      "e,pepper,nursery 5.5 l,bark mix,2,05-20,patio,check daily 07:00\n"
      "f,cucumber,cell 0.1 l,seed mix,1,06-20,patio,daily 07:00\n"
      "g,summer squash,nursery 21 l,potting mix,1,06-25,open ground,daily 07:00\n"
      "h,thyme,half barrel 100 l,herb mix,1,04-20,deep shade,daily 07:00\n");
}

Site middle_north() {
  Site site;
  site.latitude_deg = 45.0;
  return site;
}

WeatherRecord record_of(const std::vector<double>& tmax_c) {
  std::vector<WeatherDay> days;
  for (const double warm : tmax_c) {
    WeatherDay day;
    day.tmin_c = 10.0;
    day.tmax_c = warm;
    days.push_back(day);
  }
  return {"made up", middle_north(), make_date(2023, 6, 1), days, false};
}

/// A pot's day in the spell: what it meets, from a crop grown from planting one day at a time.
struct PlainDay {
  DayForcing forcing;
  DemandCurve curve{12.0, 0.0, 0.0, 0.0};
};

std::vector<PlainDay> plain_days(const PlantingSetting& setting, Date planted,
                                 const HotSpell& spell, const Place& weather) {
  const std::vector<SpotDay>& spot = weather.at(setting.planting->spot);
  Development development(setting.planting->crop, GrowthClock::stage_days,
                          catalogue().parameters.leaf_curve(), setting.crop.first_leaf_share);
  std::vector<PlainDay> days;
  for (Date date = planted; date <= spell.last(); date += std::chrono::days(1)) {
    const SpotDay& day = spot[weather.record().index_of(date)];
    if (date >= spell.first) {
      CropDay crop = crop_day(setting.crop, day, development, model());
      crop.rain_mm = 0.0;
      const auto age = static_cast<double>((date - planted).count());
      days.push_back({planting_day(setting, crop, age, model()).day, day.curve});
    }
    development.next_day(day.mean_temperature_c);
  }
  return days;
}

/// Depletion less threshold at a clock hour, `hours` after a watering at 07:00 on day `start`.
double beyond_threshold(const PotParameters& pot, const std::vector<PlainDay>& days,
                        std::size_t start, double age, double hours) {
  PotState state{.rooted_share = rooted_share(pot, age)};
  state = water(pot, state, litres_until_drained(pot, state)).state;
  double from_h = 7.0;
  double left_h = hours;
  for (std::size_t i = start;; ++i) {
    if (i > start) {
      state = grow_roots(pot, state, days[i].forcing.roots_filled);
      from_h = 0.0;
    }
    const double to_h = std::min(24.0, from_h + left_h);
    const IntervalLimits limits =
        interval_limits(pot, days[i].forcing.depletion_fraction, state.rooted_share);
    const LineDepletions lines = line_depletions(pot, limits);
    const double dx = days[i].curve.share_by(to_h) - days[i].curve.share_by(from_h);
    state = flow(days[i].forcing.full_rates, limits, lines, state, dx).state;
    left_h -= to_h - from_h;
    if (left_h <= 1e-12 || i + 1 == days.size()) {
      return state.rooted_depletion_l - lines[static_cast<std::size_t>(Line::threshold)];
    }
  }
}

}  // namespace

TEST_CASE("heat wave: the hottest spell, against every run of days added up") {
  for (const char* name : samples) {
    const WeatherRecord record = sample(std::string(name) + ".csv");
    const Place weather(record, model());
    for (const int days : {1, 3, 5, 17}) {
      for (const Heat by : {Heat::tmax, Heat::et0}) {
        double hottest = -1e9;
        Date first{};
        for (std::size_t i = 0; i + static_cast<std::size_t>(days) <= record.size(); ++i) {
          double sum = 0.0;
          for (std::size_t j = i; j < i + static_cast<std::size_t>(days); ++j) {
            sum += by == Heat::tmax ? record.day(j).tmax_c : weather.reference()[j].et0.total_mm();
          }
          if (sum > hottest + 1e-9) {
            hottest = sum;
            first = record.date(i);
          }
        }
        CAPTURE(name);
        CAPTURE(days);
        const auto spell = hottest_spell(weather, days, by);
        REQUIRE(spell.has_value());
        CHECK(spell->first == first);
        CHECK(spell->days == days);
        CHECK(
            near(by == Heat::tmax ? spell->mean_tmax_c : spell->mean_et0_mm, hottest / days, 1e-9));
      }
    }
  }
  const WeatherRecord three = record_of({20.0, 21.0, 22.0});
  CHECK(hottest_spell(Place(three, model()), 3, Heat::tmax).has_value());
  CHECK_FALSE(hottest_spell(Place(three, model()), 4, Heat::tmax).has_value());
}

TEST_CASE("heat wave: of equally hot spells the earliest, of long ones the longest") {
  const WeatherRecord record =
      record_of({30.0, 35.0, 35.0, 35.0, 30.0, 36.0, 36.0, 36.0, 30.0, 35.0, 36.0, 30.0});
  const Place weather(record, model());
  CHECK(hottest_spell(weather, 2, Heat::tmax)->first == make_date(2023, 6, 6));
  // Three days twice: the hotter; at 30 °C all of them; at 36 °C three; at 37 °C none.
  CHECK(longest_spell(weather, 35.0, 3)->first == make_date(2023, 6, 6));
  CHECK(longest_spell(weather, 30.0, 3)->days == 12);
  CHECK(longest_spell(weather, 36.0, 3)->days == 3);
  CHECK(longest_spell(weather, 36.0, 3)->mean_tmax_c == 36.0);
  CHECK_FALSE(longest_spell(weather, 36.0, 4).has_value());
  CHECK_FALSE(longest_spell(weather, 37.0, 3).has_value());
}

TEST_CASE("heat wave: a run of hot days may end with the record") {
  const WeatherRecord record = record_of({20.0, 31.0, 32.0, 33.0});
  const auto spell = longest_spell(Place(record, model()), 31.0, 3);
  REQUIRE(spell.has_value());
  CHECK(spell->first == make_date(2023, 6, 2));
  CHECK(spell->last() == record.last());
  CHECK(spell->mean_tmax_c == 32.0);
}

TEST_CASE("heat wave: a stated spell lies in the record or is none") {
  const WeatherRecord record = record_of({20.0, 22.0, 24.0, 26.0});
  const Place weather(record, model());
  const auto spell = spell_from(weather, make_date(2023, 6, 2), 3);
  REQUIRE(spell.has_value());
  CHECK(spell->mean_tmax_c == 24.0);
  CHECK_FALSE(spell_from(weather, make_date(2023, 6, 3), 3).has_value());
  CHECK_FALSE(spell_from(weather, make_date(2023, 5, 31), 3).has_value());
}

TEST_CASE("heat wave: against a plain run, day by day") {
  int refilled = 0;
  int not_once = 0;
  for (const char* name : samples) {
    const WeatherRecord record = sample(std::string(name) + ".csv");
    const Place weather(record, model());
    // A hot spell, and one that young plants meet.
    for (const HotSpell& spell : {hottest_spell(weather, 5, Heat::tmax).value(),
                                  spell_from(weather, make_date(2022, 6, 26), 4).value()}) {
      const std::vector<Planting> garden = some_plantings();
      const HeatwaveResult answer = heatwave(garden, weather, spell, {});
      CHECK(answer.pots.size() + answer.absent.size() == garden.size());
      REQUIRE(answer.pots.size() > 3);
      for (const HeatwavePot& pot : answer.pots) {
        CAPTURE(name);
        CAPTURE(pot.planting->name);
        REQUIRE(pot.planted.has_value());
        const PotParameters parameters = build_pot(*pot.planting, model());
        const PlantingSetting setting = planting_setting(*pot.planting, parameters, model());
        const auto days = plain_days(setting, *pot.planted, spell, weather);
        REQUIRE(days.size() == static_cast<std::size_t>(spell.days));
        const auto age = static_cast<double>((spell.first - *pot.planted).count());

        // Full at 00:00, with the roots of the day before.
        PotState full{.rooted_share = rooted_share(parameters, std::max(age - 1.0, 0.0))};
        full = water(parameters, full, litres_until_drained(parameters, full)).state;
        double peak_l = 0.0;
        for (const PlainDay& day : days) {
          peak_l =
              std::max(peak_l, day.forcing.full_rates.transpiration_l +
                                   day.forcing.full_rates.top_l + day.forcing.full_rates.wall_l);
        }
        CHECK(near(pot.peak_use_l_day, peak_l, 1e-12));

        PotState state = full;
        int waterings = 0;
        int most = 0;
        for (const PlainDay& day : days) {
          DayPlan plan;
          plan.as_needed = true;
          const DayResult result = run_day(parameters, state, day.forcing, plan);
          state = result.state;
          waterings += result.waterings;
          most = std::max(most, result.waterings);
        }
        CHECK(pot.waterings == waterings);
        CHECK(pot.most_waterings_a_day == most);
        CHECK(near(pot.waterings_per_day, waterings / static_cast<double>(days.size()), 1e-12));

        for (const bool twice : {false, true}) {
          state = full;
          VisitedSpell visited;
          for (const PlainDay& day : days) {
            const Visit visits[] = {{.at = day.curve.share_by(7.0)},
                                    {.at = day.curve.share_by(19.0)}};
            DayPlan plan;
            plan.visits = std::span(visits, twice ? 2 : 1);
            const DayResult result = run_day(parameters, state, day.forcing, plan);
            state = result.state;
            visited.stressed_days += result.stressed_at ? 1 : 0;
            visited.wilting_days += result.wilting_at ? 1 : 0;
          }
          const VisitedSpell& answered = twice ? pot.twice_a_day : pot.once_a_day;
          CHECK(answered.stressed_days == visited.stressed_days);
          CHECK(answered.wilting_days == visited.wilting_days);
          CHECK(answered.enough() == (visited.wilting_days == 0));
        }
        not_once += pot.once_a_day.enough() ? 0 : 1;

        // The hour at which the threshold is reached, by halving.
        std::optional<double> soonest_h;
        for (std::size_t i = 0; i < days.size(); ++i) {
          const double day_age = age + static_cast<double>(i);
          const auto beyond = [&](double hours) {
            return beyond_threshold(parameters, days, i, day_age, hours) >= 0.0;
          };
          // The threshold is another from 00:00 on, 17 hours after the watering.
          constexpr double midnight_h = 17.0;
          double low = 0.0;
          double high = midnight_h;
          if (!beyond(high)) {
            if (i + 1 == days.size()) continue;
            low = midnight_h + 1e-9;
            high = 24.0;
            if (beyond(low)) high = low;
            if (!beyond(high)) continue;
          }
          for (int step = 0; step < 60; ++step) {
            const double middle = (low + high) / 2.0;
            (beyond(middle) ? high : low) = middle;
          }
          if (!soonest_h || high < *soonest_h) soonest_h = high;
        }
        REQUIRE(pot.refill_at_h.has_value() == soonest_h.has_value());
        if (!soonest_h) continue;
        const double since_h = *pot.refill_at_h - 7.0;
        CHECK(near(since_h < 0.0 ? since_h + 24.0 : since_h, *soonest_h, 1e-6));
        ++refilled;
      }
    }
  }
  CHECK(refilled > 10);
  CHECK(not_once > 3);
}

TEST_CASE("heat wave: a threshold may be reached in the night after, and not only by day") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, catalogue().parameters);
  const HotSpell spell = hottest_spell(weather, 4, Heat::tmax).value();
  int by_day = 0;
  int by_night = 0;
  int never = 0;
  double soonest_before_h = 0.0;
  for (double threshold = 0.02; threshold <= planting_limits::most_threshold_fraction;
       threshold += 0.004) {
    Planting planting = some_plantings().front();
    planting.threshold_fraction = threshold;
    const HeatwavePot pot = heatwave(planting, weather, spell, {}).pots.front();
    if (!pot.refill_at_h) {
      ++never;
      continue;
    }
    CAPTURE(threshold);
    CHECK(never == 0);  // the higher the threshold, the later it is reached
    const double since_h = std::fmod(*pot.refill_at_h - 7.0 + 24.0, 24.0);
    CHECK(since_h >= soonest_before_h);
    soonest_before_h = since_h;
    (*pot.refill_at_h < 7.0 ? by_night : by_day) += 1;
    const PotParameters parameters = build_pot(planting, model());
    const auto days =
        plain_days(planting_setting(planting, parameters, model()), *pot.planted, spell, weather);
    const auto start = static_cast<std::size_t>((*pot.refill_on - spell.first).count());
    const double age =
        static_cast<double>((spell.first - *pot.planted).count()) + static_cast<double>(start);
    if (*pot.refill_at_h > 0.0) {
      CHECK(near(beyond_threshold(parameters, days, start, age, since_h), 0.0, 1e-9));
    }
  }
  CHECK(by_day > 10);
  CHECK(by_night > 0);
  CHECK(never > 0);
}

TEST_CASE("heat wave: a planting that is not in the ground all through is named, not answered") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, model());
  const auto garden = plantings(
      "late,tomato,nursery 21 l,potting mix,1,07-12,patio,as-needed\n"
      "done,radish,window box 10 l,potting mix,8,04-10,patio,as-needed\n"
      "there,tomato,nursery 21 l,potting mix,1,07-10,patio,as-needed\n");
  const HotSpell spell = spell_from(weather, make_date(2022, 7, 10), 5).value();
  const HeatwaveResult answer = heatwave(garden, weather, spell, {});
  REQUIRE(answer.pots.size() == 1);
  CHECK(answer.pots.front().planting->name == "there");
  CHECK(answer.pots.front().planted == make_date(2022, 7, 10));
  REQUIRE(answer.absent.size() == 2);
  const HeatwaveResult grown = heatwave(garden, weather, spell, {.full_grown = true});
  REQUIRE(grown.pots.size() == 3);
  CHECK(grown.absent.empty());
  // Whatever the day of planting, and larger than a plant just set out.
  CHECK(grown.pots[0].peak_use_l_day == grown.pots[2].peak_use_l_day);
  CHECK(grown.pots[2].peak_use_l_day > 2.0 * answer.pots.front().peak_use_l_day);
  CHECK_FALSE(grown.pots[0].planted.has_value());
}

TEST_CASE("heat wave: full-grown is a planting in mid-season, its roots all through the mix") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, model());
  // Tomato is full-grown well before the last days of August.
  const auto garden = plantings("it,tomato,nursery 21 l,potting mix,1,05-15,patio,as-needed\n");
  const Crop& tomato = garden.front().crop;
  const Date full =
      make_date(2022, 5, 15) + std::chrono::days(static_cast<int>(tomato.days_to_full.value) + 2);
  const HotSpell spell = spell_from(weather, full, 3).value();
  const auto as_it_is = heatwave(garden, weather, spell, {});
  const auto grown = heatwave(garden, weather, spell, {.full_grown = true});
  REQUIRE(as_it_is.pots.size() == 1);
  CHECK(near(grown.pots.front().peak_use_l_day, as_it_is.pots.front().peak_use_l_day, 1e-12));
  CHECK(grown.pots.front().waterings == as_it_is.pots.front().waterings);
  CHECK(grown.pots.front().refill_at_h.has_value() ==
        as_it_is.pots.front().refill_at_h.has_value());
}

TEST_CASE("heat wave: warmer by nothing changes nothing, to the last bit") {
  for (const char* name : samples) {
    const WeatherRecord record = sample(std::string(name) + ".csv");
    const WeatherRecord same = warmer(record, 0.0, {});
    const Place weather(record, model());
    const Place same_weather(same, model());
    for (std::size_t i = 0; i < record.size(); ++i) {
      REQUIRE(weather.reference()[i].et0.total_mm() == same_weather.reference()[i].et0.total_mm());
      REQUIRE(record.day(i).rh_min_pct == same.day(i).rh_min_pct);
      REQUIRE(record.day(i).tmax_c == same.day(i).tmax_c);
    }
    const std::vector<Planting> garden = some_plantings();
    const HotSpell spell = hottest_spell(weather, 5, Heat::tmax).value();
    const auto before = heatwave(garden, weather, spell, {});
    const auto after = heatwave(garden, same_weather, spell, {});
    REQUIRE(before.pots.size() == after.pots.size());
    for (std::size_t i = 0; i < before.pots.size(); ++i) {
      CHECK(before.pots[i].peak_use_l_day == after.pots[i].peak_use_l_day);
      CHECK(before.pots[i].refill_at_h == after.pots[i].refill_at_h);
      CHECK(before.pots[i].waterings == after.pots[i].waterings);
    }
  }
}

TEST_CASE("heat wave: warmer air holds the same vapour, under the same sun") {
  const auto with = [](auto change) {
    std::vector<WeatherDay> days;
    for (int i = 0; i < 20; ++i) {
      WeatherDay day;
      day.tmin_c = 4.0 + i;
      day.tmax_c = 12.0 + 1.3 * i;
      day.wind_m_s = 2.0;
      change(day);
      days.push_back(day);
    }
    return WeatherRecord("made up", middle_north(), make_date(2023, 6, 1), days, false);
  };
  const WeatherRecord records[] = {with([](WeatherDay& day) { day.dew_point_c = 3.0; }),
                                   with([](WeatherDay& day) { day.vapour_pressure_kpa = 0.7; }),
                                   with([](WeatherDay& day) {
                                     day.rh_max_pct = 95.0;
                                     day.rh_min_pct = 41.0;
                                   }),
                                   with([](WeatherDay& day) { day.rh_max_pct = 88.0; }),
                                   with([](WeatherDay& day) { day.rh_mean_pct = 63.0; }),
                                   with([](WeatherDay& day) { day.solar_mj_m2 = 20.0; }),
                                   with([](WeatherDay& day) { day.sunshine_h = 9.0; })};
  for (const WeatherRecord& record : records) {
    const MissingDataOptions missing{.dew_point_offset_c = 2.0};
    const WeatherRecord raised = warmer(record, 3.5, missing);
    const Place before(record, model(), missing);
    const Place after(raised, model(), missing);
    for (std::size_t i = 0; i < record.size(); ++i) {
      const ReferenceDay& cool = before.reference()[i];
      const ReferenceDay& warm = after.reference()[i];
      CHECK(near(warm.vapour_pressure_kpa, cool.vapour_pressure_kpa, 1e-13));
      CHECK(near(warm.rs_mj_m2, cool.rs_mj_m2, 1e-12));
      CHECK(near(warm.temperature_c, cool.temperature_c + 3.5, 1e-12));
      CHECK(warm.vapour_pressure_deficit_kpa() > cool.vapour_pressure_deficit_kpa());
    }
  }
}

TEST_CASE("heat wave: warmer, an equal canopy never uses less from April to September") {
  // Where the air is so dry that stomata hold the leaves to a given deficit, the air term falls
  // with warmth by the combination equation itself: there it may be up to 1.5 percent less for each
  // degree (judged).
  for (const char* name : samples) {
    const WeatherRecord record = sample(std::string(name) + ".csv");
    const std::vector<Planting> garden = some_plantings();
    const Place cool(record, model());
    int checked = 0;
    for (const double degrees_c : {0.5, 3.0, 6.0}) {
      const WeatherRecord raised = warmer(record, degrees_c, {});
      const Place warm(raised, model());
      for (std::size_t i = 0; i < record.size(); ++i) {
        const unsigned month = month_of(record.date(i));
        if (month < 4 || month > 9 || i % 5 != 0) continue;
        const HotSpell day = spell_from(cool, record.date(i), 1).value();
        const auto before = heatwave(garden, cool, day, {.full_grown = true});
        const auto after = heatwave(garden, warm, day, {.full_grown = true});
        for (std::size_t p = 0; p < garden.size(); ++p) {
          const bool dry =
              warm.reference()[i].vapour_pressure_deficit_kpa() > model().air_term_vpd_kpa;
          const double least =
              before.pots[p].peak_use_l_day * (dry ? 1.0 - 0.003 * degrees_c : 1.0);
          if (after.pots[p].peak_use_l_day < least) {
            CAPTURE(name);
            CAPTURE(to_string(record.date(i)));
            CAPTURE(garden[p].name);
            CAPTURE(degrees_c);
            CHECK(after.pots[p].peak_use_l_day >= least);
          }
          ++checked;
        }
      }
    }
    CHECK(checked > 3000);
  }
}

}  // namespace wiltline::test
