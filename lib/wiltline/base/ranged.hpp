// A number and how far off it may be.
#pragma once

namespace wiltline {

/// A value with the range in which it plausibly lies.
struct Ranged {
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;

  bool operator==(const Ranged&) const = default;
};

}  // namespace wiltline
