// What it takes to bring pots through days away without changing them: the fewest visits of a
// helper, or a place in the shade for the time.
#pragma once

#include <optional>
#include <vector>

#include "wiltline/questions/absence.hpp"

namespace wiltline {

/// So many visits spread evenly over a trip, at the hour of leaving: on whole days, each once.
[[nodiscard]] std::vector<TripHelper::Visit> spread_visits(const AbsenceOptions& options,
                                                           int visits);

/// What one pot needs.
struct PotHelp {
  const Planting* planting = nullptr;
  bool grows = false;  // it has a window
  /// The fewest visits, spread evenly, with which it passes the share of windows asked; 0: none.
  /// Empty: not even with one each day, or it has no window.
  std::optional<int> visits;
  /// Without a visit it passes in light shade, pots and crowns rim to rim.
  bool passes_grouped_in_shade = false;
};

struct TripHelp {
  std::vector<PotHelp> pots;  // in the order of the plantings
  /// The fewest with which every pot passes that does with one a day.
  int visits = 0;
  /// The same without the pots that pass grouped in shade.
  int visits_for_the_rest = 0;
};

/// Asks for each planting's own pot; each visit waters as options.helper does, whose visits do not
/// matter here. A spot grouped in shade has the light, wind and rain of the catalogue's `light
/// shade` and the closure and advection of its `tight group`; without these two nothing passes in
/// it. It is taken as if the pot had stood there before. Throws as absence() does. Results point to
/// the plantings.
[[nodiscard]] TripHelp trip_help(Plantings plantings, Places places, const Catalogue& catalogue,
                                 AbsenceOptions options);

}  // namespace wiltline
