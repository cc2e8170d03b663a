// Files whose rows name a planting of the garden.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "wiltline/base/fields.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

inline constexpr std::string_view name_example = "a name of the garden";

/// A garden's plantings by name: files of both can be long. They must outlive it.
class ByName {
 public:
  explicit ByName(std::span<const Planting> plantings);
  [[nodiscard]] const Planting* find(std::string_view name) const;
  /// The planting that a row names; null if the garden has none of that name. That is told of a
  /// name like one of the garden in its first row, and of all other names together.
  [[nodiscard]] const Planting* named(TableRows& rows);

 private:
  /// What is said of the planting nearest to a name that the garden does not have.
  const std::string& hint_for(std::string_view name);
  void tell_unknown(TableRows& rows, std::string_view name);

  std::vector<std::string> names_;
  std::unordered_map<std::string_view, const Planting*> index_;
  std::unordered_map<std::string, std::string> hints_;  // by unknown name
  std::unordered_set<std::string> told_;                // of these; "" of all without a hint
};

}  // namespace wiltline
