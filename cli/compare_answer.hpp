// What a comparison was answered, as rows and as text for people.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "choices.hpp"
#include "report.hpp"
#include "wiltline/questions/drawn_answers.hpp"

namespace wiltline::cli {

/// A choice and what was asked.
struct CompareRow {
  const ComparedChoice* choice;
  bool of_garden;
  bool several_records;
  const ChoiceSpread* spread = nullptr;  // none without --uncertain

  [[nodiscard]] const Planting& planting() const { return *choice->planting; }
  [[nodiscard]] const SeasonSummary& worst() const { return choice->worst.summary; }
};

/// `spreads`: with the columns of --uncertain.
[[nodiscard]] Table<CompareRow> compare_table(bool spreads);
/// Its columns, for help.
[[nodiscard]] std::vector<std::pair<std::string_view, std::vector<ColumnHead>>> compare_heads();

/// `4 past summers`.
[[nodiscard]] std::string summers_text(int summers);

/// The table for people and what is to be said of it, notes included. `weather`: there are several
/// records.
[[nodiscard]] std::string compare_text(const std::vector<ComparedChoice>& choices,
                                       const Differences& differ, const Report& report,
                                       bool weather, bool us);

}  // namespace wiltline::cli
