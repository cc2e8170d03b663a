// A text that must be one of a few words.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

#include "wiltline/base/result.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {

/// What the word `text` stands for; a fault that lists the words if it is none of them.
template <typename Value>
[[nodiscard]] Result<Value> word_of(
    std::string_view text, std::initializer_list<std::pair<std::string_view, Value>> words) {
  std::string expected;
  std::size_t left = words.size();
  for (const auto& [word, value] : words) {
    if (text == word) return value;
    expected += expected.empty() ? "" : left == 1 ? " or " : ", ";
    expected += word;
    --left;
  }
  return Fault{in_quotes(text), expected};
}

}  // namespace wiltline
