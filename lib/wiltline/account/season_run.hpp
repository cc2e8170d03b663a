// A season from its first day to its last: one pot or a chunk of them along a course. Nothing here
// is checked or throws: settings and course were, when they were built.
#pragma once

#include <span>

#include "wiltline/account/course.hpp"
#include "wiltline/account/season_result.hpp"
#include "wiltline/budget/batch/pot_chunk.hpp"

namespace wiltline {

/// Runs one planting along its course. `ledger`: keeps every day; `hours`: and what is left
/// through each of them.
[[nodiscard]] SeasonResult run_pot(const PlantingSetting& setting, const Course& course,
                                   const ModelParameters& model, bool ledger, bool hours = false);

/// Runs 1 to chunk_pots plantings of one course; their summaries go to `results`, in order. Bit for
/// bit what run_pot gives. Returns the pot-days with an edge.
std::size_t run_chunk(std::span<const PlantingSetting* const> settings, const Course& course,
                      const ModelParameters& model, InstructionSet set,
                      std::span<SeasonResult* const> results);

}  // namespace wiltline
