// Bytes of a text file as UTF-8, whatever it was written in.
#pragma once

#include <string>
#include <string_view>

namespace wiltline {

/// A text and what it was written in: UTF-8, UTF-16 or Latin-1.
struct DecodedText {
  std::string text;
  std::string_view encoding;
};

/// True for a text that says it is UTF-16 by the mark it begins with.
[[nodiscard]] bool is_utf16(std::string_view bytes);

/// UTF-16 by its byte order mark; UTF-8 if all of it is; else Latin-1, in which every byte is a
/// character (Windows-1252 differs in quotes and dashes only). The mark is dropped. Half a
/// character at the end of UTF-16 and half a surrogate pair become U+FFFD.
[[nodiscard]] DecodedText decoded(std::string bytes);

}  // namespace wiltline
