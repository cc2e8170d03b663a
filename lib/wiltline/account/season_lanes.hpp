// The season of a chunk of pots: what run_season adds up for one pot, added up for a chunk at a
// time.
#pragma once

#include <span>
#include <vector>

#include "wiltline/account/course.hpp"
#include "wiltline/account/season_result.hpp"
#include "wiltline/budget/batch/pot_chunk.hpp"

namespace wiltline {

/// Runs 1 to chunk_pots plantings of one course; their summaries go to `results`, in order. Bit for
/// bit what run_season gives. Returns the pot-days that took the exact path.
std::size_t run_chunk(std::span<const PlantingSetting* const> settings, const Course& course,
                      const ModelParameters& model, InstructionSet set,
                      std::span<SeasonResult* const> results);

}  // namespace wiltline
