// FAO Irrigation and Drainage Paper 56 as data: the numbers it prints, by chapter, and how the
// library gives each quantity. The tests and the printed table (print.cpp) both use this.
#pragma once

#include "handbook/rows.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"

namespace wiltline::test::printed {

/// Worked examples 1 to 20 and the boxes of chapters 1 to 4.
[[nodiscard]] const Table& chapters_2_to_4();
/// Every quantity of that table that the library computes. Where it has no name for a step on the
/// way (degrees and minutes, a ratio, the sum of a month's sunshine) the paper's own arithmetic
/// stands.
[[nodiscard]] const Evaluations& evaluations_2_to_4();
/// The quantities that the library does not have: the handbook's own arithmetic.
[[nodiscard]] const Evaluations& arithmetic_2_to_4();
/// ET0's two terms of a row of that table, end to end.
[[nodiscard]] ReferenceTerms terms_of(const Inputs& in);

/// Worked examples 27 to 47 and the boxes of chapters 6 to 10.
[[nodiscard]] const Table& chapters_6_to_9();
/// Every quantity of that table that the library computes.
[[nodiscard]] const Evaluations& evaluations_6_to_9();
/// The quantities that the library does not have: the handbook's own arithmetic.
[[nodiscard]] const Evaluations& arithmetic_6_to_9();

}  // namespace wiltline::test::printed
