// Random numbers that are the same with every compiler and library.
#pragma once

#include <cstdint>

namespace wiltline::test {

/// splitmix64 (Steele, Lea & Flood 2014, public domain constants).
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31U);
  }
  /// In [low, high).
  double uniform(double low = 0.0, double high = 1.0) {
    constexpr double two_to_53 = 9007199254740992.0;
    return low + (high - low) * (static_cast<double>(next() >> 11U) / two_to_53);
  }
  /// In [0, n).
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(next() % n); }
  bool chance(double probability) { return uniform() < probability; }

 private:
  std::uint64_t state_;
};

}  // namespace wiltline::test
