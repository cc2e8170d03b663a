// What a change of pot, rain, warmth or place may and may not do. Left out because they are false:
// more wind always, more radiation under a low sun, a warmer night alone, use over a whole season,
// rain under `check` visits. Wind stands in tests/evapotranspiration.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/random_garden.hpp"
#include "support/random_pot.hpp"
#include "support/random_weather.hpp"
#include "wiltline/budget/forcing.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

/// A visit at the same hour of every nth day.
struct EveryNthDay {
  std::vector<Visit> visits;
  int every = 1;

  explicit EveryNthDay(Random& random)
      : visits{{random.uniform(), 1.0}}, every(1 + static_cast<int>(random.below(6))) {}
  [[nodiscard]] DayPlan on(int day) const {
    DayPlan plan;
    if (day % every == 0) plan.visits = visits;
    return plan;
  }
};

void root_through(PotParameters& pot) {
  pot.initial_rooted_share = 1.0;
  pot.root_odds_decay = 0.0;
}

/// Water below the mix makes both comparisons false: "until it drains" sends the drained share of
/// what the mix took up into the saucer, so that the thirstier pot ends with more in it.
void nothing_below(PotParameters& pot) {
  pot.surplus_store_l = pot.watered_store_l = 0.0;
}

}  // namespace

TEST_CASE("a larger pot of the same shape, under the same crown, is never further dried") {
  // Volumes by k, areas by k^(2/3), the same mix: what top and wall lose then grows slower than
  // what the pot holds. Roots all through the mix, or the two would not be rooted alike.
  int wilted = 0;
  for (std::uint64_t seed = 1; seed <= 20000; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    PotParameters small = random_pot(random);
    root_through(small);
    nothing_below(small);
    const double k = std::pow(10.0, random.uniform(0.0, 1.0));
    const double areas = std::pow(k, 2.0 / 3.0);
    PotParameters large = small;
    for (double PotParameters::*litres :
         {&PotParameters::mix_l, &PotParameters::refilled_l, &PotParameters::lower_limit_l,
          &PotParameters::air_dry_l, &PotParameters::saturated_l, &PotParameters::total_available_l,
          &PotParameters::rewet_l}) {
      large.*litres *= k;
    }
    for (double PotParameters::*litres :
         {&PotParameters::readily_evaporable_l, &PotParameters::total_evaporable_l}) {
      large.*litres *= small.single_store ? k : areas;
    }
    for (double PotParameters::*area :
         {&PotParameters::top_area_m2, &PotParameters::wall_evaporation_l_mm,
          &PotParameters::mulch_store_l}) {
      large.*area *= areas;
    }
    const EveryNthDay watered(random);
    PotState in_small{.rooted_share = 1.0};
    PotState in_large{.rooted_share = 1.0};
    for (int day = 0; day < 40; ++day) {
      CAPTURE(day);
      DayForcing forcing = random_forcing(random, small);
      forcing.rain_l = 0.0;
      DayForcing on_large = forcing;
      on_large.full_rates.top_l *= areas;
      on_large.full_rates.mulch_l *= areas;
      on_large.full_rates.wall_l *= areas;
      const DayResult a = run_day(small, in_small, forcing, watered.on(day));
      const DayResult b = run_day(large, in_large, on_large, watered.on(day));
      in_small = a.state;
      in_large = b.state;
      REQUIRE(b.highest_depletion_l / large.total_available_l <=
              a.highest_depletion_l / small.total_available_l + 1e-12);
      REQUIRE(in_large.rooted_depletion_l / large.total_available_l <=
              in_small.rooted_depletion_l / small.total_available_l + 1e-12);
      wilted += a.wilting_at.has_value() ? 1 : 0;
    }
  }
  CHECK(wilted > 10000);
}

