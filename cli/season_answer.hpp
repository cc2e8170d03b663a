// What a season was answered, as rows and as text for people.
#pragma once

#include <map>
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
  int left_short = 0;  // days on which it was looked at, left, and got short of water
};

/// What would have prevented a planting's wilting; of plantings that wilted or went dry.
using RemediesOf = std::map<const Planting*, std::vector<Remedy>>;

/// A row of the answer: a season and what was found out about it.
struct SeasonRow {
  const Run* run;
  const std::vector<Remedy>* remedies = nullptr;  // none without --remedies, or if it never wilted
  const SeasonSpread* spread = nullptr;           // none without --uncertain
};

/// A row of the ledger.
struct LedgerRow {
  const Run* run;
  const LedgerLine* line;
};

struct Layout {
  bool year = false;     // some planting repeats every year
  bool weather = false;  // several records
  bool remedies = false;
  bool spreads = false;
};
[[nodiscard]] Table<SeasonRow> season_table(const Layout& layout);
[[nodiscard]] Table<LedgerRow> ledger_table(const Layout& layout);

/// True if a planting has more than one season.
[[nodiscard]] bool several_seasons(const std::vector<Run>& runs);
/// A run's planting, with year and place where others differ in them.
[[nodiscard]] std::string run_name(const Run& run, const std::vector<Run>& runs);

/// The table of seasons with all that is to be said of them, notes included.
[[nodiscard]] std::string season_table_text(const std::vector<Run>& runs, const Layout& layout,
                                            const Report& report, bool us);
/// The plantings of the table that were short, each with its remedies.
[[nodiscard]] std::string remedies_text(const std::vector<Run>& runs, const RemediesOf& remedies,
                                        bool us);
/// How sure: a planting's worst season by wilting days stands for it.
[[nodiscard]] std::string spreads_text(const std::vector<SeasonRow>& rows, const DrawOptions& draws,
                                       bool us);

}  // namespace wiltline::cli
