#include "wiltline/base/text.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wiltline {
namespace {

bool is_space(char c) {
  return c == ' ' || c == '\t';
}

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Edit distance: an insertion, deletion, replacement or swap of neighbours counts one each.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  const std::size_t width = b.size() + 1;
  std::vector<std::size_t> cost((a.size() + 1) * width);
  const auto at = [&](std::size_t i, std::size_t j) -> std::size_t& { return cost[i * width + j]; };
  for (std::size_t i = 0; i <= a.size(); ++i) at(i, 0) = i;
  for (std::size_t j = 0; j <= b.size(); ++j) at(0, j) = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      at(i, j) = std::min(
          {at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + (a[i - 1] == b[j - 1] ? 0 : 1)});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) at(i, j) = std::min(at(i, j), at(i - 2, j - 2) + 1);
    }
  }
  return at(a.size(), b.size());
}

}  // namespace

std::string_view trim(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

std::vector<std::string_view> words(std::string_view text) {
  std::vector<std::string_view> result;
  std::size_t at = 0;
  while (at < text.size()) {
    while (at < text.size() && is_space(text[at])) ++at;
    const std::size_t begin = at;
    while (at < text.size() && !is_space(text[at])) ++at;
    if (at > begin) result.push_back(text.substr(begin, at - begin));
  }
  return result;
}

std::string folded(std::string_view name) {
  std::string result;
  bool gap = false;
  for (const char c : name) {
    if (is_space(c) || c == '-' || c == '_') {
      gap = !result.empty();
      continue;
    }
    if (gap) result.push_back(' ');
    gap = false;
    result.push_back(lower(c));
  }
  return result;
}

std::optional<std::string> nearest_name(std::string_view name, std::span<const std::string> known) {
  constexpr std::size_t longest = 100;  // nobody mistypes a longer name; keeps the search bounded
  if (name.size() > longest) return std::nullopt;
  const std::string wanted = folded(name);
  std::optional<std::string> best;
  std::size_t best_distance = std::max<std::size_t>(1, wanted.size() / 3) + 1;
  // The beginning of exactly one name is meant for that name.
  constexpr std::size_t shortest_beginning = 3;
  if (wanted.size() >= shortest_beginning) {
    std::vector<std::string> begun;
    for (const std::string& candidate : known) {
      if (folded(candidate).starts_with(wanted)) begun.push_back(candidate);
    }
    if (begun.size() == 1) return begun.front();
  }
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(wanted, folded(candidate));
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  return best;
}

std::string nearest_hint(std::string_view name, std::span<const std::string> known) {
  const auto nearest = nearest_name(name, known);
  return nearest ? fmt::format("; nearest: {}", *nearest) : std::string{};
}

std::string without_control_characters(std::string_view text) {
  std::string result(text);
  unsigned char before = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if (byte < 0x20 || byte == 0x7f) result[i] = '?';
    if (before == 0xc2 && byte >= 0x80 && byte <= 0x9f) result[i - 1] = result[i] = '?';
    before = byte;
  }
  return result;
}

std::string in_quotes(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::size_t end = std::min(text.size(), longest);
  // Not in the middle of a UTF-8 character: back over its continuation bytes.
  while (end > 0 && end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
    --end;
  std::string result = without_control_characters(text.substr(0, end));
  if (text.size() > end) result += "…";
  result.insert(0, 1, '"');
  return result + '"';
}

}  // namespace wiltline
