#include "wiltline/questions/calibrate.hpp"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/least_squares.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/questions/pot_account.hpp"
#include "wiltline/questions/reading_errors.hpp"

namespace wiltline {
namespace {

constexpr double shared_variance = 0.5;     // of use and usable water, by pots of one crop (judged)
constexpr double degrees_of_freedom = 4.0;  // of Student's t

constexpr Eigen::Index use = PotNumber::use;
constexpr Eigen::Index usable = PotNumber::usable;
constexpr Eigen::Index empty = PotNumber::empty;
constexpr Eigen::Index wall = PotNumber::wall;
constexpr Eigen::Index parameters = PotNumber::count;

/// A number for every two of a pot's parameters, such as a covariance.
using PotMatrix = Eigen::Matrix<double, parameters, parameters>;

/// All pots together, over numbers that are standard normal beforehand: two for each crop, then
/// `parameters` for each pot.
class Fit {
 public:
  Fit(std::span<const PotReadings> readings, const Place& place, const Catalogue& catalogue,
      const CalibrationOptions& options) {
    std::map<std::string, Eigen::Index> crops;
    std::vector<std::optional<PotAccount>> pots(readings.size());
    run_tasks(readings.size(), 0,
              [&](std::size_t i) { pots[i].emplace(readings[i], place, catalogue, options); });
    pots_.reserve(readings.size());
    for (std::size_t i = 0; i < readings.size(); ++i) {
      pots_.push_back(*std::move(pots[i]));
      const auto next = static_cast<Eigen::Index>(crops.size());
      crop_.push_back(crops.emplace(crop_text(*readings[i].planting), next).first->second);
    }
    crops_ = static_cast<Eigen::Index>(crops.size());
  }

  [[nodiscard]] Eigen::Index size() const {
    return 2 * crops_ + static_cast<Eigen::Index>(pots_.size()) * parameters;
  }
  [[nodiscard]] const std::vector<PotAccount>& pots() const { return pots_; }

  [[nodiscard]] PotNumbers numbers(std::size_t pot, const Eigen::VectorXd& at) const {
    return pots_[pot].prior() + weights(pot) * at;
  }
  /// The covariance of a pot's numbers where the normal numbers have that covariance.
  [[nodiscard]] PotMatrix covariance_of(std::size_t pot, const Eigen::MatrixXd& normals) const {
    const Eigen::MatrixXd into = weights(pot);
    return into * normals * into.transpose();
  }

  /// The covariance of the normal numbers about the lowest point. Rates change at edges, so that
  /// the slope at a point can be that of one side of an edge alone: slopes are taken over as far as
  /// the numbers are unsure.
  [[nodiscard]] Eigen::MatrixXd covariance(const LowestPoint& lowest) const {
    Eigen::MatrixXd result = inverse_of(lowest.there);
    constexpr int rounds = 2;
    for (int round = 0; round < rounds; ++round) {
      std::vector<PotNumbers> steps;
      for (std::size_t i = 0; i < pots_.size(); ++i) {
        steps.emplace_back(covariance_of(i, result).diagonal().cwiseSqrt().cwiseMax(
            least_step * pots_[i].prior_error()));
      }
      result = inverse_of(curved(lowest.at, steps));
    }
    return result;
  }

  /// The lowest point of the cost, from `from` down. `residual_scale`: how many standard errors
  /// count as one in the cost of a residual; the larger it is, the more an outlier counts.
  LowestPoint solve(const Eigen::VectorXd& from, double residual_scale) {
    run_tasks(pots_.size(), 0, [&](std::size_t i) { pots_[i].set_variances(numbers(i, from)); });
    residual_scale_ = residual_scale;
    return lowest_point(
        from, [this](const Eigen::VectorXd& at) { return cost(at); },
        [this](const Eigen::VectorXd& at) { return curved(at); });
  }

 private:
  static constexpr double least_step = 0.005;  // of the prior's standard error: far above rounding

  [[nodiscard]] Eigen::MatrixXd inverse_of(const Curved& curved) const {
    return curved.curvature.ldlt().solve(Eigen::MatrixXd::Identity(size(), size()));
  }

  [[nodiscard]] Eigen::Index own(std::size_t pot) const {
    return 2 * crops_ + static_cast<Eigen::Index>(pot) * parameters;
  }

