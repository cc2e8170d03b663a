#include "wiltline/base/sobol_indices.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/random.hpp"

namespace wiltline {
namespace {

constexpr Eigen::Index samples = 1000;

Eigen::VectorXd checked(const std::vector<double>& answers, std::size_t rows) {
  if (answers.size() != rows) {
    throw RequestError(
        fmt::format("found {} answers beside {}; expected as many", answers.size(), rows));
  }
  const Eigen::VectorXd all =
      Eigen::Map<const Eigen::VectorXd>(answers.data(), static_cast<Eigen::Index>(rows));
  if (!all.allFinite()) throw RequestError("found an answer that is no number; expected one");
  return all;
}

/// What sums over rows, a row of each matrix for one of the answers: with any weights of the rows
/// the indices follow from the weighted means.
struct Terms {
  Eigen::VectorXd sum;      // f(A) + f(B), less twice the mean of all
  Eigen::VectorXd squares;  // of both
  Eigen::MatrixXd change;   // f(AB) - f(A)
  Eigen::MatrixXd product;  // f(B) times that
  Eigen::MatrixXd squared;  // half its square
};

/// Indices of weighted rows, a sample a row.
struct Sampled {
  Eigen::ArrayXd variance;
  Eigen::ArrayXXd first_order;
  Eigen::ArrayXXd total;
};

/// `weights`: samples x rows, each sample's summing to 1.
Sampled indices(const Eigen::MatrixXd& weights, const Terms& terms) {
  const Eigen::ArrayXd mean = (weights * terms.sum).array() / 2.0;
  Sampled result;
  result.variance = (weights * terms.squares).array() / 2.0 - mean.square();
  result.first_order =
      (weights * terms.product).array() - (weights * terms.change).array().colwise() * mean;
  result.first_order.colwise() /= result.variance;
  result.total = (weights * terms.squared).array().colwise() / result.variance;
  return result;
}

IndexEstimate estimate(double value, const Eigen::ArrayXd& sampled) {
  std::vector<double> sorted(sampled.begin(), sampled.end());
  std::sort(sorted.begin(), sorted.end());
  constexpr std::size_t tail = samples / 20;
  return {value, sorted[tail], sorted[samples - 1 - tail]};
}

}  // namespace

std::optional<SobolIndices> sobol_indices(const PairedAnswers& answers, std::uint64_t seed) {
  const std::size_t rows = answers.a.size();
  if (rows < fewest_index_rows) {
    throw RequestError(
        fmt::format("found {} rows of answers; expected {} at least", rows, fewest_index_rows));
  }
  Eigen::VectorXd a = checked(answers.a, rows);
  Eigen::VectorXd b = checked(answers.b, rows);
  const double mean = (a.mean() + b.mean()) / 2.0;
  a.array() -= mean;
  b.array() -= mean;
  const auto count = static_cast<Eigen::Index>(rows);
  const auto inputs = static_cast<Eigen::Index>(answers.swapped.size());
  Terms terms{.sum = a + b,
              .squares = a.array().square() + b.array().square(),
              .change = Eigen::MatrixXd(count, inputs),
              .product = {},
              .squared = {}};
  for (Eigen::Index i = 0; i < inputs; ++i) {
    terms.change.col(i) =
        (checked(answers.swapped[static_cast<std::size_t>(i)], rows).array() - mean).matrix() - a;
  }
  terms.product = terms.change.array().colwise() * b.array();
  terms.squared = terms.change.array().square() / 2.0;

  // Differences of rounding alone are none.
  constexpr double nine_digits = 1e-9;
  const double least = std::max(nine_digits * nine_digits * mean * mean, 1e-300);
  const Sampled all =
      indices(Eigen::MatrixXd::Constant(1, count, 1.0 / static_cast<double>(rows)), terms);
  if (!(all.variance[0] > least)) return std::nullopt;

  Sampled sampled{Eigen::ArrayXd(samples), Eigen::ArrayXXd(samples, inputs),
                  Eigen::ArrayXXd(samples, inputs)};
  RandomBits bits(seed);
  constexpr Eigen::Index at_once = 50;  // keeps the weights of many rows small
  for (Eigen::Index begin = 0; begin < samples; begin += at_once) {
    Eigen::MatrixXd weights = Eigen::MatrixXd::Zero(at_once, count);
    for (Eigen::Index sample = 0; sample < at_once; ++sample) {
      for (std::size_t i = 0; i < rows; ++i) {
        weights(sample, static_cast<Eigen::Index>(bits.below(rows))) += 1.0;
      }
    }
    const Sampled some = indices(weights / static_cast<double>(rows), terms);
    sampled.variance.segment(begin, at_once) = some.variance;
    sampled.first_order.middleRows(begin, at_once) = some.first_order;
    sampled.total.middleRows(begin, at_once) = some.total;
  }
  if (!(sampled.variance.minCoeff() > least)) return std::nullopt;

  SobolIndices result{.mean = mean, .variance = all.variance[0], .first_order = {}, .total = {}};
  for (Eigen::Index i = 0; i < inputs; ++i) {
    result.first_order.push_back(estimate(all.first_order(0, i), sampled.first_order.col(i)));
    result.total.push_back(estimate(all.total(0, i), sampled.total.col(i)));
  }
  return result;
}

}  // namespace wiltline
