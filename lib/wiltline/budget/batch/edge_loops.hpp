// Pots of a chunk that pass edges within an interval, together.
#pragma once

#include "wiltline/budget/batch/loops.hpp"

namespace wiltline {

/// Dries on from x to x the pots whose `data.plain` is 0, through the edges that they pass, and
/// sets it to 1: what `flow` does to one of them, to the last bit.
void dry_through_edges(PotChunk::Data& data, const SharedDay& shared, double from, double to);

}  // namespace wiltline