TEST_CASE("a larger pot of the garden's own pots is never further dried") {
  // As above, with what gravity takes from a taller pot. A taller mix is drier when refilled: it
  // sheds water, and a shallow pot or an open wall dries, at another share of TAW. Those are left
  // out, and beyond TAW, where no root draws and only the top dries on, all are alike.
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    Planting planting = random_garden(random, catalogue(), 1, "2022-").front();
    planting.saucer_l = planting.pot.reservoir_l = 0.0;
    planting.pot.drains = true;
    planting.pot.wall.evaporation_share = {};
    Planting scaled = planting;
    scaled.pot = planting.pot.scaled_to(planting.pot.mix_l() * std::pow(5.0, random.uniform()));
    PotParameters small = build_pot(planting, model());
    PotParameters large = build_pot(scaled, model());
    root_through(small);
    root_through(large);
    small.rewet_l = large.rewet_l = 0.0;
    if (small.single_store) continue;
    const EveryNthDay watered(random);
    PotState in_small{.rooted_share = 1.0};
    PotState in_large{.rooted_share = 1.0};
    for (int day = 0; day < 40; ++day) {
      const double et0_mm = random.uniform(0.0, 9.0);
      DayForcing forcing;
      forcing.full_rates.transpiration_l = small.top_area_m2 * et0_mm * random.uniform(0.1, 5.0);
      forcing.depletion_fraction = random.uniform(0.1, 0.8);
      DayForcing on_large = forcing;
      forcing.full_rates.top_l = small.top_area_m2 * et0_mm;
      on_large.full_rates.top_l = large.top_area_m2 * et0_mm;
      in_small = run_day(small, in_small, forcing, watered.on(day)).state;
      in_large = run_day(large, in_large, on_large, watered.on(day)).state;
      CAPTURE(day);
      const auto share = [](const PotParameters& pot, const PotState& state) {
        return std::min(state.rooted_depletion_l / pot.total_available_l, 1.0);
      };
      REQUIRE(share(large, in_large) <= share(small, in_small) + 1e-12);
    }
    ++compared;
  }
  CHECK(compared > 2000);
}

TEST_CASE("more rain never dries a pot on fixed visits, where its top gives nothing twice") {
  // The top layer has an account of its own that a plant does not draw on. Rain that wets it lets a
  // plant short of water, or a mix that sheds, keep less below, and the top then gives off all of
  // it: false there. So the top does not evaporate, or is the whole store, or the mix takes up all
  // rain and no plant draws on it. A mix that sheds is rooted through: else unrooted mix that no
  // longer sheds keeps what ran over to the roots before.
  int told_apart = 0;
  for (std::uint64_t seed = 1; seed <= 20000; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    PotParameters pot = random_pot(random);
    nothing_below(pot);
    const bool bare_pot = !pot.single_store && random.chance(0.3);
    if (bare_pot) pot.rewet_l = 0.0;
    if (pot.rewet_l > 0.0) root_through(pot);
    const EveryNthDay watered(random);
    const std::optional<double> give_l =
        random.chance(0.5) ? std::nullopt
                           : std::optional(pot.total_available_l * random.uniform(0.05, 0.6));
    PotState plain{.rooted_share = pot.initial_rooted_share};
    PotState rained = plain;
    for (int day = 0; day < 25; ++day) {
      DayForcing forcing = random_forcing(random, pot);
      if (bare_pot) {
        forcing.full_rates.transpiration_l = forcing.full_rates.wall_l = 0.0;
      } else if (!pot.single_store) {
        forcing.full_rates.top_l = 0.0;
      }
      DayForcing more = forcing;
      if (random.chance(0.2)) more.rain_l += pot.top_area_m2 * random.uniform(0.0, 20.0);
      DayPlan plan = watered.on(day);
      plan.give_l = give_l;
      const DayResult a = run_day(pot, plain, forcing, plan);
      const DayResult b = run_day(pot, rained, more, plan);
      plain = a.state;
      rained = b.state;
      CAPTURE(day);
      const double rounding_l = 1e-12 * pot.refilled_l;
      if (bare_pot) {
        // A root ball takes rain by its share of the mix and loses it by its share of the top,
        // which is more: only of the whole is it true.
        REQUIRE(rained.rooted_depletion_l + rained.unrooted_depletion_l <=
                plain.rooted_depletion_l + plain.unrooted_depletion_l + rounding_l);
      } else {
        REQUIRE(b.highest_depletion_l <= a.highest_depletion_l + rounding_l);
        REQUIRE(rained.rooted_depletion_l <= plain.rooted_depletion_l + rounding_l);
        REQUIRE(rained.unrooted_depletion_l <= plain.unrooted_depletion_l + rounding_l);
      }
      told_apart += rained.rooted_depletion_l < plain.rooted_depletion_l - 1e-6 ? 1 : 0;
    }
  }
  CHECK(told_apart > 10000);
}

