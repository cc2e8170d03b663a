#include "wiltline/base/least_squares.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

namespace wiltline {

LowestPoint lowest_point(const std::vector<double>& start,
                         const std::function<double(const std::vector<double>&)>& cost,
                         const std::function<Curved(const std::vector<double>&)>& curved,
                         int most_rounds) {
  constexpr double promise = 1e-10;
  constexpr double least_damping = 1e-12;
  constexpr double most_damping = 1e12;
  const auto size = static_cast<Eigen::Index>(start.size());
  LowestPoint lowest{.at = start, .there = curved(start)};
  double damping = 1e-3;
  while (lowest.rounds < most_rounds && !lowest.converged) {
    ++lowest.rounds;
    const Curved& here = lowest.there;
    const Eigen::Map<const Eigen::VectorXd> gradient(here.gradient.data(), size);
    const Eigen::Map<const Eigen::MatrixXd> curvature(here.curvature.data(), size, size);
    std::vector<double> next = lowest.at;
    bool lower = false;
    while (!lower && !lowest.converged && damping < most_damping) {
      Eigen::MatrixXd damped = curvature;
      damped.diagonal() *= 1.0 + damping;
      const Eigen::VectorXd step = damped.ldlt().solve(-gradient);
      lowest.converged = -gradient.dot(step) < promise * (1.0 + std::abs(here.cost));
      for (Eigen::Index i = 0; i < size; ++i) {
        const auto at = static_cast<std::size_t>(i);
        next[at] = lowest.at[at] + step[i];
      }
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
