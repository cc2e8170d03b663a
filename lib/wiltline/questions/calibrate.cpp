#include "wiltline/questions/calibrate.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include "wiltline/account/course.hpp"
#include "wiltline/account/journey.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/least_squares.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/draws.hpp"

namespace wiltline {
namespace {

// What is judged, beside the ranges of the model tables.
constexpr double shared_variance = 0.5;      // of use and usable water, by pots of one crop
constexpr double least_use_error = 0.15;     // plants of a crop differ, as shares
constexpr double least_usable_error = 0.10;  // pots are not filled alike
constexpr double least_wall_error = 0.10;
constexpr double empty_kg_per_l = 0.3;        // of pots, as far apart as heavy
constexpr double mix_weight_error = 0.15;     // of the dry mix, as a share
constexpr double lower_limit_error = 0.2;     // of the water left there, as a share
constexpr double plant_kg_per_leaf_m2 = 2.0;  // with stems and fruit
constexpr double plant_kg_per_leaf_error = 1.0;
constexpr double day_error = 0.15;       // of a day's use, anew each day
constexpr double rain_error = 0.3;       // of the rain caught
constexpr double given_error = 0.05;     // of the litres given
constexpr double refilled_error = 0.03;  // of TAW, where water drained
constexpr double planted_error = 0.10;   // of TAW, on the day of planting
constexpr double drained_error = 0.10;   // of the litres given
constexpr double drained_error_l = 0.05;
constexpr double scale_error_share = 0.002;  // of the weight, beside the scale's own
constexpr double wilting_error = 0.10;       // of TAW, about the wilting line
constexpr double top_error = 0.3;            // of the limit of the finger test
constexpr double misseen = 0.02;             // of all yes and no

constexpr double freedom = 4.0;                     // of Student's t
constexpr double outlying = 4.0;                    // residuals beyond it, in standard errors
constexpr double outlying_yes_no = 2.4;             // a chance under 6 %
constexpr double nine_in_ten = 1.6448536269514722;  // normal standard errors to either side
constexpr std::uint64_t prior_draws = 32;

/// The numbers of one pot: logarithms of factors, kg, kg a m2.
enum Parameter : Eigen::Index { use, usable, empty, plant, wall, parameters };
using Numbers = Eigen::Matrix<double, parameters, 1>;

struct Residual {
  const Reading* reading = nullptr;
  double value = 0.0;  // in standard errors; of yes and no so that half its square is -log(chance)
  double off_kg = 0.0;
};

bool is_yes_no(ReadingKind kind) {
  return kind == ReadingKind::top_felt_dry || kind == ReadingKind::top_felt_moist ||
         kind == ReadingKind::wilted || kind == ReadingKind::not_wilted;
}

/// A watering alone says nothing of the pot.
bool says_something(const Reading& reading) {
  return reading.kind != ReadingKind::watered || reading.drained_l.has_value();
}

double square(double x) {
  return x * x;
}

/// Of something that is more likely yes the higher `above`, in standard errors.
double yes_no_residual(bool yes, double above) {
  const double chance = 0.5 * std::erfc((yes ? -above : above) / std::sqrt(2.0));
  return std::sqrt(-2.0 * std::log(misseen / 2.0 + (1.0 - misseen) * chance));
}

/// A planting from planting to its last reading.
struct Season {
  Date planted{};
  PotLog log;
  std::vector<const Reading*> readings;  // one for each event
  std::vector<double> variance;          // of the water foretold at each event, l2; fixed in a fit
};

/// One pot, and what its account makes of its readings for any numbers.
class Pot {
 public:
  Pot(const PotReadings& readings, const Place& place, const Catalogue& catalogue,
      const CalibrationOptions& options)
      : planting_(*readings.planting), place_(place), options_(options), all_(readings.readings) {
    planting_.learned = {};
    days_ = &place.at(planting_.spot);
    pot_ = build_pot(planting_, place.model());
    sort_seasons();
    set_priors(catalogue);
  }

