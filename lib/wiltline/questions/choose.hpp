// The pot chart of a place, before anything is bought: of each crop, planting day and routine the
// smallest pot that was enough in past summers.
#pragma once

#include <vector>

#include "wiltline/questions/compare.hpp"

namespace wiltline {

/// One cell of a chart.
struct ChosenPot {
  /// The least mix that was enough in the share of summers asked, the first of equals. Where none
  /// was, the pot that came nearest: fewest dry, wilting and stressed days of the worst summer,
  /// then least mix.
  ComparedChoice choice;
  bool enough = false;
  int tried = 0;  // pots
  /// Where one was: those tried of the same kind and of more mix (by more than 2 %) that were not,
  /// as a taller or a thirstier one may.
  std::vector<const Planting*> bigger_not_enough{};

  /// Share of the summers that `choice` passed without a wilting day, as compare() counts them.
  [[nodiscard]] double share() const;
};

/// `candidates`: plantings in each of their pots (in_pots()); those of one name are one cell, in
/// the order of the first that the record holds. Every pot of a cell goes through every summer
/// of the place, since a bigger one is not enough for sure where a smaller one is; `choice` is what
/// compare() says of it. `share` in (0, 1]: RequestError. A candidate that the record does not hold
/// is left out. Throws InputError as compare() does. Results point to `candidates`.
[[nodiscard]] std::vector<ChosenPot> choose(Plantings candidates, const Place& place,
                                            double share = 0.95, const SeasonOptions& options = {});

}  // namespace wiltline
