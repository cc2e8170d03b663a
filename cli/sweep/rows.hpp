// A sweep's rows: the columns, and the blocks as lines of CSV.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report.hpp"
#include "sweep/inputs.hpp"

namespace wiltline::cli {

/// A season of a crossing.
struct SweepRow {
  std::string weather;  // the record's file in the folder
  std::size_t draw;
  const SeasonResult* season;
  std::string estimated;
};
[[nodiscard]] Table<SweepRow> sweep_table();

/// Runs blocks, one after the other; keeps the record at hand while blocks of the same record
/// follow. All it is built from must outlive it.
class SweepRows {
 public:
  /// `digests`: of the records, as checked before.
  SweepRows(const Sweep& sweep, const std::vector<std::string>& digests)
      : sweep_(sweep), digests_(digests) {}

  /// The rows of a block. Throws InputError if its record has changed since it was checked.
  [[nodiscard]] std::string of(const SweepBlock& block);
  /// Crossings so far that a draw left without water for plants.
  [[nodiscard]] std::size_t waterless() const { return waterless_; }

 private:
  const Place& place_of(const SweepBlock& block);
  [[nodiscard]] std::string estimated_text() const;

  const Sweep& sweep_;
  const std::vector<std::string>& digests_;
  const Table<SweepRow> table_ = sweep_table();
  std::size_t index_ = 0;  // of the record
  std::optional<Place> place_;
  std::optional<Place> drawn_;  // the same under the model of the draw at hand
  std::string estimated_;
  std::size_t waterless_ = 0;
};

}  // namespace wiltline::cli