  [[nodiscard]] const Numbers& prior() const { return prior_; }
  [[nodiscard]] const Numbers& prior_error() const { return prior_error_; }
  [[nodiscard]] const PotParameters& parameters_of_tables() const { return pot_; }
  [[nodiscard]] bool weighed() const {
    return std::any_of(all_.begin(), all_.end(), [](const Reading& one) { return one.weighed(); });
  }
  [[nodiscard]] bool porous() const { return planting_.pot.wall.evaporation_share.value > 0.0; }
  [[nodiscard]] double dry_mix() const { return dry_mix_kg(planting_.mix, pot_.mix_l); }

  [[nodiscard]] std::size_t after_its_end() const { return after_its_end_; }
  [[nodiscard]] std::size_t telling() const { return telling_; }

  /// Works out how sure the account is of its water at each event, with these numbers.
  void set_variances(const Numbers& numbers) {
    for (Season& season : seasons_) {
      season.variance.assign(season.readings.size(), 0.0);
      (void)run(numbers, season, &season.variance);
    }
  }

  [[nodiscard]] std::vector<Residual> residuals(const Numbers& numbers) const {
    std::vector<Residual> all;
    for (const Season& season : seasons_) {
      const std::vector<Residual> of = run(numbers, season, nullptr);
      all.insert(all.end(), of.begin(), of.end());
    }
    return all;
  }

  [[nodiscard]] Learned learned(const Numbers& numbers) const {
    Learned learned;
    learned.use_factor = std::exp(numbers[use]);
    learned.usable_l = std::min(pot_.total_available_l * std::exp(numbers[usable]),
                                pot_.mix_l - pot_.lower_limit_l);
    learned.wall_factor = std::exp(numbers[wall]);
    return learned;
  }

 private:
  void sort_seasons() {
    // A weighing after a watering that no log has: it was watered just then.
    constexpr double just_before_h = 1.0;
    std::vector<Reading> implied;
    for (const Reading& one : all_) {
      if (one.kind != ReadingKind::weighed_after) continue;
      const bool logged = std::any_of(all_.begin(), all_.end(), [&](const Reading& other) {
        return other.kind == ReadingKind::watered && other.when.date == one.when.date &&
               other.when.hour <= one.when.hour && other.when.hour >= one.when.hour - just_before_h;
      });
      if (!logged) implied.push_back({.when = one.when, .kind = ReadingKind::watered});
    }
    all_.insert(all_.end(), implied.begin(), implied.end());
    std::stable_sort(all_.begin(), all_.end(), [](const Reading& a, const Reading& b) {
      return std::pair(a.when, a.kind) < std::pair(b.when, b.kind);
    });
    const WeatherRecord& record = place_.record();
    std::map<Date, Season> seasons;
    std::map<Date, Date> last_days;
    for (const Reading& one : all_) {
      if (!record.contains(one.when.date)) continue;
      const auto planted = growing_since(planting_, one.when.date, record.first(), options_.growth);
      if (!planted || !record.contains(*planted)) continue;
      if (!last_days.contains(*planted)) {
        last_days[*planted] =
            crop_end(planting_, *planted, record, *days_, place_.model(), options_.growth).last;
      }
      if (one.when.date > last_days[*planted]) {
        if (says_something(one)) ++after_its_end_;
        continue;
      }
      Season& season = seasons[*planted];
      season.planted = *planted;
      const bool watered = one.kind == ReadingKind::watered;
      if (watered && !season.log.complete_from) season.log.complete_from = one.when;
      season.log.events.push_back({one.when,
                                   watered ? PotEventKind::watered : PotEventKind::looked_at,
                                   watered ? one.given_l : std::nullopt});
      season.readings.push_back(&one);
    }
    for (auto& [planted, season] : seasons) {
      const auto telling = std::count_if(season.readings.begin(), season.readings.end(),
                                         [](const Reading* one) { return says_something(*one); });
      if (telling == 0) continue;
      telling_ += static_cast<std::size_t>(telling);
      seasons_.push_back(std::move(season));
    }
  }

