// What an absence was answered, as rows and as text for people.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/questions/remedies.hpp"
#include "wiltline/questions/trip_help.hpp"

namespace wiltline::cli {

/// A question asked: a planting, the pots it was tried in and what came of it.
struct AbsenceAnswer {
  const Planting* own = nullptr;     // of a garden, with its own pot; else null
  std::vector<Planting> candidates;  // the own pot first, if there is one
  AbsenceResult result;
  std::vector<std::size_t> shown{};                     // places of the pots that get a row
  std::vector<std::optional<AbsenceSpread>> spreads{};  // of those, with --uncertain
  std::vector<AbsenceRemedy> remedies{};  // of a garden's planting that passed too few windows
  std::optional<PotHelp> help{};          // of a garden's planting, where no helper was given

  [[nodiscard]] const AbsencePot* smallest() const {
    return result.smallest ? &result.pots[*result.smallest] : nullptr;
  }
  [[nodiscard]] int windows() const { return result.pots.front().windows; }
  [[nodiscard]] int summers() const { return result.pots.front().summers; }
};

/// A pot of those asked about.
struct AbsenceRow {
  const AbsenceAnswer* asked;
  std::size_t place;  // among the candidates
  const AbsenceSpread* spread;

  [[nodiscard]] const AbsencePot& pot() const { return asked->result.pots[place]; }
  [[nodiscard]] const Planting& planting() const { return *pot().planting; }
  [[nodiscard]] bool of_garden() const { return asked->own != nullptr; }
  /// Of a garden's own pot.
  [[nodiscard]] const PotHelp* help() const {
    return asked->help && place == 0 ? &*asked->help : nullptr;
  }
};
/// `spreads`: with the columns of --uncertain.
[[nodiscard]] Table<AbsenceRow> absence_table(bool spreads);

/// `2 days`, `2 days 2 hours`, `9 hours`.
[[nodiscard]] std::string away_text(double away_h);

/// Fills the report with a row for every pot shown. `spreads`: they have been asked for.
void fill(const std::vector<AbsenceAnswer>& all, bool spreads, Report& report);
/// The answer in a sentence.
[[nodiscard]] std::string answer_sentence(const std::vector<AbsenceAnswer>& all,
                                          const AbsenceOptions& options);

/// The answer for one crop in many pots, or for the plantings of a garden; without the notes.
[[nodiscard]] std::string one_crop_text(const AbsenceAnswer& asked, const AbsenceOptions& options,
                                        bool us);
[[nodiscard]] std::string garden_text(const std::vector<AbsenceAnswer>& all,
                                      const AbsenceOptions& options, bool us);
/// What a helper must do, and which pots need none.
[[nodiscard]] std::string help_text(const TripHelp& help, const AbsenceOptions& options);
/// How sure: of the own pots of a garden; else of the smallest pot that would do, or of all if
/// there is none.
[[nodiscard]] std::string spreads_text(const std::vector<AbsenceAnswer>& all,
                                       const AbsenceOptions& options, const DrawOptions& draws);
/// What holds for every answer, and the notes.
[[nodiscard]] std::string closing(const AbsenceOptions& options, const Report& report, bool us);

}  // namespace wiltline::cli
