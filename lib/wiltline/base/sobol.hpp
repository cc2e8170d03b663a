// Points that fill a cube of many dimensions evenly, so that means and shares over them come nearer
// to the truth than over as many random points.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace wiltline {

/// The most dimensions a point may have.
inline constexpr std::size_t most_sobol_dimensions = 256;

/// The `number`-th point of the Sobol sequence (from 0: the one in the middle; the sequence's own
/// first point, the origin, is left out), in [0, 1) in each of `dimensions`, up to
/// most_sobol_dimensions: RequestError. Direction numbers of Joe and Kuo (2008), as Boost has them,
/// and its order, that of the Gray code.
[[nodiscard]] std::vector<double> sobol_point(std::size_t dimensions, std::uint64_t number);

/// The same point shifted: in each dimension the bits of one random number that belongs to `seed`
/// are flipped. The points stay as even, and each by itself is spread evenly over the cube, so that
/// means are right on average over the seeds.
[[nodiscard]] std::vector<double> shifted_sobol_point(std::size_t dimensions, std::uint64_t number,
                                                      std::uint64_t seed);

}  // namespace wiltline