  /// The spread of draws over the days of the readings.
  void set_priors(const Catalogue& catalogue) {
    const std::vector<Stretch> stretches = stretches_of();
    const double usual_l = transpired(stretches, planting_, place_.model(), false);
    double use_variance = 0.0;
    double usable_variance = 0.0;
    double draws = 0.0;
    for (std::uint64_t number = 0; number < prior_draws; ++number) {
      const DrawnGarden drawn = draw_garden({&planting_, 1}, place_.model(), catalogue, 1, number);
      if (!drawn.waterless.empty()) continue;
      const Planting& one = drawn.plantings.front();
      const double held_l = build_pot(one, drawn.model).total_available_l;
      usable_variance += square(std::log(held_l / pot_.total_available_l));
      if (usual_l > 0.0) {
        use_variance += square(std::log(transpired(stretches, one, drawn.model, true) / usual_l));
      }
      draws += 1.0;
    }
    draws = std::max(draws, 1.0);
    const Ranged& share = planting_.pot.wall.evaporation_share;
    const double wall_error =
        share.low > 0.0 ? std::log(share.high / share.low) / std::sqrt(12.0) : least_wall_error;
    const double empty_error = std::sqrt(
        square(planting_.tare_kg ? 0.0 : empty_kg_per_l * pot_.mix_l) +
        square(mix_weight_error * dry_mix()) + square(lower_limit_error * pot_.lower_limit_l));
    prior_ << 0.0, 0.0, planting_.tare_kg.value_or(empty_kg_per_l * pot_.mix_l) + dry_mix(),
        plant_kg_per_leaf_m2, 0.0;
    prior_error_ << std::max(std::sqrt(use_variance / draws), least_use_error),
        std::max(std::sqrt(usable_variance / draws), least_usable_error), empty_error,
        plant_kg_per_leaf_error, std::max(wall_error, least_wall_error);
  }

  /// Days of a planting.
  struct Stretch {
    Date planted{};
    Date first{};
    Date last{};
  };
  /// Those of the readings; without any, of the last months that it stood in this weather.
  [[nodiscard]] std::vector<Stretch> stretches_of() const {
    std::vector<Stretch> stretches;
    for (const Season& season : seasons_) {
      stretches.push_back({season.planted, season.log.events.front().when.date,
                           season.log.events.back().when.date});
    }
    const WeatherRecord& record = place_.record();
    constexpr std::chrono::days month(30);
    for (Date date = record.last(); stretches.empty() && date >= record.first(); date -= month) {
      const auto planted = growing_since(planting_, date, record.first(), options_.growth);
      if (planted && record.contains(*planted)) stretches.push_back({*planted, *planted, date});
    }
    return stretches;
  }

  /// What the plants would transpire in them, litres.
  [[nodiscard]] double transpired(const std::vector<Stretch>& stretches, const Planting& planting,
                                  const ModelParameters& model, bool other_spot) const {
    const WeatherRecord& record = place_.record();
    double litres = 0.0;
    for (const Stretch& stretch : stretches) {
      PlantingRun run(planting, stretch.planted, model, options_.growth);
      while (run.date() <= stretch.last && !run.finished()) {
        const std::size_t index = record.index_of(run.date());
        const SpotDay day = other_spot
                                ? spot_day(record.site(), record.date(index), record.day(index),
                                           place_.reference()[index], planting.spot, model)
                                : (*days_)[index];
        const Date date = run.date();
        const DayForcing forcing = run.begin_day(day);
        if (date >= stretch.first) litres += forcing.full_rates.transpiration_l;
        run.end_day({}, day);  // of the crop alone
      }
    }
    return litres;
  }

  /// `fill`: takes the variances, worked out on the way; null: those of the season hold.
  [[nodiscard]] std::vector<Residual> run(const Numbers& numbers, const Season& season,
                                          std::vector<double>* fill) const;

