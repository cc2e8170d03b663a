// Columns of reference evapotranspiration.
#pragma once

#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/tables/columns.hpp"

namespace wiltline::tables {

/// A day's reference ET.
inline constexpr Column<ReferenceDay> reference_columns[]{
    {"et0_mm", water_depth_mm, 2, "reference evapotranspiration, FAO-56 eq. 6",
     [](auto& day) { return day.et0.total_mm(); }},
    {"estimated", "what was not measured, joined by +; - if everything was",
     [](auto& day) { return day.estimated(); }}};

/// Every step to it.
inline constexpr Column<ReferenceDay> reference_step_columns[]{
    {"pressure_kpa", pressure_kpa, 2, "air pressure (eq. 7)",
     [](auto& day) { return day.pressure_kpa; }},
    {"gamma_kpa_c", number, 5, "psychrometric constant, kPa/°C (eq. 8)",
     [](auto& day) { return day.gamma_kpa_c; }},
    {"es_kpa", pressure_kpa, 3, "mean saturation vapour pressure (eq. 12)",
     [](auto& day) { return day.es_kpa; }},
    {"vapour_pressure_kpa", pressure_kpa, 3, "actual vapour pressure (eq. 14-19, 48)",
     [](auto& day) { return day.vapour_pressure_kpa; }},
    {"slope_kpa_c", number, 4, "slope of the saturation curve, kPa/°C (eq. 13)",
     [](auto& day) { return day.slope_kpa_c; }},
    {"ra_mj_m2", radiation_mj_m2, 2, "extraterrestrial radiation (eq. 21)",
     [](auto& day) { return day.ra_mj_m2; }},
    {"daylight_h", hours, 2, "daylight hours (eq. 34)", [](auto& day) { return day.daylight_h; }},
    {"rso_mj_m2", radiation_mj_m2, 2, "clear-sky radiation (eq. 37)",
     [](auto& day) { return day.rso_mj_m2; }},
    {"rs_mj_m2", radiation_mj_m2, 2, "solar radiation (measured, eq. 35 or 50)",
     [](auto& day) { return day.rs_mj_m2; }},
    {"rns_mj_m2", radiation_mj_m2, 2, "net short-wave radiation (eq. 38)",
     [](auto& day) { return day.rns_mj_m2; }},
    {"rnl_mj_m2", radiation_mj_m2, 2, "net outgoing long-wave radiation (eq. 39)",
     [](auto& day) { return day.rnl_mj_m2; }},
    {"rn_mj_m2", radiation_mj_m2, 2, "net radiation (eq. 40)",
     [](auto& day) { return day.rn_mj_m2; }},
    {"wind_2m_m_s", wind_m_s, 2, "wind at 2 m (eq. 47)", [](auto& day) { return day.wind_2m_m_s; }},
    {"et_radiation_mm", water_depth_mm, 3, "radiation term of eq. 6",
     [](auto& day) { return day.et0.radiation_mm; }},
    {"et_air_mm", water_depth_mm, 3, "aerodynamic term of eq. 6",
     [](auto& day) { return day.et0.air_mm; }},
};

}  // namespace wiltline::tables
