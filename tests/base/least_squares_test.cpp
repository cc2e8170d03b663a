// Levenberg and Marquardt against certified fits, and where there is nothing to find.
#include "wiltline/base/least_squares.hpp"

#include <doctest/doctest.h>

#include <Eigen/LU>
#include <array>
#include <cmath>

#include "support/near.hpp"

namespace wiltline::test {
namespace {

// NIST Statistical Reference Datasets, nonlinear regression, Misra1a (lower difficulty): y = b1 (1
// - exp(-b2 x)); data and certified values from memory.
constexpr std::array<double, 14> misra_y{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                         44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
constexpr std::array<double, 14> misra_x{77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                         378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};

double misra_cost(const Eigen::VectorXd& b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < misra_x.size(); ++i) {
    sum += std::pow(misra_y[i] - b[0] * (1.0 - std::exp(-b[1] * misra_x[i])), 2);
  }
  return sum / 2.0;
}

Curved misra(const Eigen::VectorXd& b) {
  Curved all{.cost = misra_cost(b),
             .gradient = Eigen::VectorXd::Zero(2),
             .curvature = Eigen::MatrixXd::Zero(2, 2)};
  for (std::size_t i = 0; i < misra_x.size(); ++i) {
    const double left = std::exp(-b[1] * misra_x[i]);
    const Eigen::Vector2d slope(left - 1.0, -b[0] * misra_x[i] * left);
    all.gradient += (misra_y[i] - b[0] * (1.0 - left)) * slope;
    all.curvature += slope * slope.transpose();
  }
  return all;
}

// A pot that dries, with one weight 1.5 kg off: empty + water exp(-use days), invented.
constexpr std::array<double, 12> drying_kg{19.96, 18.71, 17.53, 16.68, 15.77, 16.61,
                                           14.52, 13.94, 13.56, 13.10, 12.79, 12.42};

Curved drying(const Eigen::VectorXd& x) {
  constexpr double freedom = 4.0;
  constexpr double scale_kg = 0.05;
  const Eigen::Vector3d spread(2.0, 2.0, 0.1);
  const Eigen::Vector3d b = Eigen::Vector3d(9.0, 10.0, 0.2) + spread.cwiseProduct(x);
  Curved all{
      .cost = x.squaredNorm() / 2.0, .gradient = x, .curvature = Eigen::Matrix3d::Identity()};
  for (std::size_t day = 0; day < drying_kg.size(); ++day) {
    const auto days = static_cast<double>(day);
    const double left = std::exp(-b[2] * days);
    const double off = (drying_kg[day] - (b[0] + b[1] * left)) / scale_kg;
    const Eigen::Vector3d slope =
        spread.cwiseProduct(Eigen::Vector3d(-1.0, -left, b[1] * days * left)) / scale_kg;
    const double weight = (freedom + 1.0) / (freedom + off * off);
    all.cost += (freedom + 1.0) / 2.0 * std::log1p(off * off / freedom);
    all.gradient += weight * off * slope;
    all.curvature += weight * slope * slope.transpose();
  }
  return all;
}

}  // namespace

// Printed by tests/base/other_solver.py with SciPy 1.10.1 (Debian 12): its trust-region least
// squares and its Nelder and Mead agree to the digits given.
TEST_CASE("least squares: robust, with priors, as another solver has it") {
  const LowestPoint found = lowest_point(
      Eigen::VectorXd::Zero(3), [](const Eigen::VectorXd& x) { return drying(x).cost; }, drying);
  CHECK(found.converged);
  CHECK(near(found.at[0], 0.77147683, 1e-5));
  CHECK(near(found.at[1], -0.29370471, 1e-5));
  CHECK(near(found.at[2], -0.55471318, 1e-5));
  CHECK(near(found.there.cost, 17.474933431667, 1e-8));
}

TEST_CASE("least squares: a certified fit from the farther start, with its standard errors") {
  const LowestPoint found = lowest_point(Eigen::Vector2d(500.0, 0.0001), misra_cost, misra);
  CHECK(found.converged);
  CHECK(near(found.at[0], 2.3894212918e2, 1e-7));
  CHECK(near(found.at[1], 5.5015643181e-4, 1e-12));
  CHECK(near(2.0 * found.there.cost, 1.2455138894e-1, 1e-10));
  const Eigen::Matrix2d inverse = found.there.curvature.inverse();
  const double variance = 2.0 * found.there.cost / 12.0;  // 14 values less 2 numbers
  CHECK(near(std::sqrt(variance * inverse(0, 0)), 2.7070075241, 1e-8));
  CHECK(near(std::sqrt(variance * inverse(1, 1)), 7.2668688436e-6, 1e-14));
}

TEST_CASE("least squares: the gradients are those of the costs, by differences") {
  const auto check = [](const Eigen::VectorXd& at, Curved (*curved)(const Eigen::VectorXd&)) {
    for (Eigen::Index k = 0; k < at.size(); ++k) {
      const double step = 1e-5 * std::abs(at[k]);
      Eigen::VectorXd above = at;
      Eigen::VectorXd below = at;
      above[k] += step;
      below[k] -= step;
      const double slope = (curved(above).cost - curved(below).cost) / (2.0 * step);
      CHECK(near(curved(at).gradient[k] / slope, 1.0, 1e-6));
    }
  };
  check(Eigen::Vector2d(240.0, 5.6e-4), misra);
  check(Eigen::Vector3d(0.4, -0.7, 0.9), drying);
}

TEST_CASE("least squares: at the lowest point already") {
  const LowestPoint found = lowest_point(
      Eigen::VectorXd::Zero(1), [](const Eigen::VectorXd& x) { return x[0] * x[0] / 2.0; },
      [](const Eigen::VectorXd& x) {
        return Curved{x[0] * x[0] / 2.0, x, Eigen::MatrixXd::Identity(1, 1)};
      });
  CHECK(found.converged);
  CHECK(found.at[0] == 0.0);
}

TEST_CASE("least squares: a cost that is no number is not gone into") {
  // x - log x has none below 0, where the first step leads.
  const auto cost = [](const Eigen::VectorXd& x) { return x[0] - std::log(x[0]); };
  const auto constant = [](double value) { return Eigen::VectorXd::Constant(1, value); };
  const LowestPoint found = lowest_point(constant(8.0), cost, [&](const Eigen::VectorXd& x) {
    return Curved{cost(x), constant(1.0 - 1.0 / x[0]), constant(1.0 / (x[0] * x[0]))};
  });
  CHECK(near(found.at[0], 1.0, 1e-4));
}

}  // namespace wiltline::test