  Planting planting_;
  const Place& place_;
  const CalibrationOptions& options_;
  std::vector<Reading> all_;
  const std::vector<SpotDay>* days_ = nullptr;
  PotParameters pot_;  // as the tables have it
  std::vector<Season> seasons_;
  std::size_t after_its_end_ = 0;  // readings
  std::size_t telling_ = 0;        // of those taken, that say something
  Numbers prior_ = Numbers::Zero();
  Numbers prior_error_ = Numbers::Ones();
};

std::vector<Residual> Pot::run(const Numbers& numbers, const Season& season,
                               std::vector<double>* fill) const {
  Planting planting = planting_;
  planting.learned = learned(numbers);
  const std::vector<SpotDay>& days = *days_;
  const SpotWeather weather = [&days](std::size_t index) { return days[index]; };
  const WeatherRecord& record = place_.record();
  const double taw_l = pot_.total_available_l;

  std::vector<Residual> residuals;
  double variance = square(planted_error * taw_l);  // of all water in the pot
  Instant last{season.planted, 0.0};
  double last_l = -1.0;  // water then; none known
  const auto grow_variance = [&](const Instant& now, double water_l) {
    double rain_l = 0.0;
    for (Date date = last.date + std::chrono::days(1); date <= now.date;
         date += std::chrono::days(1)) {
      rain_l += days[record.index_of(date)].rain_mm * pot_.top_area_m2;
    }
    const double gone_days = static_cast<double>((now.date - last.date).count()) +
                             (now.hour - last.hour) / units::hours_per_day;
    if (last_l >= 0.0) {
      variance +=
          square(day_error * (std::abs(water_l - last_l) + rain_l)) / std::max(1.0, gone_days);
      variance += square(rain_error * rain_l);
    }
  };

  const Watch watch = [&](const PlantingRun& run, DayInProgress& day, const PotEvent& event) {
    const auto at = static_cast<std::size_t>(&event - season.log.events.data());
    const Reading& reading = *season.readings[at];
    const PotParameters& pot = run.pot();
    const double water_l = store_l(pot, day.state());
    if (fill != nullptr) {
      grow_variance(event.when, water_l);
      (*fill)[at] = variance;
    } else {
      variance = season.variance[at];
    }
    last = event.when;
    last_l = water_l;
    const auto add = [&](double value, double off_kg = 0.0) {
      residuals.push_back({&reading, value, off_kg});
    };
    const PotState& state = day.state();
    switch (reading.kind) {
      case ReadingKind::weighed_before:
      case ReadingKind::weighed_after: {
        const double off_kg =
            reading.weight_kg - (numbers[empty] + numbers[plant] * run.leaf_m2() + water_l);
        const double scale =
            square(options_.scale_error_kg) + square(scale_error_share * reading.weight_kg);
        add(off_kg / std::sqrt(variance + scale), off_kg);
        const double gain = variance / (variance + scale);
        day.correct(holding(pot, state, water_l + gain * off_kg));
        variance *= 1.0 - gain;
        last_l = store_l(pot, day.state());
        return;
      }
      case ReadingKind::watered: {
        const Pouring pouring = routine_plan(planting.routine).pouring;
        const double given_l =
            reading.given_l.value_or(std::max(0.0, litres_until_drained(pot, state, pouring)));
        const WateringResult watered = water(pot, state, given_l, pouring);
        if (reading.drained_l) {
          const double error = variance + square(drained_error * given_l + drained_error_l);
          add((*reading.drained_l - watered.drained_l) / std::sqrt(error));
        }
        const bool refilled =
            !reading.given_l || watered.drained_l > 0.0 || reading.drained_l.value_or(0.0) > 0.0;
        variance =
            refilled ? square(refilled_error * taw_l) : variance + square(given_error * given_l);
        last_l = store_l(pot, watered.state);
        return;
      }
      case ReadingKind::wilted:
      case ReadingKind::not_wilted: {
        const double taw = pot.total_available_l * state.rooted_share;
        const double error = std::sqrt(square(wilting_error * taw) + variance);
        add(yes_no_residual(reading.kind == ReadingKind::wilted,
                            (state.rooted_depletion_l - pot.wilting_fraction * taw) / error));
        return;
      }
      case ReadingKind::top_felt_dry:
      case ReadingKind::top_felt_moist: {
        const double limit_l = pot.top_dry_limit_l;
        if (!(limit_l > 0.0)) return;
        const double above_l = kernel::top_deficit(depletions(state), pot.top_draw_share) - limit_l;
        const double error =
            std::sqrt(square(top_error * limit_l) + square(pot.top_draw_share) * variance);
        add(yes_no_residual(reading.kind == ReadingKind::top_felt_dry, above_l / error));
        return;
      }
    }
  };
  const PlantingRun start(planting, season.planted, place_.model(), options_.growth);
  Journey journey(season.log, start, weather, record, watch);
  journey.go_to(season.log.events.back().when.date + std::chrono::days(1));
  return residuals;
}

/// All pots together, over numbers that are standard normal beforehand: two for each crop, then
/// `parameters` for each pot.
class Fit {
 public:
  Fit(std::span<const PotReadings> readings, const Place& place, const Catalogue& catalogue,
      const CalibrationOptions& options) {
    std::map<std::string, Eigen::Index> crops;
    std::vector<std::optional<Pot>> pots(readings.size());
    run_tasks(readings.size(), 0,
              [&](std::size_t i) { pots[i].emplace(readings[i], place, catalogue, options); });
    pots_.reserve(readings.size());  // seasons point into their pot's own lists
    for (std::size_t i = 0; i < readings.size(); ++i) {
      pots_.push_back(*std::move(pots[i]));
      const auto next = static_cast<Eigen::Index>(crops.size());
      crop_.push_back(crops.emplace(crop_text(*readings[i].planting), next).first->second);
    }
    crops_ = static_cast<Eigen::Index>(crops.size());
  }

