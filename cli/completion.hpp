// What could come next on a command line, for shells to offer.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"

namespace wiltline::cli {

/// The words that could stand in place of the last of `words`, which is what has been typed of it
/// (perhaps nothing); `words` are those after the program's name. None where a file, a number or a
/// text of one's own belongs: the shell then offers files.
[[nodiscard]] std::vector<std::string> completions(const std::vector<Command>& commands,
                                                   const std::vector<std::string>& words);

/// The script that makes a shell ask: bash, zsh or fish. Throws RequestError for another.
[[nodiscard]] std::string completion_script(const std::string& shell);

}  // namespace wiltline::cli