  /// The weights with which the normal numbers go into those of a pot, a row for each of these.
  [[nodiscard]] Eigen::MatrixXd weights(std::size_t pot) const {
    const PotNumbers& error = pots_[pot].prior_error();
    Eigen::MatrixXd into = Eigen::MatrixXd::Zero(parameters, size());
    for (Eigen::Index k = 0; k < parameters; ++k) {
      const bool shared = k == use || k == usable;
      into(k, own(pot) + k) = error[k] * (shared ? std::sqrt(1.0 - shared_variance) : 1.0);
      if (shared) into(k, 2 * crop_[pot] + k) = error[k] * std::sqrt(shared_variance);
    }
    return into;
  }

  [[nodiscard]] double cost_of(const Residual& residual) const {
    const double squared = square(residual.value);
    if (is_yes_no(residual.reading->kind)) return squared / 2.0;
    const double outlier_scale = square(residual_scale_) * degrees_of_freedom;
    return square(residual_scale_) * (degrees_of_freedom + 1.0) / 2.0 *
           std::log1p(squared / outlier_scale);
  }
  [[nodiscard]] double weight_of(const Residual& residual) const {
    if (is_yes_no(residual.reading->kind)) return 1.0;
    return (degrees_of_freedom + 1.0) /
           (degrees_of_freedom + square(residual.value / residual_scale_));
  }

  [[nodiscard]] double cost(const Eigen::VectorXd& at) const {
    std::vector<double> costs(pots_.size());
    run_tasks(pots_.size(), 0, [&](std::size_t i) {
      for (const Residual& one : pots_[i].residuals(numbers(i, at))) costs[i] += cost_of(one);
    });
    return std::accumulate(costs.begin(), costs.end(), at.squaredNorm() / 2.0);
  }

  /// `steps`: of each pot's numbers, to either side; none: so small that it is the slope there.
  [[nodiscard]] Curved curved(const Eigen::VectorXd& at,
                              const std::vector<PotNumbers>& steps = {}) const {
    struct Own {
      double cost = 0.0;
      PotNumbers gradient = PotNumbers::Zero();
      PotMatrix curvature = PotMatrix::Zero();
    };
    std::vector<Own> of(pots_.size());
    run_tasks(pots_.size(), 0, [&](std::size_t i) {
      const PotNumbers here = numbers(i, at);
      const PotNumbers step = steps.empty() ? least_step * pots_[i].prior_error() : steps[i];
      const std::vector<Residual> residuals = pots_[i].residuals(here);
      std::vector<PotNumbers> slopes(residuals.size(), PotNumbers::Zero());
      for (Eigen::Index k = 0; k < parameters && !residuals.empty(); ++k) {
        if (k == wall && !pots_[i].porous()) continue;
        const auto beside = [&](double by) {
          PotNumbers there = here;
          there[k] += by;
          return pots_[i].residuals(there);
        };
        const std::vector<Residual> above = beside(step[k]);
        const std::vector<Residual> below = steps.empty() ? residuals : beside(-step[k]);
        const double apart = steps.empty() ? step[k] : 2.0 * step[k];
        for (std::size_t r = 0; r < residuals.size(); ++r) {
          slopes[r][k] = (above[r].value - below[r].value) / apart;
        }
      }
      for (std::size_t r = 0; r < residuals.size(); ++r) {
        const double weight = weight_of(residuals[r]);
        of[i].cost += cost_of(residuals[r]);
        of[i].gradient += weight * residuals[r].value * slopes[r];
        of[i].curvature += weight * slopes[r] * slopes[r].transpose();
      }
    });
    Curved all{.cost = at.squaredNorm() / 2.0,
               .gradient = at,
               .curvature = Eigen::MatrixXd::Identity(size(), size())};
    for (std::size_t i = 0; i < pots_.size(); ++i) {
      // The few normal numbers that this pot's go with: its crop's two and its own.
      std::vector<Eigen::Index> where{2 * crop_[i] + use, 2 * crop_[i] + usable};
      for (Eigen::Index k = 0; k < parameters; ++k) where.push_back(own(i) + k);
      const Eigen::MatrixXd into = weights(i)(Eigen::all, where);
      all.cost += of[i].cost;
      all.gradient(where) += into.transpose() * of[i].gradient;
      all.curvature(where, where) += into.transpose() * of[i].curvature * into;
    }
    return all;
  }

