// The sweep: crops, spots, pots, mixes, numbers of plants and draws crossed over many weather
// records, cut into blocks of a fixed order that can be run anywhere and put together again.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline {

/// What is crossed, and what all crossings share.
struct SweepAxes {
  std::vector<Crop> crops;
  std::vector<Spot> spots;
  std::vector<Pot> pots;
  std::vector<Mix> mixes;
  std::vector<std::optional<int>> plants;  // empty: as many as the crop's litres are for
  std::optional<PlantingDay> planted;      // empty: 15 May, south of the equator 15 November
  Routine routine;
  std::size_t draws = 0;   // beside the central values, which are draw 0
  std::uint64_t seed = 1;  // which draws
};

/// One crossing: places in the lists of the axes.
struct SweepCase {
  std::size_t crop = 0;
  std::size_t spot = 0;
  std::size_t pot = 0;
  std::size_t mix = 0;
  std::size_t plants = 0;
};

/// Crossings of one record and draw that are run together: `first` to `first + size - 1` of them.
struct SweepBlock {
  std::size_t record = 0;
  std::size_t draw = 0;
  std::size_t first = 0;
  std::size_t size = 0;
};

/// A run of blocks, `last` not included.
struct BlockRange {
  std::size_t first = 0;
  std::size_t last = 0;
};

/// The crossings in their one order: record by record, within it draw, crop, spot, pot, mix, plants
/// (the last fastest); every year of the record within a crossing.
class SweepPlan {
 public:
  static constexpr std::size_t most_in_block = 64;

  /// `model`: that of the places. Throws RequestError for an empty list and for fewer than one
  /// plant.
  SweepPlan(SweepAxes axes, std::size_t records, const ModelParameters& model);

  [[nodiscard]] const SweepAxes& axes() const { return axes_; }
  /// Crossings of one record and draw.
  [[nodiscard]] std::size_t cases() const { return cases_; }
  [[nodiscard]] std::size_t draws() const { return axes_.draws + 1; }
  [[nodiscard]] std::size_t blocks() const { return blocks_per_draw_ * draws() * records_; }
  /// `index` in [0, blocks()): RequestError.
  [[nodiscard]] SweepBlock block(std::size_t index) const;
  /// The blocks of the K-th of N parts, 1 <= k <= n: as equal as whole blocks allow, together
  /// all. Throws RequestError for another k.
  [[nodiscard]] BlockRange part(std::size_t k, std::size_t n) const;

  /// `index` in [0, cases()): RequestError.
  [[nodiscard]] SweepCase at(std::size_t index) const;
  /// False if the mix holds no water for plants in this pot: such a crossing is left out. Here and
  /// for planting(): RequestError for a crossing that is not in the lists.
  [[nodiscard]] bool holds_water(const SweepCase& crossing) const;
  /// Crossings of a record and draw that are left out.
  [[nodiscard]] std::size_t left_out() const;
  [[nodiscard]] Planting planting(const SweepCase& crossing, const Site& site) const;
  /// The day planted at a site.
  [[nodiscard]] PlantingDay planted(const Site& site) const;

  /// Every name and choice of the plan, a line each: what a fingerprint is made of.
  [[nodiscard]] std::string text() const;

 private:
  void check(const SweepCase& crossing) const;

  SweepAxes axes_;
  std::size_t records_;
  std::size_t cases_;
  std::size_t blocks_per_draw_;
  std::vector<bool> holds_water_;  // pot by pot, its mixes
};

/// The seasons of a block, crossing by crossing and year by year. They point to its plantings: it
/// can be moved, not copied, and gives no reference where it is a temporary.
class SweepSeasons {
 public:
  SweepSeasons(std::vector<Planting> plantings, std::vector<SweepCase> cases,
               std::vector<SeasonResult> seasons, std::size_t waterless)
      : plantings_(std::move(plantings)),
        cases_(std::move(cases)),
        seasons_(std::move(seasons)),
        waterless_(waterless) {}
  SweepSeasons(SweepSeasons&&) = default;
  SweepSeasons& operator=(SweepSeasons&&) = default;
  SweepSeasons(const SweepSeasons&) = delete;
  SweepSeasons& operator=(const SweepSeasons&) = delete;
  ~SweepSeasons() = default;

  [[nodiscard]] const std::vector<Planting>& plantings() const& { return plantings_; }
  const std::vector<Planting>& plantings() const&& = delete;
  /// Of each season.
  [[nodiscard]] const std::vector<SweepCase>& cases() const& { return cases_; }
  const std::vector<SweepCase>& cases() const&& = delete;
  [[nodiscard]] const std::vector<SeasonResult>& seasons() const& { return seasons_; }
  const std::vector<SeasonResult>& seasons() const&& = delete;
  /// Crossings left out because in this draw their pot holds no water that plants can use.
  [[nodiscard]] std::size_t waterless() const { return waterless_; }

 private:
  std::vector<Planting> plantings_;
  std::vector<SweepCase> cases_;
  std::vector<SeasonResult> seasons_;
  std::size_t waterless_;
};

/// Runs the crossings of one block over its record, `place`, under that place's model or a draw
/// about it. `drawn`, if given: the place under the model of the last block's draw, kept so that
/// the next block of the same record and draw finds its spots worked out; one for each thread.
/// Throws RequestError for a draw that the plan does not have and for a drawn model that is not the
/// catalogue's (check_drawn); InputError if rain is unknown on some days (Place::require_rain).
[[nodiscard]] SweepSeasons run_block(const SweepPlan& plan, const SweepBlock& block,
                                     const Place& place, const Catalogue& catalogue,
                                     const SeasonOptions& options = {},
                                     std::optional<Place>* drawn = nullptr);

}  // namespace wiltline
