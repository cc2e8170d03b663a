// What a season was answered, as rows and as text for people.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/questions/remedies.hpp"

namespace wiltline::cli {

/// A season and the record it ran on.
struct Run {
  SeasonResult result;
  const WeatherRecord* record = nullptr;
};

/// How sure the seasons are, one for each; none without --uncertain.
struct Spreads {
  std::optional<DrawOptions> draws;
  std::vector<SeasonSpread> of_runs;
};

/// What would have prevented a planting's wilting; of plantings that wilted or went dry.
using RemediesOf = std::map<const Planting*, std::vector<Remedy>>;

struct Layout {
  bool year = false;     // some planting repeats every year
  bool weather = false;  // several records
};

/// One row a season, under season_columns(), year and weather where they are asked for, and
/// season_care_columns().
[[nodiscard]] std::vector<Cell> summary_row(const Run& run, const Layout& layout);
/// Under season_remedy_columns().
void add_remedy_cells(const Run& run, const RemediesOf& remedies, std::vector<Cell>& row);
/// A row for every day.
void add_ledger_rows(const Run& run, const Layout& layout, Report& report);

/// The table of seasons with all that is to be said of them, notes included.
[[nodiscard]] std::string season_table_text(const std::vector<Run>& runs, const Layout& layout,
                                            const Report& report, bool us);
/// The plantings of the table that were short, each with its remedies.
[[nodiscard]] std::string remedies_text(const std::vector<Run>& runs, const RemediesOf& remedies);
/// How sure: a planting's worst season by wilting days stands for it.
[[nodiscard]] std::string spreads_text(const std::vector<Run>& runs, const Spreads& spreads,
                                       bool us);

}  // namespace wiltline::cli
