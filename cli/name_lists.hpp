// Names of the tables as options give them: one, or a list separated by commas.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "command.hpp"
#include "refuse.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::cli {

/// The word for several of a kind, as in `wiltline list`.
inline std::string plural(std::string_view what) {
  return fmt::format("{}{}", what, what.ends_with('x') ? "es" : "s");
}

/// A name of a table. Throws RequestError with the nearest one. `what` is its singular, as in
/// `wiltline list`.
template <typename Value>
const Value& known(const char* option, std::string_view what, std::string_view name,
                   const NamedTable<Value>& table) {
  const Value* const value = table.find(name);
  if (value == nullptr) {
    refuse("--{}: found unknown {} {}; expected a known {} (wiltline list {}){}", option, what,
           in_quotes(name), what, plural(what), nearest_hint(name, table.all_names()));
  }
  return *value;
}

/// The parts of a list separated by commas, each once. Throws RequestError.
inline std::vector<std::string_view> listed(const char* option, std::string_view text) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view part = trim(text.substr(0, comma));
    if (part.empty()) {
      refuse("--{}: found an empty name; expected names separated by commas", option);
    }
    const bool again = std::ranges::any_of(
        parts, [&](std::string_view earlier) { return folded(earlier) == folded(part); });
    if (again) {
      refuse("--{}: found {} a second time; expected each once", option, in_quotes(part));
    }
    parts.push_back(part);
    if (comma == text.size()) return parts;
    text.remove_prefix(comma + 1);
  }
}

/// What `read` makes of each part of a list that an option gives; none where it is not given.
template <typename Read>
auto each_listed(const Arguments& arguments, const char* option, const Read& read) {
  std::vector<std::decay_t<std::invoke_result_t<Read, std::string_view>>> values;
  const auto text = arguments.text(option);
  if (!text) return values;
  for (const std::string_view part : listed(option, *text)) values.push_back(read(part));
  return values;
}

/// The word for everything known, instead of a list.
inline constexpr std::string_view all_word = "all";

/// The values of a table that a list names, or all of them.
template <typename Value>
std::vector<Value> values_of(const char* option, std::string_view what, std::string_view text,
                             const NamedTable<Value>& table) {
  std::vector<Value> values;
  if (folded(text) == all_word) {
    for (const Entry<Value>& entry : table.entries()) values.push_back(entry.value);
    return values;
  }
  std::vector<const Value*> taken;  // a row has several names
  for (const std::string_view name : listed(option, text)) {
    const Value& value = known(option, what, name, table);
    if (std::ranges::find(taken, &value) != taken.end()) {
      refuse("--{}: found {} a second time; expected each once", option, in_quotes(name));
    }
    taken.push_back(&value);
    values.push_back(value);
  }
  return values;
}

}  // namespace wiltline::cli
