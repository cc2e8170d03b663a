// The lowest point of a smooth cost, by Levenberg and Marquardt.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace wiltline {

/// A cost near a point: its slope and its curvature as Gauss and Newton take it, J'WJ of the
/// weighted residuals (symmetric, positive semidefinite).
struct Curved {
  double cost = 0.0;
  Eigen::VectorXd gradient{};
  Eigen::MatrixXd curvature{};
};

/// Where a descent stopped.
struct LowestPoint {
  Eigen::VectorXd at;  // in the units of the start
  /// The cost there, in its own unit. Its curvature inverted is the covariance of `at`, where the
  /// cost is -log(density).
  Curved there;
  bool converged = false;
  int rounds = 0;  // steps, each damped until it goes down
};

/// From `start` down. `cost` and `curved` must agree. Steps solve (H + lambda diag H) d = -g
/// (Marquardt 1963); lambda falls tenfold with each step that goes down and rises with each that
/// does not. Converged once a step, damped as far as it takes to get lower, is expected to lower
/// the cost by less than 1e-10 of it and one.
[[nodiscard]] LowestPoint lowest_point(const Eigen::VectorXd& start,
                                       const std::function<double(const Eigen::VectorXd&)>& cost,
                                       const std::function<Curved(const Eigen::VectorXd&)>& curved,
                                       int most_rounds = 60);

}  // namespace wiltline
