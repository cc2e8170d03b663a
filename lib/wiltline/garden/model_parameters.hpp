// The free numbers of the model that belong to no crop, mix, pot or spot: models/parameters.csv.
#pragma once

#include <string_view>
#include <vector>

#include "wiltline/crop/growth.hpp"
#include "wiltline/evapotranspiration/daily.hpp"

namespace wiltline {

/// When to give soluble feed: first some weeks after planting, then every 7 to 14 days by the
/// bulletins; less often while the plant is small; sooner once a pot volume of water has drained
/// and taken its nitrogen along. The label of what is fed comes first.
struct FeedSchedule {
  double feed_start_days = 0.0;
  double feed_interval_days = 0.0;
  double feed_small_interval_days = 0.0;
  double feed_leached_mixes = 0.0;
  double feed_small_leaf_share = 0.0;  // of full leaf area, below which a plant is small
  double feed_shortest_interval_days = 0.0;

  bool operator==(const FeedSchedule&) const = default;
};

/// Each is described, with its range and source, in the table; units stand in the names, a plain
/// number has none.
struct ModelParameters : FeedSchedule {
  double refill_share = 0.0;
  double lower_limit_suction_kpa = 0.0;
  double wilting_line = 0.0;
  double dry_line = 0.0;
  double night_share_least = 0.0;
  double night_share_most = 0.0;
  double night_share_per_air_mm = 0.0;
  double drained_share = 0.0;
  double first_uptake = 0.0;
  double interception_mm_per_lai = 0.0;
  double interception_max_mm = 0.0;
  double top_evaporation_coefficient = 0.0;
  double under_canopy_floor = 0.0;
  double canopy_light_extinction = 0.0;
  double top_layer_cm = 0.0;
  double single_store_depth_cm = 0.0;
  double mulch_factor = 0.0;
  double mulch_store_mm = 0.0;
  double tight_wall_factor = 0.0;
  double closure_free = 0.0;
  double leaf_extinction = 0.0;
  double leaf_area_per_reference = 0.0;
  double air_area_limit = 0.0;
  double ceiling = 0.0;
  double diffuse_area_factor = 0.0;
  double lowest_beam_elevation_deg = 0.0;
  double air_term_vpd_kpa = 0.0;
  double depletion_fraction_floor = 0.0;
  double pot_limit_exponent = 0.0;
  double root_fill_days = 0.0;
  double demand_delay_h = 0.0;
  double as_needed_cap_per_day = 0.0;
  double air_dry_share = 0.0;
  double leaf_harvest_share = 0.0;
  double pruned_leaf_share = 0.0;
  double hardened_leaf_share = 0.0;
  double frost_tender_c = 0.0;
  double frost_light_c = 0.0;
  double frost_hard_c = 0.0;
  double rot_line = 0.0;
  double hot_root_tmax_c = 0.0;
  double leaf_per_root_ball = 0.0;
  double root_exchange_days = 0.0;
  double root_depth_decline = 0.0;
  double finger_dry_suction_kpa = 0.0;
  double leaf_curve_steepness = 0.0;
  double leaf_curve_middle = 0.0;
  double first_flowers = 0.0;
  double coarse_shrinkage = 0.0;
  double overcast_clearness = 0.0;
  double clear_clearness = 0.0;
  double clear_diffuse_share = 0.0;
  double beam_transmittance = 0.0;
  double transplant_leaf_limit = 0.0;
  double hot_root_from_h = 0.0;
  double hot_root_to_h = 0.0;
  double root_ball_top = 0.0;

  [[nodiscard]] LeafCurve leaf_curve() const { return {leaf_curve_steepness, leaf_curve_middle}; }
  [[nodiscard]] DiffuseLine diffuse_line() const {
    return {overcast_clearness, clear_clearness, clear_diffuse_share};
  }

  bool operator==(const ModelParameters&) const = default;
};

/// Name and member of each: what the table must hold, and holds nothing else of.
struct ModelParameterName {
  std::string_view name;
  double ModelParameters::*member;
  double least;  // what can be meant at all; the table's own range is narrower
  double most;
  bool drawn = true;  // from its range, where an answer is asked how sure it is
};
[[nodiscard]] const std::vector<ModelParameterName>& model_parameter_names();

}  // namespace wiltline
