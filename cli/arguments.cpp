// What was typed on the command line, by the name of its option.

#include <fmt/format.h>

#include <algorithm>

#include "command.hpp"
#include "refuse.hpp"
#include "weather_options.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {

std::optional<std::string> Arguments::text(const char* name) const {
  if (!flag(name)) return std::nullopt;
  return values_[name].as<std::string>();
}

std::string Arguments::text(const char* name, std::string_view otherwise) const {
  return text(name).value_or(std::string(otherwise));
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
    refuse("--{}: found {}; expected a number", name, in_quotes(*given));
  }
  if (!(*value >= low && *value <= high)) {
    refuse("--{}: found {}; expected {} to {}", name, *given, low, high);
  }
  return value;
}

std::string in_words(const Advice& advice) {
  using enum Advice::Kind;
  switch (advice.kind) {
    case none:
      return {};
    case show_names:
      return fmt::format(" (wiltline list {}s)", advice.about);
    case fill_gap:
      return fmt::format(" (or --fill-gaps {})", advice.about);
    case fill_longer_gap:
      return " (--fill-gaps)";
    case fill_rain:
      return " (or --fill-gaps, which takes it as none)";
    case grow_as_saved:
      return ", as --growth says";
    case name_layout:
      return " (--layout)";
    case name_date_order:
      return " (--dates)";
    case table_of_columns:
      return " (--columns)";
    case give_site_value:
      return fmt::format(", a site file or --{}", site_option(advice.about));
  }
  return {};
}

const Command* find_command(const std::vector<Command>& commands, std::string_view name) {
  const auto found = std::ranges::find(commands, name, &Command::name);
  return found == commands.end() ? nullptr : &*found;
}

}  // namespace wiltline::cli
