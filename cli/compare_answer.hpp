// What a comparison was answered, as rows and as text for people.
#pragma once

#include <span>
#include <string>
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
};

/// Why a choice is enough or not. `weather`: also says in which record.
[[nodiscard]] std::string reason_text(const ComparedChoice& choice, bool weather);

/// True if it wilts only while its roots have not filled the pot yet.
[[nodiscard]] bool only_young(const ComparedChoice& choice);

/// `spreads`: with the columns of --uncertain.
[[nodiscard]] Table<CompareRow> compare_table(bool spreads);

/// Heading, sentence and picture of a page: how long each choice lasts.
void add_compare_picture(const std::vector<ComparedChoice>& choices, const Differences& differ,
                         Report& report);

/// A choice and what it is called where its summers are talked of.
struct SummersOf {
  std::string name;
  const ComparedChoice* choice;
};
/// Notes of those that the record cuts short, and of too few summers; at least one choice.
void add_summers_notes(std::span<const SummersOf> choices, Report& report);

/// `4 past summers`.
[[nodiscard]] std::string summers_text(int summers);

/// The table for people and what is to be said of it, notes included. `weather`: there are several
/// records.
[[nodiscard]] std::string compare_text(const std::vector<ComparedChoice>& choices,
                                       const Differences& differ, const Report& report,
                                       bool weather, bool us);

}  // namespace wiltline::cli
