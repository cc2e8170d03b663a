#include "wiltline/base/numbers.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

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

}  // namespace

bool parse_number(std::string_view text, double& value) {
  const auto number = whole<double>(text);
  if (!number || !std::isfinite(*number)) return false;  // from_chars takes nan and inf
  value = *number;
  return true;
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
