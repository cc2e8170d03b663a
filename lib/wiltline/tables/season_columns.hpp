// Columns of a season, of its ledger and of how sure it is.
#pragma once

#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/tables/planting_columns.hpp"

namespace wiltline::tables {

/// A clock hour as HH:MM.
[[nodiscard]] inline std::optional<std::string> clock_text(const std::optional<double>& hour) {
  return hour ? std::optional(clock_string(*hour)) : std::nullopt;
}
/// What a day calls for besides water, joined by +; - if nothing.
[[nodiscard]] std::string care_text(const CareDays& care);

/// The account of a season, without what names it.
inline constexpr Column<SeasonSummary> summary_columns[]{
    {"mix_l", litres, 2, "mix in the pot", [](auto& s) { return s.mix_l; }},
    {"capacity_l", litres, 3, "refilled capacity: water after a good watering",
     [](auto& s) { return s.capacity_l; }},
    {"available_l", litres, 3, "total available water of the whole mix",
     [](auto& s) { return s.available_l; }},
    {"refill_at_l", litres, 3,
     "refill threshold: depletion at which to water, mean over mid-season",
     [](auto& s) { return s.refill_at_l; }},
    {"peak_use_l_day", litres, 3, "potential use a day, highest 7-day mean",
     [](auto& s) { return s.peak_use_l_day; }},
    {"waterings", "times watered", [](auto& s) { return s.waterings; }},
    {"watered_l", litres, 2, "water given", [](auto& s) { return s.watered_l; }},
    {"rain_l", litres, 2, "rain caught", [](auto& s) { return s.rain_l; }},
    {"drained_l", litres, 2, "water drained away", [](auto& s) { return s.drained_l; }},
    {"used_l", litres, 2, "water transpired and evaporated", [](auto& s) { return s.used_l; }},
    {"stressed_days", "days beyond readily available water at any instant, once settled",
     [](auto& s) { return s.stressed_days; }},
    {"wilting_days", "days beyond the wilting line, once settled",
     [](auto& s) { return s.wilting_days; }},
    {"dry_days", "days beyond the dry line, once settled", [](auto& s) { return s.dry_days; }},
    {"first_dry", "first dry day, once settled; empty if none",
     [](auto& s) { return s.first_dry; }},
    {"longest_gap_days", days, 1, "longest time between waterings or rains that refilled the pot",
     [](auto& s) { return s.longest_gap_days; }},
};

/// What else it called for.
inline constexpr Column<SeasonSummary> care_columns[]{
    {"peak_use_full_size_l_day", litres, 3,
     "peak_use_l_day if the plant reached full size whatever the pot",
     [](auto& s) { return s.peak_use_full_size_l_day; }},
    {"waterings_week_peak", number, 1, "waterings a week in the four weeks around the peak",
     [](auto& s) { return s.waterings_week_peak; }},
    {"finger_only_days",
     "mornings on which the top felt dry but the root zone was not at its threshold",
     [](auto& s) { return s.care.finger_only; }},
    {"root_only_days",
     "mornings on which the root zone was at its threshold but the top felt moist",
     [](auto& s) { return s.care.root_only; }},
    {"frost_days", "days colder than the crop bears", [](auto& s) { return s.care.frost; }},
    {"too_warm_days", "days in a week warmer than the crop's heat limit",
     [](auto& s) { return s.care.too_warm; }},
    {"poor_fruit_set_days", "days too hot or cold for its flowers to set",
     [](auto& s) { return s.care.poor_fruit_set; }},
    {"blossom_end_rot_days", "days so dry while fruit grows that it may rot",
     [](auto& s) { return s.care.blossom_end_rot; }},
    {"hot_root_days", "hot days of a dark pot in full sun: a caution only",
     [](auto& s) { return s.care.hot_roots; }},
    {"sheds_water_days", "days on which dry mix let water through: soak twice",
     [](auto& s) { return s.care.sheds_water; }},
    {"feeds", "times soluble feed was due", [](auto& s) { return s.care.feed; }},
    {"first_feed", "day of the first feed; empty if none", [](auto& s) { return s.first_feed; }},
};

/// When and why it ended.
inline constexpr Column<SeasonResult> end_columns[]{
    {"last_day", "last day of the account", [](auto& season) { return season.last; }},
    {"ended_by", ended_by_meaning, [](auto& season) { return to_string(season.summary.ended_by); }},
    {"harvest", "leaf: picked leaf by leaf and so kept smaller; whole: left to grow to full size",
     [](auto& season) { return season.planting->leaf_by_leaf ? "leaf" : "whole"; }},
};

/// The first weeks, counted apart.
inline constexpr Column<SeasonSummary> settling_columns[]{
    {"settled",
     "day from which roots hold half of the mix: water daily until then; empty if the season ends "
     "before",
     [](auto& s) { return s.settling_in.settled; }},
    {"settling_stressed_days", "days before that day beyond readily available water: counted apart",
     [](auto& s) { return s.settling_in.stressed_days; }},
    {"settling_wilting_days", "the same beyond the wilting line",
     [](auto& s) { return s.settling_in.wilting_days; }},
    {"settling_dry_days", "the same beyond the dry line",
     [](auto& s) { return s.settling_in.dry_days; }},
};

/// A season over all draws.
inline constexpr Column<SeasonSpread> season_spread_columns[]{
    {"watered_l_p10", litres, 2, "water given: a tenth of the draws need no more",
     [](auto& s) { return s.watered_l.p10; }},
    {"watered_l_p90", litres, 2, "nine tenths need no more",
     [](auto& s) { return s.watered_l.p90; }},
    {"wilting_days_p10", count, 0, "days beyond the wilting line, likewise",
     [](auto& s) { return s.wilting_days.p10; }},
    {"wilting_days_p90", count, 0, "the same, nine tenths",
     [](auto& s) { return s.wilting_days.p90; }},
    {"dry_days_p10", count, 0, "days beyond the dry line, likewise",
     [](auto& s) { return s.dry_days.p10; }},
    {"dry_days_p90", count, 0, "the same, nine tenths", [](auto& s) { return s.dry_days.p90; }},
    {"unwilted_share", number, 3, "share of draws without a wilting day",
     [](auto& s) { return s.unwilted_share; }},
    moves_most<SeasonSpread>(season_moves_most),
    rank_correlation<SeasonSpread>(),
};

/// A day of the ledger.
inline constexpr Column<LedgerLine> ledger_columns[]{
    {"date", "day", [](auto& l) { return l.date; }},
    {"et0_mm", water_depth_mm, 2, "reference evapotranspiration of the open site",
     [](auto& l) { return l.et0_mm; }},
    {"canopy_m2", area_m2, 4, "plan area of all plants of the pot",
     [](auto& l) { return l.canopy_m2; }},
    {"demand_l", litres, 4, "potential transpiration",
     [](auto& l) { return l.potential_transpiration_l; }},
    {"transpired_l", litres, 4, "transpired", [](auto& l) { return l.transpired_l; }},
    {"evaporated_l", litres, 4, "evaporated from top and wall",
     [](auto& l) { return l.evaporated_l; }},
    {"rain_l", litres, 4, "rain caught", [](auto& l) { return l.rain_l; }},
    {"watered_l", litres, 4, "water given", [](auto& l) { return l.watered_l; }},
    {"drained_l", litres, 4, "drained away", [](auto& l) { return l.drained_l; }},
    {"store_l", litres, 4, "all water in the planting at the day's end",
     [](auto& l) { return l.store_l; }},
    {"depletion_l", litres, 4,
     "root-zone depletion at the day's end; below zero while a saucer holds water",
     [](auto& l) { return l.depletion_l; }},
    {"refill_at_l", litres, 4, "refill threshold of the day",
     [](auto& l) { return l.refill_at_l; }},
    {"ks", number, 3, "transpired over potential (FAO-56 eq. 84)", [](auto& l) { return l.ks; }},
    {"stressed_at", "clock time at which growth slows; empty if not reached",
     [](auto& l) { return clock_text(l.stressed_at_h); }},
    {"dry_at", "clock time at which the dry line is passed; empty if not reached",
     [](auto& l) { return clock_text(l.dry_at_h); }},
};

/// What else it called for.
inline constexpr Column<CareDays> ledger_care_columns[]{
    {"care",
     "what else the day calls for, joined by +: feed, frost, too-warm, poor-fruit-set, "
     "blossom-end-rot, hot-roots, sheds-water, finger-only, root-only; - if nothing",
     [](const CareDays& care) { return care_text(care); }},
};

}  // namespace wiltline::tables
