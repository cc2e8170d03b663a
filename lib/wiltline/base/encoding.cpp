#include "wiltline/base/encoding.hpp"

#include <array>
#include <cstddef>
#include <utility>

#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

constexpr std::string_view utf8_mark = "\xEF\xBB\xBF";
constexpr char32_t unreadable = 0xFFFD;

void append_utf8(std::string& text, char32_t code) {
  const auto put = [&](char32_t byte) {
    text += static_cast<char>(static_cast<unsigned char>(byte));
  };
  constexpr std::array<char32_t, 4> lead{0, 0xC0, 0xE0, 0xF0};
  const std::size_t following = code < 0x80 ? 0 : code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
  put(lead[following] | code >> (6 * following));
  for (std::size_t left = following; left-- > 0;) put(0x80 | (code >> (6 * left) & 0x3F));
}

std::string from_utf16(std::string_view bytes) {
  const bool little = bytes.starts_with("\xFF\xFE");
  const auto unit = [&](std::size_t at) {
    const auto first = static_cast<unsigned char>(bytes[at]);
    const auto second = static_cast<unsigned char>(bytes[at + 1]);
    return static_cast<char32_t>(little ? first + 256 * second : 256 * first + second);
  };
  const auto is_low = [](char32_t code) { return code >= 0xDC00 && code <= 0xDFFF; };
  std::string text;
  text.reserve(bytes.size() / 2);
  std::size_t at = 2;  // behind the mark
  for (; at + 1 < bytes.size(); at += 2) {
    char32_t code = unit(at);
    if (code >= 0xD800 && code <= 0xDBFF && at + 3 < bytes.size() && is_low(unit(at + 2))) {
      code = 0x10000 + ((code - 0xD800) << 10U) + (unit(at + 2) - 0xDC00);
      at += 2;
    } else if (code >= 0xD800 && code <= 0xDFFF) {
      code = unreadable;
    }
    append_utf8(text, code);
  }
  if (at < bytes.size()) append_utf8(text, unreadable);
  return text;
}

bool all_utf8(std::string_view text) {
  while (!text.empty()) {
    if (static_cast<unsigned char>(text.front()) < 0x80) {
      text.remove_prefix(1);
      continue;
    }
    const Character character = first_character(text);
    if (!character.code) return false;
    text.remove_prefix(character.bytes);
  }
  return true;
}

}  // namespace

bool is_utf16(std::string_view bytes) {
  return bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
}

DecodedText decoded(std::string bytes) {
  if (is_utf16(bytes)) return {from_utf16(bytes), "UTF-16"};
  if (bytes.starts_with(utf8_mark)) bytes.erase(0, utf8_mark.size());
  if (all_utf8(bytes)) return {std::move(bytes), "UTF-8"};
  std::string text;
  text.reserve(bytes.size() + bytes.size() / 8);
  for (const char byte : bytes) append_utf8(text, static_cast<unsigned char>(byte));
  return {std::move(text), "Latin-1"};
}

}  // namespace wiltline
