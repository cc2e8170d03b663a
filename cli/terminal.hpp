// What is shown on a terminal alone: nothing of it goes into a file or a pipe.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/account/season_result.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline::cli {

/// Columns of a table for people: those of the terminal that standard output is, from 60 to 100;
/// else 100.
[[nodiscard]] std::size_t page_width();

/// True if standard output is a terminal.
[[nodiscard]] bool on_terminal();
/// True if it may be coloured, too: NO_COLOR is not set and the terminal is not a dumb one.
[[nodiscard]] bool colours_wanted();

/// A pot's season as a line, a character for each stretch of days: the higher the block, the more
/// water was left when it was least; `w` where the settled plant wilted, `D` where its pot went
/// dry. The ledger has its hours. `colour`: letters stand out, too.
[[nodiscard]] std::string water_strip(const std::vector<LedgerLine>& ledger,
                                      std::size_t days_a_block, bool colour);
struct PotDays {
  std::string name;
  std::vector<LedgerLine> ledger;  // not empty
};
/// A strip for each pot, one below the other under the months, and what they mean.
[[nodiscard]] std::string water_strips(const std::vector<PotDays>& pots, std::size_t width,
                                       bool colour);

/// The line of its file that a problem is in, and under it a mark where it is; empty if the line is
/// not known or cannot be read again.
[[nodiscard]] std::string line_with_mark(const Problem& problem, std::size_t width);

}  // namespace wiltline::cli
