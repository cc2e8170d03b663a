#include "wiltline/account/saved_planting.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/errors.hpp"
#include "wiltline/garden/routine.hpp"

namespace wiltline {

std::array<WaterLimit, 4> water_limits(const PotParameters& pot, double rooted_share) {
  const double driest_l = pot.refilled_l - pot.air_dry_l;
  return {{{"rooted_depletion_l", &PotState::rooted_depletion_l, -pot.surplus_store_l,
            driest_l * rooted_share},
           {"unrooted_depletion_l", &PotState::unrooted_depletion_l, 0.0,
            driest_l * (1.0 - rooted_share)},
           {"top_depletion_l", &PotState::top_depletion_l, 0.0, pot.total_evaporable_l},
           {"mulch_water_l", &PotState::mulch_water_l, 0.0, pot.mulch_store_l}}};
}

double rounding_l(const PotParameters& pot) {
  return 1e-9 * pot.refilled_l;
}

void check_saved(const SavedPlanting& saved, const Planting& planting, GrowthClock growth,
                 const ModelParameters& model) {
  const auto expect = [&](bool holds, const std::string& found, const std::string& expected) {
    if (holds) return;
    throw RequestError(
        fmt::format("{}: found a saved state {}; expected {}", planting.name, found, expected));
  };
  expect(saved.name == planting.name, fmt::format("of {}", saved.name), "its own");
  expect(saved.growth == growth, "that grew by another clock", "the one that is asked for");
  expect(falls_on(planting.planted, saved.planted),
         fmt::format("planted {}", to_string(saved.planted)), written(planting.planted));
  expect(saved.run.date >= saved.planted, fmt::format("of {}", to_string(saved.run.date)),
         fmt::format("a day from {} on", to_string(saved.planted)));
  expect(saved.run.beside.size() == planting.beside.size(),
         fmt::format("of {} crops", saved.run.beside.size() + 1),
         fmt::format("{}", planting.beside.size() + 1));
  const PotState& state = saved.run.pot;
  expect(state.rooted_share > 0.0 && state.rooted_share <= 1.0,
         fmt::format("with roots in {:g} of the mix", state.rooted_share), "above 0 and up to 1");
  expect(state.yesterday_use_l >= 0.0 && state.yesterday_use_l <= most_given_l,
         fmt::format("with a use of {:g} l", state.yesterday_use_l),
         fmt::format("0 to {:g} l", most_given_l));
  if (saved.learned) return;  // its pot is not that of the tables
  const PotParameters pot = build_pot(planting, model);
  for (const WaterLimit& one : water_limits(pot, state.rooted_share)) {
    const double litres = state.*one.litres;
    expect(litres >= one.low - rounding_l(pot) && litres <= one.high + rounding_l(pot),
           fmt::format("with {} {:g}", one.column, litres),
           fmt::format("{:.4g} to {:.4g} l, which is what this pot can hold or lose", one.low,
                       one.high));
  }
}

MergedLog merge_log(const std::vector<PotEvent>& events, Date planted,
                    const std::optional<SavedPlanting>& saved) {
  MergedLog merged;
  if (saved) merged.log = saved->log;
  PotLog& log = merged.log;
  for (const PotEvent& event : events) {
    if (event.when.date < planted) {
      ++merged.before_planting;
      continue;
    }
    const bool first_watered = !log.complete_from || event.when < *log.complete_from;
    if (event.kind == PotEventKind::watered && first_watered) log.complete_from = event.when;
    if (saved && event.when.date < saved->run.date) {
      ++merged.counted_before;
    } else {
      log.events.push_back(event);
    }
  }
  std::ranges::stable_sort(log.events, {},
                           [](const PotEvent& one) { return std::pair(one.when, one.kind); });
  log.events.erase(std::unique(log.events.begin(), log.events.end()), log.events.end());
  return merged;
}

MergedReadings merge_readings(const std::vector<Reading>& readings, Date planted,
                              const std::optional<SavedPlanting>& saved) {
  MergedReadings merged;
  if (saved) merged.readings = saved->readings;
  for (const Reading& one : readings) {
    if (one.when.date < planted) {
      ++merged.before_planting;
    } else if (saved && one.when.date < saved->run.date) {
      ++(saved->learned ? merged.counted_before : merged.unknown_before);
    } else if (std::ranges::find(merged.readings, one) == merged.readings.end()) {
      merged.readings.push_back(one);
    }
  }
  std::ranges::stable_sort(merged.readings, {},
                           [](const Reading& one) { return std::pair(one.when, one.kind); });
  return merged;
}

}  // namespace wiltline
