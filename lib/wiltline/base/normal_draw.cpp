#include "wiltline/base/normal_draw.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>

namespace wiltline {

double normal_at_level(double level) {
  // In double throughout: Boost would go to long double, which is another type on each machine.
  using namespace boost::math::policies;
  using InDouble = policy<promote_double<false>>;
  constexpr double furthest = 1.0 - 1e-9;  // six standard errors
  return std::sqrt(2.0) * boost::math::erf_inv(std::clamp(level, -furthest, furthest), InDouble());
}

}  // namespace wiltline
