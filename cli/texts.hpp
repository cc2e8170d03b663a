// The texts compiled into the program: help/*.txt, the starter garden and the shells' scripts.
#pragma once

#include <map>
#include <string>

#include "wiltline/base/files.hpp"

namespace wiltline {

/// By file name.
[[nodiscard]] std::map<std::string, FileBytes> program_texts();

}  // namespace wiltline
