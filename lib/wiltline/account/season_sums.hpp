// The sums of a season, day by day: the same code for one pot and for a chunk of them. Nothing here
// throws.
#pragma once

#include <span>
#include <vector>

#include "wiltline/account/course.hpp"
#include "wiltline/account/feeding.hpp"
#include "wiltline/account/season_result.hpp"
#include "wiltline/budget/batch/pot_chunk.hpp"

namespace wiltline {

inline constexpr std::size_t peak_window_days = 7;

/// A pot that heats in the sun: dark wall, direct sun from hot_root_from_h to hot_root_to_h, no
/// group and no net.
[[nodiscard]] bool heats_in_sun(const Planting& planting, const ModelParameters& model);

/// Adds up the days of 1 to `width` pots that share a course. Nothing depends on the width or on
/// who else is in a chunk. Widths: 1 and chunk_pots.
template <std::size_t width>
class SeasonSums {
 public:
  /// Settings, course and model must outlive the sums. `full_size`: no pot limits its plant, so
  /// that use at full size need not be summed apart.
  SeasonSums(std::span<const PlantingSetting* const> settings, const Course& course,
             const ModelParameters& model, InstructionSet set, bool full_size);

  /// Adds the next day of the course.
  void add(const DayOf<width>& day);
  /// Days with each call for care so far.
  [[nodiscard]] CareDays care(std::size_t pot) const;
  /// Finds the peaks. Once, after the last day; then result() for each pot.
  void finish();
  [[nodiscard]] SeasonResult result(std::size_t pot, double longest_gap_days) const;

  using Lanes = LanesOf<width>;
  struct Totals {
    Lanes mix_l;
    Lanes waterings;
    Lanes watered;
    Lanes rain;
    Lanes drained;
    Lanes used;
    struct Short {
      Lanes stressed_days;
      Lanes wilting_days;
      Lanes dry_days;
    };
    Short settled;   // counted by the lines passed once settled in
    Short settling;  // and before
    Lanes settling_days;
    Lanes first_dry;  // day of the season; none: never
    Lanes rot_days;
    Lanes sheds_days;
    Lanes finger_days;
    Lanes root_days;
    Lanes feeds;
    Lanes first_feed;
    Lanes last_feed;
    Lanes drained_since_feed;
    Lanes drained_yesterday;
    Lanes mid_season_threshold;
    std::array<Lanes, peak_window_days> last_thresholds;
    // Day by day: what the peaks are found from.
    std::vector<Lanes> use;
    std::vector<Lanes> full_size_use;  // empty where no pot limits its plant
    std::vector<Lanes> waterings_by_day;
  };
  /// The highest mean of a week of values, and where that week ends: one past its last day.
  struct Peak {
    Lanes mean;
    Lanes end;
  };

 private:
  [[nodiscard]] double refill_at_l(std::size_t pot) const;
  /// Of one pot a constant, so that its loops are none.
  WILTLINE_KERNEL std::size_t lanes() const { return width == 1 ? 1 : vectors_ * widest_vector; }

  std::vector<const PlantingSetting*> settings_;
  const Course& course_;
  const ModelParameters& model_;
  InstructionSet set_;
  FeedSchedule feeds_;
  bool may_rot_;
  bool full_size_;
  std::size_t vectors_;
  std::size_t days_ = 0;  // added
  Totals totals_{};
  CareDays shared_care_;   // the same in every pot
  int hot_root_days_ = 0;  // of a pot that heats in the sun
  int mid_season_days_ = 0;
  Peak peak_;
  Peak full_size_peak_;
};

extern template class SeasonSums<1>;
extern template class SeasonSums<chunk_pots>;

}  // namespace wiltline