  using Normals = Eigen::Map<const Eigen::VectorXd>;
  [[nodiscard]] static Normals normals(const std::vector<double>& of) {
    return {of.data(), static_cast<Eigen::Index>(of.size())};
  }

  [[nodiscard]] Eigen::Index size() const {
    return 2 * crops_ + static_cast<Eigen::Index>(pots_.size()) * parameters;
  }
  [[nodiscard]] const std::vector<Pot>& pots() const { return pots_; }

  /// The weights with which the normal numbers go into one of a pot.
  [[nodiscard]] Eigen::VectorXd row(std::size_t pot, Eigen::Index which) const {
    Eigen::VectorXd row = Eigen::VectorXd::Zero(size());
    const double error = pots_[pot].prior_error()[which];
    const bool shared = which == use || which == usable;
    row[own(pot) + which] = error * (shared ? std::sqrt(1.0 - shared_variance) : 1.0);
    if (shared) row[2 * crop_[pot] + which] = error * std::sqrt(shared_variance);
    return row;
  }

  [[nodiscard]] Numbers numbers(std::size_t pot, const std::vector<double>& at) const {
    Numbers result = pots_[pot].prior();
    for (Eigen::Index k = 0; k < parameters; ++k) result[k] += row(pot, k).dot(normals(at));
    return result;
  }

  /// The covariance of the normal numbers about the lowest point. Rates change at edges, so that
  /// the slope at a point can be that of one side of an edge alone: slopes are taken over as far as
  /// the numbers are unsure.
  [[nodiscard]] Eigen::MatrixXd covariance(const LowestPoint& lowest) const {
    Eigen::MatrixXd result = inverted(lowest.there);
    constexpr int rounds = 2;
    for (int round = 0; round < rounds; ++round) {
      std::vector<Numbers> steps(pots_.size());
      for (std::size_t i = 0; i < pots_.size(); ++i) {
        for (Eigen::Index k = 0; k < parameters; ++k) {
          const Eigen::VectorXd weights = row(i, k);
          steps[i][k] = std::max(std::sqrt(weights.dot(result * weights)),
                                 least_step * pots_[i].prior_error()[k]);
        }
      }
      result = inverted(curved(lowest.at, steps));
    }
    return result;
  }

