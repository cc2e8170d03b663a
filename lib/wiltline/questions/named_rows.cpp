#include "wiltline/questions/named_rows.hpp"

#include <fmt/format.h>

#include <utility>

#include "wiltline/base/text.hpp"

namespace wiltline {

ByName::ByName(std::span<const Planting> plantings) {
  for (const Planting& one : plantings) {
    names_.push_back(one.name);
    index_.emplace(one.name, &one);
  }
}

const Planting* ByName::find(std::string_view name) const {
  const auto found = index_.find(name);
  return found == index_.end() ? nullptr : found->second;
}

const Planting* ByName::named(TableRows& rows) {
  const std::string_view name = rows.text("name");
  const Planting* const found = find(name);
  if (found == nullptr && !name.empty()) tell_unknown(rows, name);
  return found;
}

const std::string& ByName::hint_for(std::string_view name) {
  constexpr std::size_t most_hints = 100;  // each is sought among all names
  const bool seek = hints_.size() < most_hints;
  const auto [hint, is_new] = hints_.try_emplace(std::string(name));
  if (is_new && seek) hint->second = nearest_hint(name, names_);
  return hint->second;
}

void ByName::tell_unknown(TableRows& rows, std::string_view name) {
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

}  // namespace wiltline