  std::vector<PotAccount> pots_;
  std::vector<Eigen::Index> crop_;
  Eigen::Index crops_ = 0;
  double residual_scale_ = 1.0;
};

/// How far weighings of each kind are from the account in this garden, in standard errors: by their
/// median, so that a few wrong ones do not count; held to one where they are few.
using Scatter = std::map<ReadingKind, double>;
Scatter scatter_of(const std::vector<std::vector<Residual>>& pots) {
  std::map<ReadingKind, std::vector<double>> sizes_of;
  for (const std::vector<Residual>& pot : pots) {
    for (const Residual& one : pot) {
      if (one.reading->weighed()) sizes_of[one.reading->kind].push_back(std::abs(one.value));
    }
  }
  Scatter scatter;
  for (auto& [kind, sizes] : sizes_of) {
    const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
    std::nth_element(sizes.begin(), middle, sizes.end());
    constexpr double normal_median = 0.6744897501960817;  // of the size of a normal number
    constexpr double held_by = 10.0;                      // readings (judged)
    const auto count = static_cast<double>(sizes.size());
    scatter[kind] =
        std::sqrt((held_by + count * square(*middle / normal_median)) / (held_by + count));
  }
  return scatter;
}

bool outlies(const Residual& one, const Scatter& scatter) {
  const double size = std::abs(one.value);
  if (is_yes_no(one.reading->kind)) return size > reading_errors::outlier_limit_yes_no_se;
  return size > (one.reading->weighed() ? outlying_weight * scatter.at(one.reading->kind)
                                        : reading_errors::outlier_limit_se);
}

std::vector<Outlier> outliers_of(const std::vector<Residual>& residuals, const Scatter& scatter) {
  std::vector<Outlier> outliers;
  std::optional<std::size_t> doubtful;  // the outlier that the weighing before was
  for (const Residual& one : residuals) {
    const bool outlying = outlies(one, scatter);
    if (one.reading->weighed()) {
      const auto before = std::exchange(doubtful, std::nullopt);
      const double off_kg = before ? outliers[*before].off_kg : 0.0;
      if (outlying && before && std::abs(one.off_kg + off_kg) < std::abs(off_kg) / 2.0) {
        outliers[*before].mistyped = true;
        continue;
      }
      if (outlying) doubtful = outliers.size();
    }
    if (outlying) {
      outliers.push_back(
          {.when = one.reading->when, .kind = one.reading->kind, .off_kg = one.off_kg});
    }
  }
  return outliers;
}

std::vector<AccountPoint> account_of(const std::vector<Residual>& residuals,
                                     const std::vector<Outlier>& outliers) {
  std::vector<AccountPoint> account;
  for (const Residual& one : residuals) {
    if (is_yes_no(one.reading->kind)) continue;
    account.push_back(one.point);
    account.back().outlies = std::ranges::any_of(outliers, [&](const Outlier& outlier) {
      return outlier.when == one.point.when && outlier.kind == one.point.kind;
    });
  }
  return account;
}

Ranged nine_in_ten_of(double value, double error) {
  return {value, value - nine_in_ten_errors * error, value + nine_in_ten_errors * error};
}
/// The same of `times` x e^`log`, where `error` is the standard error of the logarithm.
Ranged nine_in_ten_of_log(double times, double log, double error) {
  const Ranged range = nine_in_ten_of(log, error);
  return {times * std::exp(range.value), times * std::exp(range.low), times * std::exp(range.high)};
}

PotCalibration calibration_of(const PotReadings& readings, const PotAccount& pot,
                              const PotNumbers& numbers, const PotMatrix& covariance,
                              const std::vector<Residual>& residuals, const Scatter& scatter) {
  const PotNumbers errors = covariance.diagonal().cwiseSqrt();
  const PotNumbers& before = pot.prior();
  const PotNumbers& before_errors = pot.prior_error();
  PotCalibration result{.planting = readings.planting,
                        .readings = pot.telling(),
                        .after_its_end = pot.after_its_end(),
                        .outliers = outliers_of(residuals, scatter)};
  result.account = account_of(residuals, result.outliers);
  // `times`: what the number is the logarithm of a factor on; empty: it is kg of pot and mix. True
  // if something was learned of it.
  const auto add = [&](std::string_view name, Eigen::Index k, std::optional<double> times) {
    const double error = errors[k];
    const auto range_of = [&](double value, double its_error) {
      if (times) return nine_in_ten_of_log(*times, value, its_error);
      Ranged tare = nine_in_ten_of(value - pot.dry_mix_kg(), its_error);
      tare.low = std::max(tare.low, 0.0);
      return tare;
    };
    const Ranged estimate = range_of(numbers[k], error);
    result.estimates.push_back({.parameter = name,
                                .prior = range_of(before[k], before_errors[k]),
                                .estimate = estimate,
                                .standard_error = times ? estimate.value * error : error,
                                .learned = std::max(0.0, 1.0 - square(error / before_errors[k]))});
    return result.estimates.back().learned >= least_learned;
  };
  const Learned fitted = pot.learned(numbers);
  if (add("use_factor", use, 1.0)) {
    result.learned.use_factor = fitted.use_factor;
    result.learned.use_factor_sd = result.estimates.back().standard_error;
  }
  if (add("usable_l", usable, pot.parameters_of_tables().total_available_l)) {
    result.learned.usable_l = fitted.usable_l;
    result.learned.usable_sd_l = result.estimates.back().standard_error;
  }
  const bool tells_tare = !readings.planting->tare_kg && pot.weighed();
  if (tells_tare && add("tare_kg", empty, std::nullopt)) {
    result.tare_kg = std::max(result.estimates.back().estimate.value, 0.0);
  }
  if (pot.porous() && add("wall_factor", wall, 1.0)) {
    result.learned.wall_factor = fitted.wall_factor;
  }
  if (result.learned.usable_l && result.learned.use_factor_sd > 0.0) {
    result.learned.use_usable_correlation =
        std::clamp(covariance(use, usable) / (errors[use] * errors[usable]),
                   -Learned::most_correlation, Learned::most_correlation);
  }
  if (result.learned != Learned{} || result.tare_kg) {
    for (const Residual& one : residuals) {
      if (says_something(*one.reading)) result.learned.until = one.reading->when;
    }
  }
  // How long it lasts is usable water over use: with each number, the covariance of its logarithm.
  const PotNumbers lasting = covariance.row(usable) - covariance.row(use);
  const double variance = lasting[usable] - lasting[use];
  result.lasting_error = result.lasting_error_then = std::sqrt(variance);
  const auto could_measure = [&](NextMeasure next, Eigen::Index number) {
    // Of a normal distribution, a measurement of one number takes this much variance off another.
    const double less =
        square(lasting[number]) / (covariance(number, number) + pot.variance_of(next));
    const double then = std::sqrt(std::max(variance - less, 0.0));
    if (then >= result.lasting_error_then) return;
    result.next = next;
    result.lasting_error_then = then;
  };
  could_measure(NextMeasure::hot_day, use);
  could_measure(NextMeasure::until_wilting, usable);
  if (tells_tare) could_measure(NextMeasure::empty_pot, empty);
  return result;
}

}  // namespace

const Estimate& PotCalibration::of(std::string_view parameter) const {
  const auto found = std::ranges::find(estimates, parameter, &Estimate::parameter);
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
  for (const PotReadings& pot : pots) check_readings(pot.planting, pot.readings);
  place.require_rain();
  CalibrationResult result;
  if (pots.empty()) return result;
  Fit fit(pots, place, catalogue, options);
  // First with a scale at which hardly a residual is an outlier, so that what is far off is drawn
  // in; then with standard errors as they are.
  constexpr double at_first = 30.0;
  const LowestPoint lowest =
      fit.solve(fit.solve(Eigen::VectorXd::Zero(fit.size()), at_first).at, 1.0);
  result.converged = lowest.converged;
  const Eigen::MatrixXd covariance = fit.covariance(lowest);
  std::vector<std::vector<Residual>> residuals;
  for (std::size_t i = 0; i < pots.size(); ++i) {
    residuals.push_back(fit.pots()[i].residuals(fit.numbers(i, lowest.at)));
  }
  const Scatter scatter = scatter_of(residuals);
  for (std::size_t i = 0; i < pots.size(); ++i) {
    result.pots.push_back(calibration_of(pots[i], fit.pots()[i], fit.numbers(i, lowest.at),
                                         fit.covariance_of(i, covariance), residuals[i], scatter));
  }
  return result;
}

}  // namespace wiltline
