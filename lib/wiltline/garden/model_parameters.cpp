#include "wiltline/garden/model_parameters.hpp"

namespace wiltline {

const std::vector<ModelParameterName>& model_parameter_names() {
  using P = ModelParameters;
  static const std::vector<ModelParameterName> names{
      {"refill_share", &P::refill_share},
      {"lower_limit_suction_kpa", &P::lower_limit_suction_kpa},
      {"wilting_line", &P::wilting_line},
      {"dry_line", &P::dry_line},
      {"night_share", &P::night_share},
      {"drained_share", &P::drained_share},
      {"first_uptake", &P::first_uptake},
      {"interception_mm_per_lai", &P::interception_mm_per_lai},
      {"interception_max_mm", &P::interception_max_mm},
      {"top_evaporation_coefficient", &P::top_evaporation_coefficient},
      {"under_canopy_floor", &P::under_canopy_floor},
      {"canopy_light_extinction", &P::canopy_light_extinction},
      {"top_layer_cm", &P::top_layer_cm},
      {"single_store_depth_cm", &P::single_store_depth_cm},
      {"mulch_factor", &P::mulch_factor},
      {"mulch_store_mm", &P::mulch_store_mm},
      {"tight_wall_factor", &P::tight_wall_factor},
      {"leaf_extinction", &P::leaf_extinction},
      {"leaf_area_per_reference", &P::leaf_area_per_reference},
      {"air_area_limit", &P::air_area_limit},
      {"ceiling", &P::ceiling},
      {"diffuse_area_factor", &P::diffuse_area_factor},
      {"lowest_beam_elevation_deg", &P::lowest_beam_elevation_deg},
      {"pot_limit_exponent", &P::pot_limit_exponent},
      {"root_fill_days", &P::root_fill_days},
      {"wicking_height_cm", &P::wicking_height_cm},
      {"demand_delay_h", &P::demand_delay_h},
      {"as_needed_cap_per_day", &P::as_needed_cap_per_day},
      {"air_dry_share", &P::air_dry_share},
  };
  return names;
}

}  // namespace wiltline
