// Columns of a hot spell and of pots in it.
#pragma once

#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/tables/season_columns.hpp"

namespace wiltline::tables {

/// A spell of hot days.
inline constexpr Column<HotSpell> spell_columns[]{
    {"first_day", "first day of the spell", [](auto& spell) { return spell.first; }},
    {"days", "days of the spell", [](auto& spell) { return spell.days; }},
    {"mean_tmax_c", temperature_c, 1, "mean highest temperature of the spell",
     [](auto& spell) { return spell.mean_tmax_c; }},
    {"mean_et0_mm", water_depth_mm, 2,
     "mean reference evapotranspiration of the open site in the spell",
     [](auto& spell) { return spell.mean_et0_mm; }}};

/// A pot in it.
inline constexpr Column<HeatwavePot> heatwave_columns[]{
    {"peak_use_l_day", litres, 3, "potential use on the spell's thirstiest day",
     [](auto& pot) { return pot.peak_use_l_day; }},
    {"waterings_per_day", number, 2,
     "waterings a day, mean over the spell, if watered the moment the refill threshold is "
     "reached, from full at 00:00 of the first day and without rain",
     [](auto& pot) { return pot.waterings_per_day; }},
    {"refill_at",
     "clock time at which the pot, watered until it drains at 07:00, reaches its refill "
     "threshold on the day of the spell on which that is soonest; times before 07:00 are of "
     "the night after; empty if it lasts to the next 07:00, on the last day to its end",
     [](auto& pot) { return clock_text(pot.refill_at_h); }},
    {"once_a_day_enough",
     "yes if watering at 07:00 until it drains leaves no wilting day in the spell; else no",
     [](auto& pot) { return pot.once_a_day.enough(); }},
    {"twice_a_day_enough", "the same with 07:00 and 19:00",
     [](auto& pot) { return pot.twice_a_day.enough(); }}};

/// Appended: the days and hours behind those answers.
inline constexpr Column<HeatwavePot> heatwave_more_columns[]{
    {"planted", "day it was planted; empty if taken as full-grown",
     [](auto& pot) { return pot.planted; }},
    {"most_waterings_a_day", "most as-needed waterings on a day of the spell",
     [](auto& pot) { return pot.most_waterings_a_day; }},
    {"refill_on", "day of the spell to which refill_at belongs; empty if none",
     [](auto& pot) { return pot.refill_on; }},
    {"once_stressed_days", "days beyond readily available water with watering at 07:00",
     [](auto& pot) { return pot.once_a_day.stressed_days; }},
    {"once_wilting_days", "days beyond the wilting line with it",
     [](auto& pot) { return pot.once_a_day.wilting_days; }},
    {"twice_stressed_days", "days beyond readily available water with watering at 07:00 and 19:00",
     [](auto& pot) { return pot.twice_a_day.stressed_days; }},
    {"twice_wilting_days", "days beyond the wilting line with it",
     [](auto& pot) { return pot.twice_a_day.wilting_days; }}};

/// A pot over all draws.
inline constexpr Column<HeatwaveSpread> heatwave_spread_columns[]{
    {"peak_use_l_day_p10", litres, 3,
     "potential use on the thirstiest day: a tenth of the draws need no more",
     [](auto& s) { return s.peak_use_l_day.p10; }},
    {"peak_use_l_day_p90", litres, 3, "nine tenths need no more",
     [](auto& s) { return s.peak_use_l_day.p90; }},
    {"waterings_per_day_p10", number, 2, "waterings a day as needed, likewise",
     [](auto& s) { return s.waterings_per_day.p10; }},
    {"waterings_per_day_p90", number, 2, "the same, nine tenths",
     [](auto& s) { return s.waterings_per_day.p90; }},
    {"once_a_day_share", number, 3, "share of draws in which 07:00 is enough",
     [](auto& s) { return s.once_a_day_share; }},
    {"twice_a_day_share", number, 3, "share of draws in which 07:00 and 19:00 are",
     [](auto& s) { return s.twice_a_day_share; }},
    moves_most<HeatwaveSpread>("the input that moves the peak use most; empty if none stands out"),
    rank_correlation<HeatwaveSpread>(),
};

}  // namespace wiltline::tables
