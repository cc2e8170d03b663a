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

/// In the order in which those of one instant come.
enum class ReadingKind {
  weighed_before,  // before any watering at that instant
  top_felt_dry,
  top_felt_moist,
  wilted,
  not_wilted,
  watered,
  weighed_after  // after the watering of that instant; without one in a log: until it drained
};

[[nodiscard]] inline bool is_weighing(ReadingKind kind) {
  return kind == ReadingKind::weighed_before || kind == ReadingKind::weighed_after;
}

/// One thing known of a pot at an instant.
struct Reading {
  Instant when;
  ReadingKind kind = ReadingKind::watered;
  double weight_kg = 0.0;           // weighed: pot and all
  std::optional<double> given_l{};  // watered; empty: until it drained
  std::optional<double> drained_l{};

  [[nodiscard]] bool weighed() const { return is_weighing(kind); }
  bool operator==(const Reading&) const = default;
};

}  // namespace wiltline
