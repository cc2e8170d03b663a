// What a chunk of pots is made of, one array a quantity, and the loops that take it through a plain
// day.
#pragma once

#include <bit>
#include <cstdint>

#include "wiltline/budget/batch/pot_chunk.hpp"

namespace wiltline {

struct PotChunk::Data {
  template <typename Record>
  using Records = RecordsOf<Record, chunk_pots>;

  // Parameters.
  Lanes size_factor;
  Lanes use_factor;
  Lanes total_available;
  Records<kernel::LineFractions> lines{};
  Lanes plain_rew;         // of the top layer; beyond reach in a single store
  Lanes single_store_rew;  // of a single store; else beyond reach
  Lanes air_dry;           // depletion of the whole mix
  Lanes tew;
  Lanes per_tew_rew;
  Lanes single_store;
  Lanes top_draw_share;
  Lanes top_dry_limit;
  Lanes root_odds_decay;
  Lanes ball_top_factor;
  Lanes root_fill_days;
  Lanes exchanged_overnight;
  Lanes top_m2;
  Lanes per_top_m2;
  Lanes wall_per_mm;
  Lanes mulch_factor;
  Lanes mulched;
  Records<kernel::WateringLimits> watering_limits{};
  Lanes first_uptake;
  Lanes second_uptake;
  Lanes waterings_cap;

  // State; as needed, as it was when the day began.
  struct State {
    Lanes rooted;
    Lanes unrooted;
    Lanes top;
    Lanes mulch_water;
    Lanes rooted_share;
    Lanes yesterday_use;
    Records<kernel::RefillGap> gap{};
  };
  State now;
  State morning;

  // Crowns of several plants that share a disc, as they are and at full size.
  Records<CrownOverPot> crown{};
  Records<CrownOverPot> full_crown{};

  // The day.
  Records<kernel::Rates> rates{};
  Lanes per_top_litre;
  Lanes unrooted_raw;
  Lanes rooted_top_share;
  Lanes rooted_use;
  Lanes first_edge;
  Lanes exact;       // 1 if a course was not plain
  Lanes exact_days;  // so far
  bool some_single_store = false;
  Lanes alone;  // 1 if the day is for `run_day` alone

  // As needed, what is left of the day.
  Lanes waits;     // 1 until it is over
  Lanes can_have;  // 1 so long as it can be watered
  Lanes thirsty;   // 1 if it is to be watered now
  Lanes crosses;   // 1 if it will pass its threshold
  Lanes crossing;  // and how long after `from`; else 0
  Lanes aim;       // the depletion at which `to` is, if it was chosen so; else 0

  // The interval; for pots that pass edges, and as needed, with its ends.
  Lanes plain;  // 1 so long as the course is plain
  Lanes from;
  Lanes to;
  Lanes top_in_line;
  Lanes top_remaining;

  ChunkDay day;
};

/// A day as all pots of the chunk share it.
struct SharedDay {
  InstructionSet set = InstructionSet::baseline;
  std::span<const PlantingSetting* const> settings{};
  std::size_t vectors = 0;  // of widest_vector lanes; the last pot fills them up
  const CropDay* crop = nullptr;
  double top_coefficient = 1.0;
  double age_days = 0.0;
  const DayPlan* plan = nullptr;
  const DemandCurve* curve = nullptr;
  double rain_at_days = 0.0;  // since planting
  CrownsOf crowns = CrownsOf::several;
  bool roots_grow = false;
  bool all_rooted = false;  // once they have grown, the mix of every pot is rooted through

  [[nodiscard]] std::size_t lanes() const { return vectors * widest_vector; }
};

/// Adds to `any` what is not 0.
WILTLINE_LOOP void note(std::uint64_t& any, double flag) {
  any |= std::bit_cast<std::uint64_t>(flag);
}

/// Of the mix, in a lane.
template <kernel::Rooting rooting>
WILTLINE_KERNEL double rooted_share(const PotChunk::Data& d, std::size_t i) {
  return rooting == kernel::Rooting::whole ? 1.0 : d.now.rooted_share[i];
}

/// The limits of a lane's day of depletion fraction `p`.
template <kernel::Rooting rooting>
WILTLINE_KERNEL kernel::DayLimits limits_of(const PotChunk::Data& d, std::size_t i, double p) {
  return kernel::day_limits(d.total_available[i], p, rooted_share<rooting>(d, i), d.lines.of(i));
}

/// From now on the day knows which pots passed its lines: none so far, if it did not know before.
void begin_passing(ChunkDay& day);

/// A lane as `flow` and `run_day` take a pot.
[[nodiscard]] PotState state_of(const PotChunk::Data::State& lanes, std::size_t i);
void set_state(PotChunk::Data::State& lanes, std::size_t i, const PotState& to);
[[nodiscard]] FullRates full_rates_of(const PotChunk::Data& d, std::size_t i);

/// A day of every pot but those of which `data.alone` then is 1.
void run_lanes(PotChunk::Data& data, const SharedDay& shared);

}  // namespace wiltline
