// A season's account as cells, in the order of the column table.
#pragma once

#include <vector>

#include "report.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::cli {

/// Under season_columns() from mix_l on.
void add_summary_cells(const SeasonSummary& summary, std::vector<Cell>& row);
/// Under season_settling_columns().
void add_settling_cells(const SeasonSummary& summary, std::vector<Cell>& row);
/// Under season_care_columns().
void add_care_cells(const SeasonSummary& summary, std::vector<Cell>& row);

}  // namespace wiltline::cli
