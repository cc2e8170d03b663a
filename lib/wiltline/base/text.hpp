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

/// A name as it is compared: ASCII lower case, every run of spaces, `-` or `_` one space.
[[nodiscard]] std::string folded(std::string_view name);

/// The known name that `name` begins, or is most like (edit distance at most a third of its
/// length).
[[nodiscard]] std::optional<std::string> nearest_name(std::string_view name,
                                                      std::span<const std::string> known);

/// "; nearest: X" or nothing: the tail of a message about an unknown name.
[[nodiscard]] std::string nearest_hint(std::string_view name, std::span<const std::string> known);

/// Text safe to print on a terminal: the bytes of control characters (also those of U+0080 to
/// U+009F) become `?`.
[[nodiscard]] std::string without_control_characters(std::string_view text);

/// A cell or option value for a message: in quotes, control characters shown as `?`, cut at 60
/// bytes.
[[nodiscard]] std::string in_quotes(std::string_view text);

}  // namespace wiltline
