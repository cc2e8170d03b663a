// What a command says of itself: a text file of help/ that is compiled in, and declares the options
// with the words that explain them.
#pragma once

#include <string_view>

#include "command.hpp"

namespace wiltline::cli {

/// The command of help/NAME.txt, and what runs it; its exit code is then 0. The text's first line
/// is the purpose, its second the usage. The explanation follows: its lines are paragraphs, up to a
/// blank line, an indented one (which stands as it is) or a `\`. Then come sections, each after a
/// line `== TITLE`, of entries, each a line with its text indented below: examples under
/// `Examples`, else options of that group as `--NAME`, `--NAME VALUE` or, if it may be given
/// several times, `--NAME VALUE...`.
/// `+ LIST` stands for the options of a section of help/shared.txt.
[[nodiscard]] Command described(std::string_view name, void (*run)(const Arguments&),
                                Sections columns = {});

}  // namespace wiltline::cli