/// What the radiation term of FAO-56 eq. 6, 0.408 Rn slope / (slope + gamma*), gains by a degree
/// at equal vapour pressure: the steeper slope brings Rn slope'/slope gamma*/(slope + gamma*), and
/// the warmer ground radiates 4 (Kx^3 + Kn^3) / (Kx^4 + Kn^4) more of the net long-wave (eq. 39).
/// Over slope / (slope + gamma*), MJ m-2 d-1.
double gain_by_a_degree(const ReferenceDay& day, const WeatherDay& weather) {
  const double from_pole = day.temperature_c + 237.3;
  const double steeper = 17.27 * 237.3 / (from_pole * from_pole) - 2.0 / from_pole;  // eq. 13
  const double gamma = day.gamma_kpa_c * (1.0 + 0.34 * day.wind_2m_m_s);
  const double tmax_k = weather.tmax_c + long_wave_kelvin_offset;
  const double tmin_k = weather.tmin_c + long_wave_kelvin_offset;
  const double radiated = day.rnl_mj_m2 * 4.0 * (std::pow(tmax_k, 3) + std::pow(tmin_k, 3)) /
                          (std::pow(tmax_k, 4) + std::pow(tmin_k, 4));
  return day.rn_mj_m2 * steeper * gamma / (day.slope_kpa_c + gamma) - radiated;
}

TEST_CASE("warmer air with the same vapour never lowers what an equal crown could use, by day") {
  // The air term never falls. The radiation term's gain by a degree shrinks as it gets warmer: it
  // rises all the way if it still gains at the warm end, and falls if it loses at the cool end.
  // Where stomata close, leaves take the root of the deficit alone and warmth leaves the air term
  // less weight: up to 0.3 percent less for each degree (judged).
  const Planting tomato =
      one_row("tomato", "nursery 37 l,potting mix,1,2022-05-15,open ground,daily 07:00");
  const PlantingSetting setting = planting_setting(tomato, build_pot(tomato, model()), model());
  int rises = 0;
  int falls = 0;
  for (std::uint64_t seed = 1; seed <= 20000; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const Site site = site_at(random.uniform(-66.0, 66.0), random.uniform(0.0, 2500.0));
    const Date date =
        make_date(2023, 1, 1) + std::chrono::days(static_cast<int>(random.below(365)));
    const WeatherDay weather = random_weather_day(random, site, date);
    WeatherDay warmer = weather;
    const double degrees_c = random.uniform(0.1, 6.0);
    warmer.tmin_c += degrees_c;
    warmer.tmax_c += degrees_c;
    const ReferenceDay cool = reference_day(site, date, weather);
    const ReferenceDay warm = reference_day(site, date, warmer);
    REQUIRE(warm.et0.air_mm >= cool.et0.air_mm);
    Development development(tomato.crop, GrowthClock::stage_days, model().leaf_curve());
    development.resume({.grown = 60.0, .progress = random.uniform(0.1, 1.2)});
    const auto use_l = [&](const WeatherDay& day, const ReferenceDay& open) {
      const SpotDay spot = spot_day(site, date, day, open, tomato.spot, model());
      const CropDay crop = crop_day(setting.crop, spot, development, model());
      return planting_day(setting, crop, 60.0, model()).day.full_rates.potential_use_l();
    };
    if (cool.rn_mj_m2 <= 0.0) continue;
    if (gain_by_a_degree(warm, warmer) >= 0.0) {
      REQUIRE(warm.et0.radiation_mm >= cool.et0.radiation_mm);
      const bool dry = warm.vapour_pressure_deficit_kpa() > model().air_term_vpd_kpa;
      REQUIRE(use_l(warmer, warm) >= use_l(weather, cool) * (dry ? 1.0 - 0.003 * degrees_c : 1.0));
      ++rises;
    } else if (gain_by_a_degree(cool, weather) < 0.0) {
      REQUIRE(warm.et0.radiation_mm < cool.et0.radiation_mm);
      ++falls;
    }
  }
  CHECK(rises > 2000);
  CHECK(falls > 500);
}