  /// `calm`: how many standard errors count as one when a residual is called wild.
  LowestPoint solve(const std::vector<double>& from, double calm) {
    run_tasks(pots_.size(), 0, [&](std::size_t i) { pots_[i].set_variances(numbers(i, from)); });
    calm_ = calm;
    return lowest_point(
        from, [this](const std::vector<double>& at) { return cost(at); },
        [this](const std::vector<double>& at) { return curved(at); });
  }

 private:
  static constexpr double least_step = 0.005;  // of the prior's standard error: far above rounding

  [[nodiscard]] Eigen::MatrixXd inverted(const Curved& curved) const {
    const std::vector<double> inverse =
        inverse_of(curved.curvature, static_cast<std::size_t>(size()));
    return Eigen::Map<const Eigen::MatrixXd>(inverse.data(), size(), size());
  }

  [[nodiscard]] Eigen::Index own(std::size_t pot) const {
    return 2 * crops_ + static_cast<Eigen::Index>(pot) * parameters;
  }

  [[nodiscard]] double cost_of(const Residual& residual) const {
    const double squared = square(residual.value);
    if (is_yes_no(residual.reading->kind)) return squared / 2.0;
    const double wild = square(calm_) * freedom;
    return square(calm_) * (freedom + 1.0) / 2.0 * std::log1p(squared / wild);
  }
  [[nodiscard]] double weight_of(const Residual& residual) const {
    if (is_yes_no(residual.reading->kind)) return 1.0;
    return (freedom + 1.0) / (freedom + square(residual.value / calm_));
  }

  [[nodiscard]] double cost(const std::vector<double>& at) const {
    std::vector<double> costs(pots_.size());
    run_tasks(pots_.size(), 0, [&](std::size_t i) {
      for (const Residual& one : pots_[i].residuals(numbers(i, at))) costs[i] += cost_of(one);
    });
    return std::accumulate(costs.begin(), costs.end(), normals(at).squaredNorm() / 2.0);
  }

