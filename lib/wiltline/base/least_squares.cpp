#include "wiltline/base/least_squares.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

namespace wiltline {

LowestPoint lowest_point(const Eigen::VectorXd& start,
                         const std::function<double(const Eigen::VectorXd&)>& cost,
                         const std::function<Curved(const Eigen::VectorXd&)>& curved,
                         int most_rounds) {
  constexpr double relative_decrease_to_stop = 1e-10;
  constexpr double least_damping = 1e-12;
  constexpr double most_damping = 1e12;
  LowestPoint lowest{.at = start, .there = curved(start)};
  double damping = 1e-3;
  while (lowest.rounds < most_rounds && !lowest.converged) {
    ++lowest.rounds;
    const Curved& here = lowest.there;
    Eigen::VectorXd next = lowest.at;
    bool lower = false;
    while (!lower && !lowest.converged && damping < most_damping) {
      Eigen::MatrixXd damped = here.curvature;
      damped.diagonal() *= 1.0 + damping;
      const Eigen::VectorXd step = damped.ldlt().solve(-here.gradient);
      lowest.converged =
          -here.gradient.dot(step) < relative_decrease_to_stop * (1.0 + std::abs(here.cost));
      next = lowest.at + step;
      lower = cost(next) < here.cost;  // false if it is no number
      damping = lower ? std::max(damping / 10.0, least_damping) : damping * 10.0;
    }
    if (!lower) break;
    lowest.at = next;
    lowest.there = curved(lowest.at);
  }
  return lowest;
}

}  // namespace wiltline
