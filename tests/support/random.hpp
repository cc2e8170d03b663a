// Random numbers for tests, from the library's own generator.
#pragma once

#include "wiltline/base/random.hpp"

namespace wiltline::test {

class Random {
 public:
  explicit Random(std::uint64_t seed) : bits_(seed) {}

  std::uint64_t next() { return bits_.next(); }
  /// In [low, high).
  double uniform(double low = 0.0, double high = 1.0) {
    return low + (high - low) * bits_.uniform();
  }
  /// In [0, n).
  std::size_t below(std::size_t n) { return bits_.below(n); }
  bool chance(double probability) { return uniform() < probability; }

 private:
  RandomBits bits_;
};

}  // namespace wiltline::test