  /// `steps`: of each pot's numbers, to either side; none: so small that it is the slope there.
  [[nodiscard]] Curved curved(const std::vector<double>& at,
                              const std::vector<Numbers>& steps = {}) const {
    struct Own {
      double cost = 0.0;
      Numbers gradient = Numbers::Zero();
      Eigen::Matrix<double, parameters, parameters> curvature =
          Eigen::Matrix<double, parameters, parameters>::Zero();
    };
    std::vector<Own> of(pots_.size());
    run_tasks(pots_.size(), 0, [&](std::size_t i) {
      const Numbers here = numbers(i, at);
      const std::vector<Residual> residuals = pots_[i].residuals(here);
      Eigen::Matrix<double, Eigen::Dynamic, parameters> slopes =
          Eigen::Matrix<double, Eigen::Dynamic, parameters>::Zero(
              static_cast<Eigen::Index>(residuals.size()), parameters);
      for (Eigen::Index k = 0; k < parameters && !residuals.empty(); ++k) {
        if (k == wall && !pots_[i].porous()) continue;
        const double step = steps.empty() ? least_step * pots_[i].prior_error()[k] : steps[i][k];
        const auto beside = [&](double by) {
          Numbers there = here;
          there[k] += by;
          return pots_[i].residuals(there);
        };
        const std::vector<Residual> above = beside(step);
        const std::vector<Residual> below = steps.empty() ? residuals : beside(-step);
        const double apart = steps.empty() ? step : 2.0 * step;
        for (std::size_t r = 0; r < residuals.size(); ++r) {
          slopes(static_cast<Eigen::Index>(r), k) = (above[r].value - below[r].value) / apart;
        }
      }
      for (std::size_t r = 0; r < residuals.size(); ++r) {
        const double weight = weight_of(residuals[r]);
        const Numbers slope = slopes.row(static_cast<Eigen::Index>(r)).transpose();
        of[i].cost += cost_of(residuals[r]);
        of[i].gradient += weight * residuals[r].value * slope;
        of[i].curvature += weight * slope * slope.transpose();
      }
    });
    const auto count = static_cast<std::size_t>(size());
    Curved all{.cost = normals(at).squaredNorm() / 2.0,
               .gradient = at,
               .curvature = std::vector<double>(count * count)};
    for (std::size_t k = 0; k < count; ++k) all.curvature[k * count + k] = 1.0;
    for (std::size_t i = 0; i < pots_.size(); ++i) {
      // The few normal numbers that this pot's go with: its crop's two and its own.
      Eigen::Matrix<double, parameters, parameters + 2> into =
          Eigen::Matrix<double, parameters, parameters + 2>::Zero();
      std::array<Eigen::Index, parameters + 2> where{2 * crop_[i] + use, 2 * crop_[i] + usable};
      for (Eigen::Index k = 0; k < parameters; ++k) {
        const Eigen::VectorXd weights = row(i, k);
        where[static_cast<std::size_t>(k + 2)] = own(i) + k;
        into(k, k + 2) = weights[own(i) + k];
        if (k == use || k == usable) into(k, k) = weights[2 * crop_[i] + k];
      }
      all.cost += of[i].cost;
      const Eigen::VectorXd gradient = into.transpose() * of[i].gradient;
      const Eigen::MatrixXd curvature = into.transpose() * of[i].curvature * into;
      for (Eigen::Index a = 0; a < parameters + 2; ++a) {
        const auto to = static_cast<std::size_t>(where[static_cast<std::size_t>(a)]);
        all.gradient[to] += gradient[a];
        for (Eigen::Index b = 0; b < parameters + 2; ++b) {
          const auto with = static_cast<std::size_t>(where[static_cast<std::size_t>(b)]);
          all.curvature[to * count + with] += curvature(a, b);
        }
      }
    }
    return all;
  }

