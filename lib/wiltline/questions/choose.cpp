#include "wiltline/questions/choose.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <unordered_map>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/questions/candidates.hpp"
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
ChosenPot chosen(std::vector<Summers> tried, double share, GrowthClock growth) {
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
    const Planting& enough = *best->front().result.planting;
    for (const Summers& other : tried) {
      const Planting& planting = *other.front().result.planting;
      if (planting.pot.kind == enough.pot.kind && is_bigger(mix_l(other), mix_l(*best)) &&
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
  std::vector<std::vector<Summers>> tried;  // of each cell, in the order of their first candidates
  std::unordered_map<std::string_view, std::size_t> cell_of;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (summers[i].empty()) continue;
    const auto [cell, is_new] = cell_of.emplace(candidates[i].name, tried.size());
    if (is_new) tried.emplace_back();
    tried[cell->second].push_back(std::move(summers[i]));
  }
  std::vector<ChosenPot> cells;
  for (std::vector<Summers>& one : tried) {
    cells.push_back(chosen(std::move(one), share, options.growth));
  }
  return cells;
}

}  // namespace wiltline
