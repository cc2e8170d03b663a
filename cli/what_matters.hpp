// What matters for an answer: the option, its rows and words for people.
#pragma once

#include <functional>
#include <initializer_list>
#include <optional>
#include <string>

#include "command.hpp"
#include "delivery.hpp"
#include "report.hpp"
#include "wiltline/questions/what_matters.hpp"

namespace wiltline::cli {

/// The draws asked for; empty without --what-matters. Throws RequestError without --uncertain, for
/// too few draws, and together with one of `others`.
[[nodiscard]] std::optional<MattersOptions> matters_options(
    const Arguments& arguments, std::initializer_list<const char*> others = {});

/// A row of its answer.
struct MattersRow {
  const PlantingMatters* pot;
  const AnswerMatters* answer;
  const InputMatters* input;

  [[nodiscard]] const Planting& planting() const { return *pot->planting; }
};
[[nodiscard]] Table<MattersRow> matters_table();

/// Answers with a table of indices instead of the command's own. `label`: what a planting is called
/// in tables.
void deliver_what_matters(const MattersResult& result, const MattersOptions& options,
                          const std::function<std::string(const Planting&)>& label, Report& report,
                          const Presentation& how, Output& output);

}  // namespace wiltline::cli
