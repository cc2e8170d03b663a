#include "wiltline/questions/choose.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/errors.hpp"
#include "wiltline/questions/shares.hpp"

namespace wiltline {
namespace {

using Summers = std::vector<Summer>;

double mix_l(const Summers& summers) {
  return summers.front().result.summary.mix_l;
}

bool passes(const Summers& summers, double share) {
  return share_reached(summers_above_wilting(summers), summers.size(), share);
}

/// One cell: `tried` are the summers of each of its pots, none empty.
ChosenPot chosen(std::span<Summers> tried, double share, GrowthClock growth) {
  const auto key = [&](const Summers& summers) {
    const bool enough = passes(summers, share);
    return std::tuple(
        !enough, enough ? std::tuple(0, 0, 0) : hardship(summers[worst_of(summers)].result.summary),
        mix_l(summers));
  };
  const auto best = std::ranges::min_element(tried, {}, key);
  ChosenPot cell;
  cell.enough = passes(*best, share);
  cell.tried = static_cast<int>(tried.size());
  if (cell.enough) {
    constexpr double rounding = 1.02;  // pots whose mix differs by less are of one size
    const Planting& enough = *best->front().result.planting;
    for (const Summers& other : tried) {
      const Planting& planting = *other.front().result.planting;
      if (planting.pot.kind == enough.pot.kind && mix_l(other) > rounding * mix_l(*best) &&
          !passes(other, share)) {
        cell.bigger_not_enough.push_back(&planting);
      }
    }
  }
  cell.choice = summed_up(std::move(*best), growth);
  return cell;
}

}  // namespace

double ChosenPot::share() const {
  return static_cast<double>(choice.summers_above_wilting) / choice.summers;
}

std::vector<ChosenPot> choose(Plantings candidates, const Place& place, double share,
                              const SeasonOptions& options) {
  if (!(share > 0.0 && share <= 1.0)) {
    throw RequestError(fmt::format("found a share of {}; expected more than 0, up to 1", share));
  }
  std::vector<Summers> summers = run_summers(candidates, place, options);
  std::vector<ChosenPot> cells;
  for (std::size_t begin = 0, end = 0; begin < candidates.size(); begin = end) {
    while (end < candidates.size() && candidates[end].name == candidates[begin].name) ++end;
    if (summers[begin].empty()) continue;  // the planting day is that of the whole cell
    cells.push_back(chosen(std::span(summers).subspan(begin, end - begin), share, options.growth));
  }
  return cells;
}

}  // namespace wiltline
