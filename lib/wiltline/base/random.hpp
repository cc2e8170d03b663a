// Random numbers that are the same with every compiler, library and processor.
#pragma once

#include <cstddef>
#include <cstdint>

namespace wiltline {

/// splitmix64 (Steele, Lea and Flood 2014): the n-th number is a mix of seed + n x
/// 0x9E3779B97F4A7C15 modulo 2^64: z ^= z >> 30, times 0xBF58476D1CE4E5B9, z ^= z >> 27, times
/// 0x94D049BB133111EB, z ^= z >> 31.
class RandomBits {
 public:
  /// Different streams of one seed are independent of each other.
  explicit RandomBits(std::uint64_t seed, std::uint64_t stream = 0)
      : state_(mixed(mixed(seed) + stream)) {}

  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15U;
    return mixed(state_);
  }
  /// In [0, 1): the upper 53 bits over 2^53.
  double uniform() {
    constexpr double two_to_53 = 9007199254740992.0;
    return static_cast<double>(next() >> 11U) / two_to_53;
  }
  /// In [0, n), n > 0.
  std::size_t below(std::size_t n) {
    const auto picked = static_cast<std::size_t>(uniform() * static_cast<double>(n));
    return picked < n ? picked : n - 1;
  }

 private:
  static std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31U);
  }

  std::uint64_t state_;
};

}  // namespace wiltline
