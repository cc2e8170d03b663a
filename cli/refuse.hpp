// A request that is wrong, refused in one line.
#pragma once

#include <fmt/format.h>

#include <utility>

#include "wiltline/base/errors.hpp"

namespace wiltline::cli {

/// Throws RequestError with what was found and what is expected.
template <typename... Parts>
[[noreturn]] void refuse(fmt::format_string<Parts...> text, Parts&&... parts) {
  throw RequestError(fmt::format(text, std::forward<Parts>(parts)...));
}

}  // namespace wiltline::cli
