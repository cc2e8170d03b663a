// Manual pages, from the same tables as the help.
#pragma once

#include <string>
#include <vector>

#include "command.hpp"

namespace wiltline::cli {

/// The page of the program, wiltline(1).
[[nodiscard]] std::string manual_page(const std::vector<Command>& commands);

/// The page of a command, wiltline-NAME(1).
[[nodiscard]] std::string manual_page(const Command& command);

}  // namespace wiltline::cli
