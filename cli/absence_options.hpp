// An absence as it is typed: how long, when, which line, and the words for it.
#pragma once

#include <string>

#include "command.hpp"
#include "wiltline/questions/absence.hpp"

namespace wiltline::cli {

/// --days, --leave, --months, --line, --no-rain, --share, --growth.
[[nodiscard]] AbsenceOptions absence_options(const Arguments& arguments);

/// `June to August`, or `July`.
[[nodiscard]] std::string months_text(const AbsenceOptions& options);

}  // namespace wiltline::cli
