// What a gardener did to a pot, or found out about it.
#pragma once

#include <optional>
#include <vector>

#include "wiltline/base/date.hpp"

namespace wiltline {

/// `looked_at` changes nothing by itself: whoever watches the journey sees to it.
enum class PotEventKind { watered, weighed, top_felt_dry, top_felt_moist, looked_at };
struct PotEvent {
  Instant when;
  PotEventKind kind = PotEventKind::watered;
  /// Watered: litres given, empty: until it drained. Weighed: kg, pot and all.
  std::optional<double> amount;

  bool operator==(const PotEvent&) const = default;
};

/// What is known of one pot beside its routine.
struct PotLog {
  std::vector<PotEvent> events;  // in the order of time
  /// The first watering: from then on the log is taken as complete, before it the routine as kept.
  /// Empty: the routine was kept.
  std::optional<Instant> complete_from;

  bool operator==(const PotLog&) const = default;
};

}  // namespace wiltline
