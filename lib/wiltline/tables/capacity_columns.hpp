// Columns of what a pot of a mix holds.
#pragma once

#include "wiltline/questions/capacity.hpp"
#include "wiltline/tables/columns.hpp"

namespace wiltline::tables {

/// What a pot of a mix holds.
inline constexpr Column<CapacityResult> capacity_columns[]{
    {"pot", "pot, or shape given", [](auto& r) { return r.pot; }},
    {"mix", "mix", [](auto& r) { return r.mix; }},
    {"mix_l", litres, 2, "mix in the pot", [](auto& r) { return r.water.mix_l; }},
    {"height_cm", length_cm, 1, "height of the mix", [](auto& r) { return r.height_cm; }},
    {"capacity_l", litres, 3, "refilled capacity: water after a good watering",
     [](auto& r) { return r.water.refilled_l; }},
    {"capacity_m3_m3", volume_share, 4, "container capacity as a laboratory states it",
     [](auto& r) { return r.water.capacity.capacity_m3_m3; }},
    {"air_m3_m3", volume_share, 4, "air left at container capacity",
     [](auto& r) { return r.water.capacity.air_m3_m3; }},
    {"lower_limit_m3_m3", volume_share, 4, "water content at which a plant can draw no more",
     [](auto& r) { return r.lower_limit_m3_m3; }},
    {"available_l", litres, 3, "refilled capacity down to the lower limit",
     [](auto& r) { return r.water.available_l(); }},
    {"readily_available_l", litres, 3, "the part a plant takes before growth slows",
     [](auto& r) { return r.readily_available_l; }},
    {"available_low_l", litres, 3, "available_l if the materials plausibly hold least",
     [](auto& r) { return r.available_l.low; }},
    {"available_high_l", litres, 3, "and most", [](auto& r) { return r.available_l.high; }},
};

}  // namespace wiltline::tables
