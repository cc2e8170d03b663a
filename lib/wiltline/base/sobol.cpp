#include "wiltline/base/sobol.hpp"

#include <fmt/format.h>

#include <boost/random/sobol.hpp>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/random.hpp"

namespace wiltline {
namespace {

/// A sequence of at least so many dimensions. To work out the direction numbers takes longer than a
/// draw: once, and copied from then on.
const boost::random::sobol& prototype(std::size_t dimensions) {
  constexpr std::size_t of_a_draw = 128;
  if (dimensions <= of_a_draw) {
    static const boost::random::sobol fewer(of_a_draw);
    return fewer;
  }
  static const boost::random::sobol most(most_sobol_dimensions);
  return most;
}

/// `flip(dimension)`: the bits to flip.
template <typename Flip>
std::vector<double> point(std::size_t dimensions, std::uint64_t number, Flip flip) {
  if (dimensions > most_sobol_dimensions) {
    throw RequestError(fmt::format("found {} dimensions of a Sobol sequence; expected at most {}",
                                   dimensions, most_sobol_dimensions));
  }
  boost::random::sobol sequence = prototype(dimensions);
  sequence.seed(number);
  std::vector<double> result(dimensions);
  for (std::size_t i = 0; i < dimensions; ++i) {
    constexpr double two_to_53 = 9007199254740992.0;
    result[i] = static_cast<double>((sequence() ^ flip(i)) >> 11U) / two_to_53;
  }
  return result;
}

}  // namespace

std::vector<double> sobol_point(std::size_t dimensions, std::uint64_t number) {
  return point(dimensions, number, [](std::size_t) { return std::uint64_t{0}; });
}

std::vector<double> shifted_sobol_point(std::size_t dimensions, std::uint64_t number,
                                        std::uint64_t seed) {
  return point(dimensions, number,
               [bits = RandomBits(seed)](std::size_t) mutable { return bits.next(); });
}

}  // namespace wiltline
