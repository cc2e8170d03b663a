// What the options and the log of a forecast say was done to each planting.
#pragma once

#include <string>
#include <unordered_map>
#include <vector>

#include "garden_options.hpp"
#include "wiltline/questions/log_and_state.hpp"
#include "wiltline/questions/pot_readings.hpp"

namespace wiltline::cli {

/// What was done to each planting, in the garden's order. All throw RequestError: unknown
/// plantings, times after now, weights below tare or without one, an option given twice.
class Diary {
 public:
  Diary(const Garden& garden, const ModelParameters& model, const Instant& now);

  void add_watered(const Arguments& arguments);  // --watered
  void add_weights(const Arguments& arguments);  // --weight
  void add_tops(const Arguments& arguments);     // --top
  void add_log(const std::vector<LogEntry>& entries);

  /// Of a planting, in no order.
  [[nodiscard]] const std::vector<PotEvent>& events(std::size_t i) const { return events_[i]; }

 private:
  void add_once(std::size_t i, const char* option, const PotEvent& event);

  /// The planting that an option names.
  [[nodiscard]] std::size_t named(const char* option, const std::string& name) const;

  const Garden& garden_;
  const ModelParameters& model_;
  std::unordered_map<std::string, std::size_t> index_;  // of plantings, by name
  Instant now_;
  std::vector<std::vector<PotEvent>> events_;
};

}  // namespace wiltline::cli
