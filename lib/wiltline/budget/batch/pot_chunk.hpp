// A chunk of pots of one crop at one spot, taken through a day together: the plain course in vector
// loops, pots that cross edges vector by vector (edge_loops), a few through flow or run_day alone.
// All use the kernels of kernel.hpp and edges.hpp, so a pot has the same bits here and alone, in
// whatever chunk, on whatever processor.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "wiltline/base/instruction_set.hpp"
#include "wiltline/budget/batch/lanes.hpp"
#include "wiltline/budget/forcing.hpp"

namespace wiltline {

/// Pots in a chunk: few enough for the first-level cache.
inline constexpr std::size_t chunk_pots = 32;

/// One value for each pot of a chunk.
using Lanes = LanesOf<chunk_pots>;

/// What a day did to each of `width` pots, litres; flags are 1 or 0. As DayResult, which explains
/// them.
template <std::size_t width>
struct DayOf {
  using Lanes = LanesOf<width>;
  Lanes potential_use;
  Lanes full_size_use;  // the same if the plant reached full size
  Lanes rain;
  Lanes watered;
  Lanes drained;
  Lanes transpired;
  Lanes evaporated;
  Lanes waterings;
  Lanes highest_depletion;
  Lanes taw;
  Lanes threshold;
  Lanes sheds;
  Lanes top_felt_dry;
  Lanes past_threshold;
  Lanes settling;        // roots hold less than settled_share of the mix
  bool rooting = false;  // in some pot roots do not hold all of the mix; if not, none is settling
  bool lines_passed = false;  // by some pot; if not, these three are not set
  Lanes stressed;
  Lanes wilting;
  Lanes dry;
};
using ChunkDay = DayOf<chunk_pots>;

/// Enters a day that a pot went through alone, all but potential use and rain.
template <std::size_t width>
void put_day(const DayResult& day, std::size_t i, DayOf<width>& days) {
  days.watered[i] = day.watered_l;
  days.drained[i] = day.drained_l;
  days.transpired[i] = day.transpired_l;
  days.evaporated[i] = day.evaporated_l;
  days.waterings[i] = day.waterings;
  days.stressed[i] = kernel::flag(day.stressed_at.has_value());
  days.wilting[i] = kernel::flag(day.wilting_at.has_value());
  days.dry[i] = kernel::flag(day.dry_at.has_value());
  days.highest_depletion[i] = day.highest_depletion_l;
  days.taw[i] = day.taw_l;
  days.threshold[i] = day.threshold_l;
  days.sheds[i] = kernel::flag(day.shed_water);
  days.top_felt_dry[i] = kernel::flag(day.top_felt_dry);
  days.past_threshold[i] = kernel::flag(day.past_threshold);
  days.settling[i] = kernel::flag(day.state.rooted_share < settled_share);
}

/// The gap between refills after those of a day. `age_days`: of the day.
[[nodiscard]] kernel::RefillGap after_refills(kernel::RefillGap gap, const DayResult& day,
                                              double age_days, const DayPlan& plan,
                                              const DemandCurve& curve);

/// Whose crowns stand over the pots of a chunk.
enum class CrownsOf {
  full_plant,  // one plant a pot, which no pot limits
  one_plant,   // one plant a pot
  several      // that share a crown, worked out pot by pot
};

struct SharedDay;

/// Plantings that share crop setting, spot, day of planting and routine.
class PotChunk {
 public:
  /// 1 to chunk_pots settings, which must outlive the chunk.
  PotChunk(std::span<const PlantingSetting* const> settings, const ModelParameters& model,
           InstructionSet set = widest_instruction_set());
  ~PotChunk();
  PotChunk(const PotChunk&) = delete;
  PotChunk& operator=(const PotChunk&) = delete;

  /// Moves all pots on by a day and returns what it did.
  const ChunkDay& run_day(const CropDay& crop, double age_days, const DayPlan& plan,
                          const DemandCurve& curve);

  /// Longest time between refills (is_refill) from planting to `age_days`, days.
  [[nodiscard]] double longest_gap_days(std::size_t pot, double age_days) const;
  /// True if no pot limits its plant: use at full size is then the potential use.
  [[nodiscard]] bool full_size() const { return crowns_ == CrownsOf::full_plant; }
  /// Pot-days with an edge so far.
  [[nodiscard]] std::size_t exact_pot_days() const;

  struct Data;  // all that the vector loops read and write

 private:
  void share_crown(const CropDay& crop);
  void run_exactly(std::size_t pot, const SharedDay& shared, const DemandCurve& curve);

  std::vector<const PlantingSetting*> settings_;
  const ModelParameters* model_;
  InstructionSet set_;
  std::unique_ptr<Data> data_;
  CrownsOf crowns_ = CrownsOf::several;
  double last_fill_days_ = 0.0;  // when the last pot's roots fill it
  bool all_rooted_ = false;
};

}  // namespace wiltline
