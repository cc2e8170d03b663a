// Lists in which things stand in the order in which they first come up.
#pragma once

#include <algorithm>
#include <utility>
#include <vector>

namespace wiltline::cli {

/// Adds a value to the end of a list, unless it is there already.
template <typename Value>
void add_once(std::vector<Value>& list, const Value& value) {
  if (std::ranges::find(list, value) == list.end()) list.push_back(value);
}

/// The value of `key` in a list of pairs; put at its end if it is new.
template <typename Key, typename Value>
Value& entry(std::vector<std::pair<Key, Value>>& list, const Key& key) {
  const auto known = std::ranges::find_if(list, [&](const auto& one) { return one.first == key; });
  return known != list.end() ? known->second : list.emplace_back(key, Value{}).second;
}

}  // namespace wiltline::cli
