#include "wiltline/base/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

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

bool is_joiner(std::optional<char32_t> code) {
  return code == U'\u200c' || code == U'\u200d';
}

/// How many bytes the first `width` characters of a text take.
std::size_t bytes_in(std::string_view text, std::size_t width) {
  std::size_t at = 0;
  while (width > 0 && at < text.size()) {
    const Character character = first_character(text.substr(at));
    if (!is_joiner(character.code)) --width;
    at += character.bytes;
  }
  return at;
}

}  // namespace

std::string_view trim(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

std::vector<std::string_view> words(std::string_view text) {
  std::vector<std::string_view> result;
  for (text = trim(text); !text.empty(); text = trim(text)) {
    const std::size_t end = std::min(text.find_first_of(" \t"), text.size());
    result.push_back(text.substr(0, end));
    text.remove_prefix(end);
  }
  return result;
}

std::vector<std::string_view> parts_between(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t end = text.find(separator);
    parts.push_back(trim(text.substr(0, end)));
    if (end == std::string_view::npos) return parts;
    text.remove_prefix(end + 1);
  }
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

namespace {

/// How far a folded name is from the words of another that are most like it: as many in a row as it
/// has. `none` if the other has fewer.
std::size_t distance_to_words(std::string_view wanted, std::string_view name, std::size_t none) {
  const std::size_t count = words(wanted).size();
  const std::vector<std::string_view> parts = words(name);
  std::size_t least = none;
  for (std::size_t i = 0; count > 0 && i + count <= parts.size(); ++i) {
    const std::string_view last = parts[i + count - 1];
    const auto size = static_cast<std::size_t>(last.data() + last.size() - parts[i].data());
    least = std::min(least, edit_distance(wanted, {parts[i].data(), size}));
  }
  return least;
}

}  // namespace

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
  if (best || wanted.size() <= shortest_beginning) return best;
  // Some words of exactly one name: sill for basil on the sill.
  for (const std::string& candidate : known) {
    const std::string words_of = folded(candidate);
    const std::size_t distance = distance_to_words(wanted, words_of, best_distance + 1);
    if (distance > best_distance) continue;
    best = distance < best_distance ? std::optional(candidate) : std::nullopt;
    best_distance = distance;
  }
  return best;
}

std::string nearest_hint(std::string_view name, std::span<const std::string> known) {
  const auto nearest = nearest_name(name, known);
  return nearest ? fmt::format("; nearest: {}", *nearest) : std::string{};
}

Character first_character(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = text.empty() ? 0 : byte(0);
  if (first < 0x80) return {first, 1};
  // The least code point that needs so many bytes: a shorter one is written overlong.
  constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  const std::size_t bytes = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4 || text.size() < bytes) return {};
  char32_t code = first & (0xffU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xc0U) != 0x80U) return {};
    code = (code << 6U) | (byte(i) & 0x3fU);
  }
  const bool surrogate = code >= 0xd800 && code <= 0xdfff;
  if (code < least[bytes] || code > 0x10ffff || surrogate) return {};
  return {code, bytes};
}

bool is_control(char32_t code) {
  struct Range {
    char32_t first, last;
  };
  constexpr std::array<Range, 9> ranges{{{0x00, 0x1f},
                                         {0x7f, 0x9f},
                                         {0xad, 0xad},        // soft hyphen
                                         {0x61c, 0x61c},      // Arabic letter mark
                                         {0x200b, 0x200b},    // zero-width space
                                         {0x200e, 0x200f},    // left-to-right, right-to-left mark
                                         {0x2028, 0x202e},    // separators; embedding, override
                                         {0x2060, 0x206f},    // word joiner; isolates
                                         {0xfeff, 0xfeff}}};  // byte order mark
  return std::any_of(ranges.begin(), ranges.end(), [code](const Range& range) {
    return code >= range.first && code <= range.last;
  });
}

std::string without_control_characters(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  while (!text.empty()) {
    const Character character = first_character(text);
    if (!character.code || is_control(*character.code)) {
      result += '?';
    } else {
      result += text.substr(0, character.bytes);
    }
    text.remove_prefix(character.bytes);
  }
  return result;
}

std::size_t width_of(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    const Character character = first_character(text);
    if (!is_joiner(character.code)) ++width;
    text.remove_prefix(character.bytes);
  }
  return width;
}

std::string shortened(std::string_view text, std::size_t width) {
  const std::size_t whole = width_of(text);
  if (whole <= width) return std::string(text);
  const std::size_t head = width / 2;
  const std::size_t tail = width - head - 1;
  return fmt::format("{}…{}", text.substr(0, bytes_in(text, head)),
                     text.substr(bytes_in(text, whole - tail)));
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
