// Small text tools: trimming, splitting, comparing names as people type them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace wiltline {

[[nodiscard]] std::string_view trim(std::string_view text);

/// The words of a text, split at spaces and tabs.
[[nodiscard]] std::vector<std::string_view> words(std::string_view text);

/// What stands between separators, each without the blanks around it: one part more than there are
/// separators, empty parts too.
[[nodiscard]] std::vector<std::string_view> parts_between(std::string_view text, char separator);

/// A name as it is compared: ASCII lower case, every run of spaces, `-` or `_` one space.
[[nodiscard]] std::string folded(std::string_view name);

/// The known name that `name` begins; else the one it is most like (edit distance at most a third
/// of its length); else the only one some of whose words it is as like.
[[nodiscard]] std::optional<std::string> nearest_name(std::string_view name,
                                                      std::span<const std::string> known);

/// "; nearest: X" or nothing: the tail of a message about an unknown name.
[[nodiscard]] std::string nearest_hint(std::string_view name, std::span<const std::string> known);

/// The character a UTF-8 text begins with: its code point and how many bytes it takes. Where the
/// bytes are no UTF-8 there is no code point, and the first byte is taken alone.
struct Character {
  std::optional<char32_t> code;
  std::size_t bytes = 1;
};
[[nodiscard]] Character first_character(std::string_view text);

/// True if a terminal would act on a character, or if it reorders or hides what stands beside it:
/// U+0000 to U+001F, U+007F to U+009F, line and paragraph separators, marks that turn the direction
/// of writing, and what is invisible without being part of a word. The joiners U+200C and U+200D
/// are none: Persian, Hindi and others are not spelt without them.
[[nodiscard]] bool is_control(char32_t code);

/// Text safe to print on a terminal: control characters, and bytes that are no UTF-8, become `?`.
[[nodiscard]] std::string without_control_characters(std::string_view text);

/// How many characters wide a text stands on a terminal, all taken as equally wide but the joiners,
/// which take no room.
[[nodiscard]] std::size_t width_of(std::string_view text);

/// A text of at most `width` (at least 3) characters: where it is longer, `…` stands for its
/// middle, since long names and paths differ at their ends.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t width);

/// A cell or option value for a message: in quotes, control characters shown as `?`, cut at 60
/// bytes.
[[nodiscard]] std::string in_quotes(std::string_view text);

}  // namespace wiltline
