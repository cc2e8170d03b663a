// A value and how far off it may be.
#pragma once

#include <limits>

namespace wiltline {

/// A value between the lowest and the highest that are as plausible; of numbers low <= value <=
/// high, of other things (release curves, mixes) those that stand for least and most.
template <typename Value>
struct RangedOf {
  Value value{};
  Value low{};
  Value high{};

  /// A value without a range.
  [[nodiscard]] static RangedOf exactly(const Value& value) { return {value, value, value}; }
  /// Neither value nor range: not in order.
  [[nodiscard]] static RangedOf unknown() {
    return exactly(std::numeric_limits<Value>::quiet_NaN());
  }

  [[nodiscard]] bool varies() const { return low < high; }
  [[nodiscard]] bool in_order() const { return low <= value && value <= high; }
  /// The number at a level from -1 (low) over 0 (value) to 1 (high), straight on either side, and
  /// beyond.
  [[nodiscard]] Value at(double level) const {
    return value + (level >= 0.0 ? level * (high - value) : -level * (low - value));
  }
  /// The range scaled, value and ends.
  [[nodiscard]] RangedOf times(double factor) const {
    return {value * factor, low * factor, high * factor};
  }

  bool operator==(const RangedOf&) const = default;
};

using Ranged = RangedOf<double>;

}  // namespace wiltline
