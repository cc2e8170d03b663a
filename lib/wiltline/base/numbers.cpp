#include "wiltline/base/numbers.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace wiltline {
namespace {

/// from_chars that must use the whole text.
template <typename Number>
std::optional<Number> whole(std::string_view text) {
  Number value{};
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end) return std::nullopt;
  return value;
}

constexpr std::size_t most_exact_digits = 15;
constexpr std::array<double, most_exact_digits + 1> powers_of_ten{
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

/// A plain decimal of at most 15 digits, such as `-12.5`: what nearly every cell holds. Its digits
/// taken as a whole number and the power of ten are both exact as doubles, and a division of exact
/// numbers is rounded once: the same double as from_chars gives. False for everything else.
bool short_decimal(std::string_view text, double& value) {
  const char* at = text.data();
  const char* const end = at + text.size();
  const bool negative = at != end && *at == '-';
  if (negative) ++at;
  if (end - at > static_cast<std::ptrdiff_t>(most_exact_digits) + 1) return false;
  std::int64_t digits = 0;
  const auto take_digits = [&] {
    const char* const begin = at;
    while (at != end && *at >= '0' && *at <= '9') digits = 10 * digits + (*at++ - '0');
    return static_cast<std::size_t>(at - begin);
  };
  const std::size_t before_point = take_digits();
  std::size_t after_point = 0;
  if (at != end && *at == '.') {
    ++at;
    after_point = take_digits();
    if (after_point == 0) return false;
  }
  if (at != end || before_point == 0 || before_point + after_point > most_exact_digits) {
    return false;
  }
  const double size = static_cast<double>(digits) / powers_of_ten[after_point];
  value = negative ? -size : size;
  return true;
}

bool any_decimal(std::string_view text, double& value) {
  const auto number = whole<double>(text);
  if (!number || !std::isfinite(*number)) return false;  // from_chars takes nan and inf
  value = *number;
  return true;
}

}  // namespace

bool parse_number(std::string_view text, double& value) {
  return short_decimal(text, value) || any_decimal(text, value);
}

std::optional<double> parse_number(std::string_view text) {
  double value = 0.0;
  if (!parse_number(text, value)) return std::nullopt;
  return value;
}

std::optional<int> parse_integer(std::string_view text) {
  return whole<int>(text);
}

std::string shortest(double value) {
  return fmt::format("{}", value);
}

}  // namespace wiltline
