#include "wiltline/base/encoding.hpp"

#include <boost/locale/utf.hpp>
#include <cstddef>
#include <iterator>
#include <utility>

#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

constexpr std::string_view utf8_mark = "\xEF\xBB\xBF";
constexpr char32_t unreadable = 0xFFFD;

namespace utf = boost::locale::utf;

void append_utf8(std::string& text, char32_t code) {
  utf::utf_traits<char>::encode(code, std::back_inserter(text));
}

std::string from_utf16(std::string_view bytes) {
  const bool little = bytes.starts_with("\xFF\xFE");
  std::u16string units;
  units.reserve(bytes.size() / 2);
  for (std::size_t at = 2; at + 1 < bytes.size(); at += 2) {  // behind the mark
    const auto first = static_cast<unsigned char>(bytes[at]);
    const auto second = static_cast<unsigned char>(bytes[at + 1]);
    units += static_cast<char16_t>(little ? first + 256 * second : 256 * first + second);
  }
  std::string text;
  text.reserve(units.size());
  for (auto at = units.begin(); at != units.end();) {
    const auto begin = at;
    const utf::code_point code = utf::utf_traits<char16_t>::decode(at, units.end());
    const bool whole = utf::is_valid_codepoint(code);
    if (!whole) at = begin + 1;  // half a pair; what follows may be whole
    append_utf8(text, whole ? code : unreadable);
  }
  if (bytes.size() % 2 != 0) append_utf8(text, unreadable);
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
