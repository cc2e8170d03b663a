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
  const int last = std::max(0, options.days_to_return() - 1);
  const int count = std::min(visits, last);
  std::vector<TripHelper::Visit> spread;
  for (int i = 1; i <= count; ++i) {
    const auto even = static_cast<int>(std::lround(i * days / (count + 1)));
    // Each visit a day of its own, with days left for those that follow.
    const int before = spread.empty() ? 0 : spread.back().day;
    spread.push_back({std::clamp(even, before + 1, last - (count - i)), options.leave_h});
  }
  return spread;
}

TripHelp trip_help(Plantings plantings, Places places, const Catalogue& catalogue,
                   AbsenceOptions options) {
  check_places(places);
  TripHelp help;
  const std::optional<Spot> shade = grouped_in_shade(catalogue);
  const auto trips = [&](const Planting& planting, int visits) {
    options.helper.visits = spread_visits(options, visits);
    return absence_windows(planting, places, options).pots.front();
  };
  const auto passes_with = [&](const Planting& planting, int visits) {
    return passes(trips(planting, visits), options.share);
  };
  const int most = std::max(0, options.days_to_return() - 1);
  for (const Planting& planting : plantings) {
    PotHelp& pot = help.pots.emplace_back(PotHelp{.planting = &planting, .visits = std::nullopt});
    const AbsencePot alone = trips(planting, 0);
    pot.grows = alone.windows > 0;
    if (!pot.grows) continue;
    if (shade) {
      Planting moved = planting;
      moved.spot = *shade;
      pot.passes_grouped_in_shade = passes_with(moved, 0);
    }
    if (passes(alone, options.share)) pot.visits = 0;
    for (int visits = 1; visits <= most && !pot.visits; ++visits) {
      if (passes_with(planting, visits)) pot.visits = visits;
    }
  }
  // More visits fall on other days: a pot that needs fewer is asked again with all of them.
  const auto fewest = [&](const auto& counts) {
    int visits = 0;
    for (const PotHelp& pot : help.pots) {
      if (pot.visits && counts(pot)) visits = std::max(visits, *pot.visits);
    }
    const auto fails = [&](const PotHelp& pot) {
      return pot.visits && *pot.visits < visits && counts(pot) &&
             !passes_with(*pot.planting, visits);
    };
    while (visits < most && std::ranges::any_of(help.pots, fails)) ++visits;
    return visits;
  };
  help.visits = fewest([](const PotHelp&) { return true; });
  help.visits_for_the_rest =
      fewest([](const PotHelp& pot) { return !pot.passes_grouped_in_shade; });
  return help;
}

}  // namespace wiltline