  std::vector<Pot> pots_;
  std::vector<Eigen::Index> crop_;
  Eigen::Index crops_ = 0;
  double calm_ = 1.0;
};

std::vector<Outlier> outliers_of(const std::vector<Residual>& residuals) {
  std::vector<Outlier> outliers;
  std::optional<std::size_t> doubtful;  // the outlier that the weighing before was
  for (const Residual& one : residuals) {
    const ReadingKind kind = one.reading->kind;
    const bool outlies = std::abs(one.value) > (is_yes_no(kind) ? outlying_yes_no : outlying);
    if (one.reading->weighed()) {
      const auto before = std::exchange(doubtful, std::nullopt);
      const double off_kg = before ? outliers[*before].off_kg : 0.0;
      if (outlies && before && std::abs(one.off_kg + off_kg) < std::abs(off_kg) / 2.0) {
        outliers[*before].mistyped = true;
        continue;
      }
      if (outlies) doubtful = outliers.size();
    }
    if (outlies) {
      outliers.push_back({.when = one.reading->when, .kind = kind, .off_kg = one.off_kg});
    }
  }
  return outliers;
}

Ranged nine_in_ten_of(double value, double error) {
  return {value, value - nine_in_ten * error, value + nine_in_ten * error};
}
/// The same of a logarithm, for what it is of.
Ranged nine_in_ten_of_log(double times, double log, double error) {
  const Ranged range = nine_in_ten_of(log, error);
  return {times * std::exp(range.value), times * std::exp(range.low), times * std::exp(range.high)};
}

PotCalibration calibration_of(const PotReadings& readings, const Fit& fit, std::size_t index,
                              const std::vector<double>& at, const Eigen::MatrixXd& covariance) {
  const Pot& pot = fit.pots()[index];
  const Numbers numbers = fit.numbers(index, at);
  const Numbers& before = pot.prior();
  const Numbers& before_error = pot.prior_error();
  const auto error_of = [&](const Eigen::VectorXd& row) {
    return std::sqrt(row.dot(covariance * row));
  };
  const auto learned_share = [&](Eigen::Index k) {
    return std::max(0.0, 1.0 - square(error_of(fit.row(index, k)) / before_error[k]));
  };
  PotCalibration result{.planting = readings.planting};
  result.outliers = outliers_of(pot.residuals(numbers));
  result.after_its_end = pot.after_its_end();
  result.readings = pot.telling();
  const auto add_log = [&](std::string_view name, Eigen::Index k, double times) {
    const double error = error_of(fit.row(index, k));
    result.estimates.push_back({.parameter = name,
                                .prior = nine_in_ten_of_log(times, before[k], before_error[k]),
                                .estimate = nine_in_ten_of_log(times, numbers[k], error),
                                .standard_error = times * std::exp(numbers[k]) * error,
                                .learned = learned_share(k)});
    return result.estimates.back().learned >= least_learned;
  };
  const double taw_l = pot.parameters_of_tables().total_available_l;
  const Learned fitted = pot.learned(numbers);
  if (add_log("use_factor", use, 1.0)) {
    result.learned.use_factor = fitted.use_factor;
    result.learned.use_factor_sd = result.estimates.back().standard_error;
  }
  if (add_log("usable_l", usable, taw_l)) {
    result.learned.usable_l = fitted.usable_l;
    result.learned.usable_sd_l = result.estimates.back().standard_error;
  }
  if (!readings.planting->tare_kg && pot.weighed()) {
    const auto as_tare = [&](double value, double error) {
      Ranged range = nine_in_ten_of(value - pot.dry_mix(), error);
      range.low = std::max(range.low, 0.0);
      return range;
    };
    const double error = error_of(fit.row(index, empty));
    result.estimates.push_back({.parameter = "tare_kg",
                                .prior = as_tare(before[empty], before_error[empty]),
                                .estimate = as_tare(numbers[empty], error),
                                .standard_error = error,
                                .learned = learned_share(empty)});
    if (result.estimates.back().learned >= least_learned) {
      result.tare_kg = std::max(numbers[empty] - pot.dry_mix(), 0.0);
    }
  }
  if (pot.porous() && add_log("wall_factor", wall, 1.0)) {
    result.learned.wall_factor = fitted.wall_factor;
  }
  result.lasting_error = error_of(fit.row(index, usable) - fit.row(index, use));
  result.use_is_less_sure = error_of(fit.row(index, use)) > error_of(fit.row(index, usable));
  return result;
}

}  // namespace

const Estimate& PotCalibration::of(std::string_view parameter) const {
  const auto found = std::find_if(estimates.begin(), estimates.end(),
                                  [&](const Estimate& one) { return one.parameter == parameter; });
  if (found != estimates.end()) return *found;
  throw RequestError(fmt::format("{}: found no estimate of {}; expected one of its parameters",
                                 planting->name, parameter));
}

CalibrationResult calibrate(std::span<const PotReadings> pots, const Place& place,
                            const Catalogue& catalogue, const CalibrationOptions& options) {
  if (!(options.scale_error_kg > 0.0)) {
    throw RequestError(fmt::format("found a scale's standard error of {:g} kg; expected above 0",
                                   options.scale_error_kg));
  }
  place.require_rain();
  CalibrationResult result;
  if (pots.empty()) return result;
  Fit fit(pots, place, catalogue, options);
  // First far from wild, so that what is far off is drawn in; then with what the fit itself says.
  constexpr double at_first = 30.0;
  const std::vector<double> start(static_cast<std::size_t>(fit.size()));
  const LowestPoint lowest = fit.solve(fit.solve(start, at_first).at, 1.0);
  result.converged = lowest.converged;
  const Eigen::MatrixXd covariance = fit.covariance(lowest);
  for (std::size_t i = 0; i < pots.size(); ++i) {
    result.pots.push_back(calibration_of(pots[i], fit, i, lowest.at, covariance));
  }
  return result;
}

}  // namespace wiltline
