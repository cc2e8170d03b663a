// The files that every page carries: its frame, its style, its script and the library that draws.
#pragma once

#include <map>
#include <string>

#include "wiltline/base/files.hpp"

namespace wiltline {

/// By file name: page.html, page.css, page.js, d3.min.js. Compiled in.
[[nodiscard]] std::map<std::string, FileBytes> page_parts();

}  // namespace wiltline
