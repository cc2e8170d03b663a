#include "wiltline/garden/model_parameters.hpp"

namespace wiltline {
namespace {

/// Words advice or guards a loop, so that no water depends on it; or another range stands for it:
/// the dry line's for the wilting line, the days to full canopy for the leaf curve, a named mix's
/// own shrinkage for the estimate, a spot's sky view for the diffuse line and the beam's strength,
/// leaf per root ball for its limit, the days to full roots for the top of a root ball.
constexpr bool not_drawn = false;

}  // namespace

const std::vector<ModelParameterName>& model_parameter_names() {
  using P = ModelParameters;
  static const std::vector<ModelParameterName> names{
      {"refill_share", &P::refill_share, 0.05, 1.0},
      {"lower_limit_suction_kpa", &P::lower_limit_suction_kpa, 1.0, 1500.0},
      {"wilting_line", &P::wilting_line, 0.05, 1.0, not_drawn},
      {"dry_line", &P::dry_line, 0.05, 1.0},
      {"night_share_least", &P::night_share_least, 0.0, 0.9},
      {"night_share_most", &P::night_share_most, 0.0, 0.9},
      {"night_share_per_air_mm", &P::night_share_per_air_mm, 0.0, 1.0},
      {"drained_share", &P::drained_share, 0.0, 0.9},
      {"first_uptake", &P::first_uptake, 0.05, 1.0},
      {"interception_mm_per_lai", &P::interception_mm_per_lai, 0.0, 5.0},
      {"interception_max_mm", &P::interception_max_mm, 0.0, 10.0},
      {"top_evaporation_coefficient", &P::top_evaporation_coefficient, 0.0, 2.0},
      {"under_canopy_floor", &P::under_canopy_floor, 0.0, 1.0},
      {"canopy_light_extinction", &P::canopy_light_extinction, 0.05, 2.0},
      {"top_layer_cm", &P::top_layer_cm, 0.5, 30.0},
      {"single_store_depth_cm", &P::single_store_depth_cm, 0.0, 50.0},
      {"mulch_factor", &P::mulch_factor, 0.0, 1.0},
      {"mulch_store_mm", &P::mulch_store_mm, 0.0, 50.0},
      {"tight_wall_factor", &P::tight_wall_factor, 0.0, 1.0},
      {"closure_free", &P::closure_free, 0.0, 0.99},
      {"leaf_extinction", &P::leaf_extinction, 0.05, 2.0},
      {"leaf_area_per_reference", &P::leaf_area_per_reference, 0.5, 20.0},
      {"air_area_limit", &P::air_area_limit, 0.1, 20.0},
      {"ceiling", &P::ceiling, 0.5, 5.0},
      {"diffuse_area_factor", &P::diffuse_area_factor, 0.5, 5.0},
      {"lowest_beam_elevation_deg", &P::lowest_beam_elevation_deg, 1.0, 90.0},
      {"air_term_vpd_kpa", &P::air_term_vpd_kpa, 0.1, 20.0},
      {"depletion_fraction_floor", &P::depletion_fraction_floor, 0.0, 0.8},
      {"pot_limit_exponent", &P::pot_limit_exponent, 0.0, 1.0},
      {"root_fill_days", &P::root_fill_days, 1.0, 1000.0},
      {"demand_delay_h", &P::demand_delay_h, 0.0, 6.0},
      {"as_needed_cap_per_day", &P::as_needed_cap_per_day, 1.0, 1000.0, not_drawn},
      {"air_dry_share", &P::air_dry_share, 0.0, 1.0},
      {"leaf_harvest_share", &P::leaf_harvest_share, 0.05, 1.0},
      {"pruned_leaf_share", &P::pruned_leaf_share, 0.05, 1.0},
      {"hardened_leaf_share", &P::hardened_leaf_share, 0.05, 1.0},
      {"frost_tender_c", &P::frost_tender_c, -20.0, 10.0, not_drawn},
      {"frost_light_c", &P::frost_light_c, -20.0, 10.0, not_drawn},
      {"frost_hard_c", &P::frost_hard_c, -40.0, 10.0, not_drawn},
      {"rot_line", &P::rot_line, 0.05, 1.0, not_drawn},
      {"feed_start_days", &P::feed_start_days, 0.0, 365.0, not_drawn},
      {"feed_interval_days", &P::feed_interval_days, 1.0, 365.0, not_drawn},
      {"feed_small_interval_days", &P::feed_small_interval_days, 1.0, 365.0, not_drawn},
      {"feed_leached_mixes", &P::feed_leached_mixes, 0.01, 100.0, not_drawn},
      {"hot_root_tmax_c", &P::hot_root_tmax_c, 0.0, 60.0, not_drawn},
      {"leaf_per_root_ball", &P::leaf_per_root_ball, 0.0, 5.0},
      {"root_exchange_days", &P::root_exchange_days, 0.1, 1000.0},
      {"root_depth_decline", &P::root_depth_decline, 0.0, 1.0},
      {"finger_dry_suction_kpa", &P::finger_dry_suction_kpa, 0.5, 1500.0},
      {"leaf_curve_steepness", &P::leaf_curve_steepness, 1.0, 50.0, not_drawn},
      {"leaf_curve_middle", &P::leaf_curve_middle, 0.1, 0.9, not_drawn},
      {"first_flowers", &P::first_flowers, 0.0, 1.0, not_drawn},
      {"feed_small_leaf_share", &P::feed_small_leaf_share, 0.0, 1.0, not_drawn},
      {"feed_shortest_interval_days", &P::feed_shortest_interval_days, 1.0, 365.0, not_drawn},
      {"coarse_shrinkage", &P::coarse_shrinkage, 0.0, 1.0, not_drawn},
      {"overcast_clearness", &P::overcast_clearness, 0.0, 0.4, not_drawn},
      {"clear_clearness", &P::clear_clearness, 0.5, 1.0, not_drawn},
      {"clear_diffuse_share", &P::clear_diffuse_share, 0.0, 1.0, not_drawn},
      {"beam_transmittance", &P::beam_transmittance, 0.3, 1.0, not_drawn},
      {"transplant_leaf_limit", &P::transplant_leaf_limit, 0.05, 1.0, not_drawn},
      {"hot_root_from_h", &P::hot_root_from_h, 0.0, 24.0, not_drawn},
      {"hot_root_to_h", &P::hot_root_to_h, 0.0, 24.0, not_drawn},
      {"root_ball_top", &P::root_ball_top, 0.1, 10.0, not_drawn},
  };
  return names;
}

}  // namespace wiltline
