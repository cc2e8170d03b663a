// Pots of a chunk that pass edges within an interval, together.
#pragma once

#include "wiltline/budget/batch/loops.hpp"

namespace wiltline {

/// Dries on from x = `data.from` to `data.to` the pots whose `data.plain` is 0, through the edges
/// that they pass: what `flow` does to one of them, to the last bit.
void dry_through_edges(PotChunk::Data& data, const SharedDay& shared);

/// Finds which of the pots whose `data.plain` is 0 will pass their threshold between `data.from`
/// and `data.to`, as `flow` has it: sets `data.crosses` to 1, and `data.crossing` to how long after
/// `data.from`. Sets `data.alone` to 1 where it cannot tell.
void find_crossings(PotChunk::Data& data, const SharedDay& shared);

}  // namespace wiltline