TEST_CASE(
    "every place keeps its books: poles, equator and south, leap days and turns of the year") {
  const Date first = make_date(2023, 10, 1);
  const int length = static_cast<int>((make_date(2025, 3, 31) - first).count()) + 1;
  for (const double latitude_deg : {90.0, 78.0, 66.56, 23.44, 0.0, -34.0, -66.56, -78.0, -90.0}) {
    CAPTURE(latitude_deg);
    Random random(501);
    const Site site = site_at(latitude_deg, 50.0);
    const double warmest_night_c = std::abs(latitude_deg) > 60.0 ? 8.0 : 25.0;
    const WeatherRecord record = random_weather(random, site, first, length, warmest_night_c);
    const Place weather(record, model());
    int midnight_sun = 0;
    int polar_night = 0;
    for (const ReferenceDay& day : weather.reference()) {
      midnight_sun += day.daylight_h >= 24.0 ? 1 : 0;
      polar_night += day.daylight_h <= 0.0 ? 1 : 0;
    }
    CHECK((midnight_sun > 10) == (std::abs(latitude_deg) > 67.0));
    CHECK((polar_night > 10) == (std::abs(latitude_deg) > 67.0));
    for (Planting planting : random_garden(random, catalogue(), 30, "2024-")) {
      CAPTURE(planting.name);
      // Planted before the turn of the year, on the leap day, or as the row says.
      const Date starts[] = {make_date(2023, 12, 30), make_date(2024, 2, 29),
                             std::get<Date>(planting.planted)};
      const Date planted = starts[random.below(3)];
      planting.planted = planted;
      planting.ends = make_date(2025, 2, 28);
      const SeasonResult season = run_season(planting, planted, weather, {.ledger = true});
      const PotParameters pot = build_pot(planting, model());
      double before_l = pot.refilled_l;
      Date expected = planted;
      for (const LedgerLine& line : season.ledger) {
        CAPTURE(to_string(line.date));
        REQUIRE(line.date == expected);
        expected += std::chrono::days(1);
        const double in = line.rain_l + line.watered_l;
        const double out = line.transpired_l + line.evaporated_l + line.drained_l;
        // The store's own last bits, as in tests/questions/season_test.cpp.
        REQUIRE(near(in - out, line.store_l - before_l,
                     1e-12 * (in + out) + 4e-15 * (pot.refilled_l + pot.surplus_store_l)));
        for (const auto& hour : {line.stressed_at_h, line.wilting_at_h, line.dry_at_h}) {
          REQUIRE((!hour || (*hour >= 0.0 && *hour <= 24.0)));
        }
        before_l = line.store_l;
      }
      CHECK(expected == make_date(2025, 3, 1));
      CHECK(season.last == make_date(2025, 2, 28));
    }
  }
}

}  // namespace wiltline::test
