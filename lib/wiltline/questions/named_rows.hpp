// Files whose rows name a planting of the garden.
#pragma once

#include <fmt/format.h>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "wiltline/base/fields.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

inline constexpr std::string_view name_example = "a name of the garden";
inline constexpr std::string_view instant_example =
    "a date and hour that exist, as 2024-05-31 18:30";

/// The date and hour of a cell; empty, and told, if it is none.
[[nodiscard]] inline std::optional<Instant> instant_of(const Cell& cell) {
  const auto when = parse_instant(cell.text());
  if (!when) cell.complain(in_quotes(cell.text()), std::string(instant_example));
  return when;
}

/// A text cell of CSV, quoted where it must be so that it is read back as it is.
[[nodiscard]] inline std::string csv_text(std::string_view text, char separator = ',') {
  const bool plain = text.find_first_of("\"\n\r") == std::string_view::npos &&
                     text.find(separator) == std::string_view::npos && !text.starts_with('#') &&
                     trim(text) == text;
  return plain ? std::string(text) : csv_quoted(text);
}

/// A garden's plantings by name: files of both can be long. They must outlive it.
class ByName {
 public:
  explicit ByName(std::span<const Planting> plantings) : plantings_(plantings) {
    for (const Planting& one : plantings) index_.emplace(one.name, &one);
  }
  [[nodiscard]] const Planting* find(std::string_view name) const {
    const auto found = index_.find(name);
    return found == index_.end() ? nullptr : found->second;
  }
  /// The planting that a row names; null if the garden has none of that name. That is told of a
  /// name like one of the garden in its first row, and of all other names together.
  [[nodiscard]] const Planting* named(TableRows& rows) {
    const std::string_view name = rows.text("name");
    const Planting* const found = find(name);
    if (found == nullptr && !name.empty()) tell_unknown(rows, name);
    return found;
  }

 private:
  /// What is said of the planting nearest to a name that the garden does not have.
  const std::string& hint_for(std::string_view name) {
    const auto [hint, is_new] = hints_.try_emplace(std::string(name));
    if (!is_new) return hint->second;
    std::vector<std::string> names;
    for (const Planting& one : plantings_) names.push_back(one.name);
    return hint->second = nearest_hint(name, names);
  }
  void tell_unknown(TableRows& rows, std::string_view name) {
    const std::string hint = hint_for(name);
    if (!told_.insert(hint.empty() ? std::string() : std::string(name)).second) return;
    const std::size_t column = *rows.table().column("name");
    std::size_t alike = 0;
    for (std::size_t row = 0; row < rows.table().rows(); ++row) {
      const std::string_view other = rows.table().cell(row, column);
      const bool unknown = !other.empty() && find(other) == nullptr;
      if (hint.empty() ? unknown && hint_for(other).empty() : other == name) ++alike;
    }
    std::string found = fmt::format("unknown planting {}", in_quotes(name));
    if (alike > 1) {
      found = hint.empty()
                  ? fmt::format("unknown plantings in {} rows, first {}", alike, in_quotes(name))
                  : fmt::format("{} in {} rows", found, alike);
    }
    rows.complain("name", std::move(found), std::string(name_example) + hint);
  }

  std::span<const Planting> plantings_;
  std::unordered_map<std::string_view, const Planting*> index_;
  std::unordered_map<std::string, std::string> hints_;  // by unknown name
  std::unordered_set<std::string> told_;                // of these; "" of all without a hint
};

}  // namespace wiltline
