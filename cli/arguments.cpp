// What was typed on the command line, by the name of its option.

#include <fmt/format.h>

#include "command.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {

std::optional<std::string> Arguments::text(const char* name) const {
  if (!flag(name)) return std::nullopt;
  return values_[name].as<std::string>();
}

std::vector<std::string> Arguments::texts(const char* name) const {
  if (!flag(name)) return {};
  return values_[name].as<std::vector<std::string>>();
}

std::optional<double> Arguments::number(const char* name, double low, double high) const {
  const auto given = text(name);
  if (!given) return std::nullopt;
  const auto value = parse_number(*given);
  if (!value) {
    throw RequestError(fmt::format("--{}: found {}; expected a number", name, in_quotes(*given)));
  }
  if (!(*value >= low && *value <= high)) {
    throw RequestError(fmt::format("--{}: found {}; expected {} to {}", name, *given, low, high));
  }
  return value;
}

}  // namespace wiltline::cli
