// What inputs are called by people.
#pragma once

#include <map>
#include <string>

#include "wiltline/base/files.hpp"

namespace wiltline {

/// By file name: input_words.csv. Compiled in.
[[nodiscard]] std::map<std::string, FileBytes> input_words();

}  // namespace wiltline
