#include "wiltline/questions/trip_help.hpp"

#include <algorithm>
#include <cmath>

#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

std::optional<Spot> grouped_in_shade(const Catalogue& catalogue) {
  const Spot* const shade = catalogue.spots.find("light shade");
  const Spot* const group = catalogue.spots.find("tight group");
  if (shade == nullptr || group == nullptr) return std::nullopt;
  Spot spot = *shade;
  spot.name = "light shade, in a group";
  spot.advection = group->advection;
  spot.closure = group->closure;
  return spot;
}

}  // namespace

std::vector<TripHelper::Visit> spread_visits(const AbsenceOptions& options, int visits) {
  const double days = options.away_h / units::hours_per_day;
  std::vector<TripHelper::Visit> spread;
  for (int i = 1; i <= visits; ++i) {
    const auto day = static_cast<int>(std::lround(i * days / (visits + 1)));
    const int before = spread.empty() ? 0 : spread.back().day;
    if (day > before && day < options.days_to_return()) spread.push_back({day, options.leave_h});
  }
  return spread;
}

TripHelp trip_help(Plantings plantings, Places places, const Catalogue& catalogue,
                   AbsenceOptions options) {
  TripHelp help;
  const std::optional<Spot> shade = grouped_in_shade(catalogue);
  const auto passes_now = [&](const Planting& planting) {
    return passes(absence(planting, places, options).pots.front(), options.share);
  };
  const int most = std::max(0, options.days_to_return() - 1);
  for (const Planting& planting : plantings) {
    PotHelp& pot = help.pots.emplace_back(PotHelp{.planting = &planting, .visits = std::nullopt});
    options.helper.visits.clear();
    pot.grows = absence(planting, places, options).pots.front().windows > 0;
    if (!pot.grows) continue;
    if (shade) {
      Planting moved = planting;
      moved.spot = *shade;
      pot.passes_grouped_in_shade = passes_now(moved);
    }
    for (int visits = 0; visits <= most && !pot.visits; ++visits) {
      options.helper.visits = spread_visits(options, visits);
      if (passes_now(planting)) pot.visits = visits;
    }
    const int needed = pot.visits.value_or(0);
    help.visits = std::max(help.visits, needed);
    if (!pot.passes_grouped_in_shade) {
      help.visits_for_the_rest = std::max(help.visits_for_the_rest, needed);
    }
  }
  return help;
}

}  // namespace wiltline
