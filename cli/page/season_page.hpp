// The pictures of a season.
#pragma once

#include <vector>

#include "report.hpp"
#include "season_answer.hpp"

namespace wiltline::cli {

/// Heading, sentence and pictures of seasons that were run with a ledger: each pot's water day by
/// day, and how many days each was short.
void add_season_pictures(const std::vector<Run>& runs, bool us, Report& report);

}  // namespace wiltline::cli
