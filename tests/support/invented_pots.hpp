// Pots with a truth that is known: what a gardener would have written of them, invented.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "wiltline/account/course.hpp"
#include "wiltline/account/journey.hpp"
#include "wiltline/base/random.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/calibrate.hpp"

namespace wiltline::test {

/// Observed weather, and a day of the last whole summer in it.
inline const Place& seattle() {
  static const Place place(real("seattle.csv"), catalogue().parameters);
  return place;
}
inline Date in_last_summer(unsigned month, unsigned day) {
  return *MonthDay{month, day}.in_year(year_of(seattle().record().last()) - 1);
}

/// Normal numbers by Box and Muller.
class Normal {
 public:
  explicit Normal(std::uint64_t seed) : bits_(seed) {}
  double operator()() {
    constexpr double pi = 3.14159265358979323846;
    return std::sqrt(-2.0 * std::log(1.0 - bits_.uniform())) * std::cos(2.0 * pi * bits_.uniform());
  }
  double uniform() { return bits_.uniform(); }

 private:
  RandomBits bits_;
};

/// What a pot truly is, beside its row.
struct Truth {
  double use_factor = 1.0;
  double usable_factor = 1.0;
  double empty_kg = 0.0;  // pot and dry mix
  double plant_kg_per_leaf_m2 = 2.0;
  double wall_factor = 1.0;
};

/// How the readings are made.
struct Writing {
  Date first{};               // of the readings
  int weighings = 30;         // evening before, then after watering, every day or so
  double missed_share = 0.3;  // of the days
  double scale_error_kg = 0.035;
  double day_error = 0.15;  // of a day's use, anew each day: the weather at the pot
  double wrong_kg = 1.5;    // one weighing is off by it; 0: none
  /// The last two: on the evening on which leaves are first seen to hang, after it was left dry.
  bool until_wilting = false;
  bool tare_known = false;
};

/// Days as a pot truly has them: each with its own error.
inline SpotWeather with_day_errors(const std::vector<SpotDay>& days, std::uint64_t seed,
                                   double error) {
  return [&days, seed, error](std::size_t index) {
    SpotDay day = days[index];
    Normal normal(seed * 100000U + index);
    const double factor = std::max(0.2, 1.0 + error * normal());
    day.et0.radiation_mm *= factor;
    day.et0.air_mm *= factor;
    day.leaf_air_mm *= factor;
    day.surface_mm *= factor;
    day.open_et0_mm *= factor;
    return day;
  };
}

inline Planting with_truth(Planting planting, const Truth& truth, const ModelParameters& model) {
  const PotParameters usual = build_pot(planting, model);
  planting.learned.use_factor = truth.use_factor;
  planting.learned.wall_factor = truth.wall_factor;
  planting.learned.usable_l =
      std::min(usual.total_available_l * truth.usable_factor, usual.mix_l - usual.lower_limit_l);
  return planting;
}

/// The readings of a pot whose account runs as `truth` says, watered until it drains in the evening
/// after it was weighed, and weighed again.
/// `wrong`: takes which reading is the wrong one.
inline PotReadings invented_readings(const Planting& planting, const Truth& truth,
                                     const Writing& how, const Place& place, std::uint64_t seed,
                                     std::size_t* wrong = nullptr) {
  PotReadings readings{&planting, {}};
  Normal normal(seed);
  constexpr double evening_h = 18.0;
  constexpr int pair = 2;
  Date date = how.first;
  const auto add = [&](ReadingKind kind) {
    readings.readings.push_back({.when = {date, evening_h}, .kind = kind});
  };
  const auto add_evening = [&] {
    add(ReadingKind::weighed_before);
    add(ReadingKind::watered);
    add(ReadingKind::weighed_after);
    date += std::chrono::days(1);
  };
  for (int i = how.until_wilting ? pair : 0; i < how.weighings; i += pair) {
    while (normal.uniform() < how.missed_share) date += std::chrono::days(1);
    add_evening();
  }
  const Planting real = with_truth(planting, truth, place.model());
  const SpotWeather weather = with_day_errors(place.at(planting.spot), seed, how.day_error);
  const Date planted =
      *growing_since(planting, how.first, place.record().first(), GrowthClock::stage_days);
  const auto go =
      [&](const std::function<void(const PlantingRun&, const PotState&, Reading&)>& see) {
        PotLog log{.events = {}, .complete_from = readings.readings.front().when};
        for (const Reading& one : readings.readings) {
          log.events.push_back(
              {one.when,
               one.kind == ReadingKind::watered ? PotEventKind::watered : PotEventKind::looked_at,
               std::nullopt});
        }
        const Watch watch = [&](const PlantingRun& run, DayInProgress& day, const PotEvent& event) {
          see(run, day.state(),
              readings.readings[static_cast<std::size_t>(&event - log.events.data())]);
        };
        Journey journey(log, PlantingRun(real, planted, place.model(), GrowthClock::stage_days),
                        weather, place.record(), watch);
        journey.go_to(readings.readings.back().when.date + std::chrono::days(1));
      };
  if (how.until_wilting) {
    constexpr int longest_days = 25;
    constexpr double line_error = 0.1;  // of TAW: plants of a crop hang sooner or later
    const Date dry_from = date;
    for (int i = 0; i < longest_days; ++i, date += std::chrono::days(1)) {
      add(ReadingKind::not_wilted);
    }
    const double later = line_error * normal();
    std::optional<Date> hung;
    go([&](const PlantingRun& run, const PotState& state, const Reading& one) {
      const double taw_l = run.pot().total_available_l * state.rooted_share;
      if (one.kind == ReadingKind::not_wilted && !hung &&
          state.rooted_depletion_l > (run.pot().wilting_fraction + later) * taw_l) {
        hung = one.when.date;
      }
    });
    const Date last = hung.value_or(date);
    std::erase_if(readings.readings, [&](const Reading& one) {
      return one.when.date >= std::min(last, date) && one.when.date >= dry_from;
    });
    date = last;
    if (hung) add(ReadingKind::wilted);
    add_evening();
  }
  go([&](const PlantingRun& run, const PotState& state, Reading& one) {
    if (!one.weighed()) return;
    one.weight_kg = truth.empty_kg + truth.plant_kg_per_leaf_m2 * run.leaf_m2() +
                    store_l(run.pot(), state) + how.scale_error_kg * normal();
  });
  if (how.wrong_kg != 0.0) {
    const std::size_t at = static_cast<std::size_t>(normal.uniform() * how.weighings / 2.0) * 3;
    readings.readings[at].weight_kg += normal.uniform() < 0.5 ? how.wrong_kg : -how.wrong_kg;
    if (wrong != nullptr) *wrong = at;
  }
  return readings;
}

/// The same of a pot whose plant follows another model: leaf area x ET0 of the open site / 2.88 x
/// `factor`. `next_week_l`: what it would transpire in the week after the readings.
inline PotReadings readings_by_leaf_area(const Planting& planting, double factor,
                                         const Writing& how, const Place& place, std::uint64_t seed,
                                         double& next_week_l) {
  constexpr double leaf_m2_per_m2 = 2.88;
  constexpr double evening_h = 18.0;
  PotReadings readings{&planting, {}};
  Normal normal(seed);
  const Date planted =
      *growing_since(planting, how.first, place.record().first(), GrowthClock::stage_days);
  PlantingRun run(planting, planted, place.model(), GrowthClock::stage_days);
  const double empty_kg = 0.3 * run.pot().mix_l + dry_mix_kg(planting.mix, run.pot().mix_l);
  const SpotWeather weather = with_day_errors(place.at(planting.spot), seed, how.day_error);
  int left = how.weighings;
  int after_days = 0;
  next_week_l = 0.0;
  constexpr int week_days = 7;
  while (after_days < week_days) {
    const SpotDay spot = weather(place.record().index_of(run.date()));
    DayForcing forcing = run.begin_day(spot);
    forcing.full_rates.transpiration_l = factor * run.leaf_m2() * spot.open_et0_mm / leaf_m2_per_m2;
    if (left <= 0) next_week_l += forcing.full_rates.transpiration_l;
    if (left <= 0) ++after_days;
    DayInProgress day(run.pot(), run.pot_state(), forcing);
    day.take_rain({});
    if (run.date() < how.first) {
      day.pour(std::nullopt, Pouring::once);
    } else if (left > 0 && normal.uniform() >= how.missed_share) {
      const auto weigh = [&](ReadingKind kind) {
        readings.readings.push_back({.when = {run.date(), evening_h},
                                     .kind = kind,
                                     .weight_kg = empty_kg + 2.0 * run.leaf_m2() +
                                                  store_l(run.pot(), day.state()) +
                                                  how.scale_error_kg * normal()});
      };
      day.dry_until(spot.curve.share_by(evening_h));
      weigh(ReadingKind::weighed_before);
      day.pour(std::nullopt, Pouring::once);
      weigh(ReadingKind::weighed_after);
      left -= 2;
    }
    run.end_day(day.finish(), spot);
  }
  return readings;
}

/// What the plants of a planting would transpire in the week after a date, by our model, litres.
inline double week_l(const Planting& planting, const Place& place, Date after) {
  const Date planted =
      *growing_since(planting, after, place.record().first(), GrowthClock::stage_days);
  PlantingRun run(planting, planted, place.model(), GrowthClock::stage_days);
  const std::vector<SpotDay>& days = place.at(planting.spot);
  double litres = 0.0;
  while (run.date() <= after + std::chrono::days(7)) {
    const SpotDay& spot = days[place.record().index_of(run.date())];
    const double today_l = run.begin_day(spot).full_rates.transpiration_l;
    if (run.date() > after) litres += today_l;
    run.end_day({}, spot);
  }
  return litres;
}

/// Days until a pot that is watered until it drains at 18:00 of `date` is dry, without rain;
/// 14 if it is not by then.
inline double lasts_days(const Planting& planting, const Place& place, Date date,
                         const SpotWeather& weather) {
  constexpr double evening_h = 18.0;
  constexpr double longest_days = 14.0;
  const SpotWeather rainless = [&weather](std::size_t index) {
    SpotDay day = weather(index);
    day.rain_mm = 0.0;
    return day;
  };
  const PotLog log{.events = {{{date, evening_h}, PotEventKind::watered, std::nullopt}},
                   .complete_from = Instant{date, 0.0}};
  const Date planted =
      *growing_since(planting, date, place.record().first(), GrowthClock::stage_days);
  Journey journey(log, PlantingRun(planting, planted, place.model(), GrowthClock::stage_days),
                  rainless, place.record());
  journey.go_to(date);
  const Instant now{date, evening_h};
  const Instant end{date + std::chrono::days(14), evening_h};
  const auto outcome =
      journey.go_on(now, end, std::nullopt, [&](Date day) { return place.record().index_of(day); });
  if (!outcome.dry) return longest_days;
  return static_cast<double>((outcome.dry->date - date).count()) +
         (outcome.dry->hour - evening_h) / 24.0;
}

/// The pots of the checks: porous and not, small and large, two of one crop. Invented.
inline std::vector<Planting> pots_to_learn() {
  return plantings(
      "tomato,tomato,nursery 37 l,vegetable mix,1,05-15,patio,daily 07:00\n"
      "other tomato,tomato,nursery 21 l,vegetable mix,1,05-15,sunny wall,daily 07:00\n"
      "pepper,pepper,clay 16 l,potting mix,1,05-20,patio,daily 07:00\n"
      "basil,basil,glazed 18 l,potting mix,3,05-25,balcony,daily 18:00\n");
}

/// How far the prior of a pot's parameter reaches: the standard error of its logarithm.
inline double prior_error(const Estimate& one) {
  return std::log(one.prior.high / one.prior.low) / (2.0 * nine_in_ten_errors);
}

/// What many sets of invented readings came to.
struct Sets {
  struct Of {
    double bias = 0.0;     // mean of log(estimate / truth)
    double error = 0.0;    // root mean square of it
    double covered = 0.0;  // share of truths within the range for 9 in 10
    double prior_error = 0.0;
  };
  Of use;
  Of usable;
  // How far off the days are that a refilled pot lasts in the next week: means, days.
  double table_lasts_error = 0.0;
  double learned_lasts_error = 0.0;
  double true_use_lasts_error = 0.0;  // with the true use, and the tables' usable water
  double truth_lasts_error = 0.0;     // with all that is true: the weather at the pot is not known
  // Share of pots whose true days, usable water over use, lie within what a calibrated garden has
  // of both for 9 in 10; and without what it has of their correlation.
  double ratio_covered = 0.0;
  double ratio_covered_apart = 0.0;
  std::size_t ratios = 0;         // pots of which it has both
  std::size_t wrong_found = 0;    // of the wrong entries, one a pot
  std::size_t falsely_found = 0;  // of the weighings
  std::size_t weighings = 0;
  std::size_t pots = 0;
};

/// `sets` gardens whose truths are drawn as the priors say.
inline Sets many_sets(std::size_t sets, const Writing& how, const Place& place,
                      std::uint64_t first_seed) {
  std::vector<Planting> garden = pots_to_learn();
  Sets all;
  std::vector<PotReadings> usual;
  for (const Planting& one : garden) {
    usual.push_back(invented_readings(one, {}, how, place, 1));
  }
  // The priors hang on the days of the readings but little.
  const CalibrationResult before = calibrate(usual, place, catalogue(), {});
  for (std::size_t set = 0; set < sets; ++set) {
    Normal normal(first_seed + set);
    std::map<std::string, std::pair<double, double>> of_crop;
    std::vector<Truth> truths;
    std::vector<PotReadings> readings;
    std::vector<std::size_t> wrong(garden.size());
    for (std::size_t i = 0; i < garden.size(); ++i) {
      const PotParameters pot = build_pot(garden[i], place.model());
      const auto [crop, is_new] = of_crop.try_emplace(garden[i].crop.name, 0.0, 0.0);
      if (is_new) crop->second = {normal(), normal()};
      const double half = std::sqrt(0.5);
      const double dry_kg = dry_mix_kg(garden[i].mix, pot.mix_l);
      const double tare_kg = 0.3 * pot.mix_l * std::exp(0.5 * normal());
      if (how.tare_known) garden[i].tare_kg = tare_kg;
      truths.push_back({.use_factor = std::exp(prior_error(before.pots[i].of("use_factor")) * half *
                                               (crop->second.first + normal())),
                        .usable_factor = std::exp(prior_error(before.pots[i].of("usable_l")) *
                                                  half * (crop->second.second + normal())),
                        .empty_kg = tare_kg + dry_kg * (1.0 + 0.15 * normal()),
                        .plant_kg_per_leaf_m2 = std::max(0.3, 2.0 + normal())});
      readings.push_back(invented_readings(garden[i], truths[i], how, place,
                                           (first_seed + set) * 10 + i, &wrong[i]));
    }
    const CalibrationResult fitted = calibrate(readings, place, catalogue(), {});
    for (std::size_t i = 0; i < garden.size(); ++i) {
      const PotCalibration& one = fitted.pots[i];
      const Planting real = with_truth(garden[i], truths[i], place.model());
      const auto add = [](Sets::Of& of, const Estimate& estimate, double truth) {
        const double log = std::log(estimate.estimate.value / truth);
        of.bias += log;
        of.error += log * log;
        of.covered += truth >= estimate.estimate.low && truth <= estimate.estimate.high ? 1.0 : 0.0;
        of.prior_error += std::pow(prior_error(estimate), 2);
      };
      add(all.use, one.of("use_factor"), truths[i].use_factor);
      add(all.usable, one.of("usable_l"), *real.learned.usable_l);
      if (const Learned& of = one.learned; of.usable_l && of.use_factor_sd > 0.0) {
        const double use = of.use_factor_sd / of.use_factor;
        const double usable = of.usable_sd_l / *of.usable_l;
        const double off = std::abs(std::log(*of.usable_l / of.use_factor) -
                                    std::log(*real.learned.usable_l / truths[i].use_factor));
        const auto covers = [&](double correlation) {
          const double variance = use * use + usable * usable - 2.0 * correlation * use * usable;
          return off <= nine_in_ten_errors * std::sqrt(variance) ? 1.0 : 0.0;
        };
        all.ratio_covered += covers(of.use_usable_correlation);
        all.ratio_covered_apart += covers(0.0);
        ++all.ratios;
      }
      const Date date = readings[i].readings.back().when.date + std::chrono::days(1);
      const SpotWeather weather =
          with_day_errors(place.at(garden[i].spot), (first_seed + set) * 10 + i, how.day_error);
      const SpotWeather known = with_day_errors(place.at(garden[i].spot), 1, 0.0);
      Planting learned = garden[i];
      learned.learned = one.learned;
      Planting true_use = garden[i];
      true_use.learned.use_factor = truths[i].use_factor;
      const double truth_days = lasts_days(real, place, date, weather);
      const auto off = [&](const Planting& by) {
        return std::abs(lasts_days(by, place, date, known) - truth_days);
      };
      all.table_lasts_error += off(garden[i]);
      all.learned_lasts_error += off(learned);
      all.true_use_lasts_error += off(true_use);
      all.truth_lasts_error += off(real);
      for (const Outlier& outlier : one.outliers) {
        const Reading& bad = readings[i].readings[wrong[i]];
        const bool is_wrong =
            how.wrong_kg != 0.0 && outlier.when == bad.when && outlier.kind == bad.kind;
        ++(is_wrong ? all.wrong_found : all.falsely_found);
      }
      all.weighings += static_cast<std::size_t>(how.weighings);
      ++all.pots;
    }
  }
  const auto n = static_cast<double>(all.pots);
  for (Sets::Of* of : {&all.use, &all.usable}) {
    of->bias /= n;
    of->error = std::sqrt(of->error / n);
    of->covered /= n;
    of->prior_error = std::sqrt(of->prior_error / n);
  }
  const auto ratios = static_cast<double>(std::max<std::size_t>(all.ratios, 1));
  all.ratio_covered /= ratios;
  all.ratio_covered_apart /= ratios;
  all.table_lasts_error /= n;
  all.learned_lasts_error /= n;
  all.true_use_lasts_error /= n;
  all.truth_lasts_error /= n;
  return all;
}

}  // namespace wiltline::test
