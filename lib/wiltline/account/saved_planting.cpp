#include "wiltline/account/saved_planting.hpp"

#include <algorithm>

namespace wiltline {

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
