// How a table of somebody else's is written: what separates its cells and where its header stands.
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {

/// Calls `take` with each line that is neither blank nor a comment, and its number from 1, until it
/// returns false.
template <typename Take>
void each_line(std::string_view text, const Take& take) {
  std::size_t number = 0;
  while (!text.empty()) {
    const std::size_t newline = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, newline);
    text.remove_prefix(std::min(newline + 1, text.size()));
    ++number;
    if (line.ends_with('\r')) line.remove_suffix(1);
    const std::string_view content = trim(line);
    if (content.empty() || content.front() == '#') continue;
    if (!take(line, number)) return;
  }
}

/// What was found out from the bytes.
struct Dialect {
  char separator = ',';
  std::size_t header_line = 1;
  std::vector<std::string_view> header;     // quotes and spaces around names taken off
  std::vector<std::string_view> first_row;  // the line after the header; empty: there is none
};

/// How many of some names are known; the header of a table is the line that has most.
using KnownNames = std::function<std::size_t(std::span<const std::string_view>)>;

/// The separator and header under which most names are known, at least two of them, within the
/// first hundred lines that are no comments; empty if there is none.
[[nodiscard]] std::optional<Dialect> find_dialect(std::string_view text, const KnownNames& known);

/// The first line after the header that is separated otherwise, as a problem of that line.
[[nodiscard]] std::optional<Problem> changed_separator(std::string_view text,
                                                       const Dialect& dialect,
                                                       std::string_view file);

/// The cells of one line, without quotes and spaces around them.
[[nodiscard]] std::vector<std::string_view> split_line(std::string_view line, char separator);

/// In words: commas, semicolons, tabs.
[[nodiscard]] std::string_view separator_word(char separator);

}  // namespace wiltline
