// The texts compiled into the program.
#pragma once

#include <map>
#include <string>

#include "wiltline/base/files.hpp"

namespace wiltline {

/// By file name: help/*.txt, the starter garden, the shells' scripts, input_words.csv.
[[nodiscard]] std::map<std::string, FileBytes> program_texts();
/// What every page carries, apart, as each call copies all: page.html, page.css, page.js, d3.min.js
/// and its licence, copyright.
[[nodiscard]] std::map<std::string, FileBytes> page_parts();

}  // namespace wiltline
