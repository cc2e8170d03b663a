// The one home of turning text into numbers. Never depends on the locale.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace wiltline {

/// A finite decimal number that fills the whole text: `28`, `-1.5`, `3e2`. Empty for anything else:
/// an empty text, `28C`, `1,5`, `nan`, `inf`, `0x1A`, a number too large for a double.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);
/// The same for long columns of numbers: false, and `value` as it was, instead of empty. (An
/// optional returned from a call goes through memory and costs more than the number itself.)
[[nodiscard]] bool parse_number(std::string_view text, double& value);

/// As parse_number, but only a whole number without point or exponent.
[[nodiscard]] std::optional<int> parse_integer(std::string_view text);

/// The shortest decimal text that reads back as the same double.
[[nodiscard]] std::string shortest(double value);

}  // namespace wiltline
