// Columns of a choice among pots.
#pragma once

#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/tables/planting_columns.hpp"

namespace wiltline::tables {

/// What a choice comes to.
inline constexpr Column<ComparedChoice> choice_columns[]{
    {"mix_l", litres, 2, "mix in the pot", [](auto& choice) { return choice.worst.summary.mix_l; }},
    {"available_l", litres, 3, "total available water of the whole mix",
     [](auto& choice) { return choice.worst.summary.available_l; }},
    {"peak_use_l_day", litres, 3, "potential use a day, highest 7-day mean; highest of the summers",
     [](auto& choice) { return choice.peak_use_l_day; }},
    {"waterings_week_peak", number, 1,
     "waterings a week in the four weeks around the peak; highest of the summers",
     [](auto& choice) { return choice.waterings_week_peak; }},
    {"longest_safe_gap_days", days, 2,
     "shortest time from watered until it drains, at the routine's first hour (07:00 if "
     "as needed), to the wilting line, of all starts in the four weeks around the peak of "
     "every summer, as if no rain fell; empty if no start gets there in its season",
     [](auto& choice) { return choice.longest_safe_gap_days; }},
    {"watered_l", litres, 2, "water given in a summer; mean of the summers",
     [](auto& choice) { return choice.watered_l; }},
    {"stressed_days",
     "days beyond readily available water in the worst summer (most dry days, then most "
     "wilting, then most stressed)",
     [](auto& choice) { return choice.worst.summary.stressed_days; }},
    {"wilting_days", "days beyond the wilting line in that summer",
     [](auto& choice) { return choice.worst.summary.wilting_days; }},
    {"dry_days", "days beyond the dry line in that summer",
     [](auto& choice) { return choice.worst.summary.dry_days; }},
    {"enough", "yes if the routine leaves no wilting day in any summer once settled; else no",
     [](auto& choice) { return choice.enough(); }}};

/// Appended: its longest gap and its summers.
inline constexpr Column<ComparedChoice> choice_more_columns[]{
    {"longest_gap_days", days, 1,
     "longest time between waterings or rains that refilled the pot; longest of the summers",
     [](auto& choice) { return choice.longest_gap_days; }},
    {"routine", "the routine it is judged by",
     [](auto& choice) { return choice.planting->routine.text; }},
    {"summers", "plantings run, one a year and record",
     [](auto& choice) { return choice.summers; }},
    {"summers_above_wilting", "those without a wilting day",
     [](auto& choice) { return choice.summers_above_wilting; }},
    {"worst_planted", "planting day of the worst summer",
     [](auto& choice) { return choice.worst.first; }},
    {"worst_weather", "weather record of the worst summer",
     [](auto& choice) { return choice.worst_record->name(); }},
    {"first_wilting", "first wilting day of the worst summer; empty if none",
     [](auto& choice) { return choice.first_wilting; }},
    {"wilting_days_rooted",
     "most wilting days in a summer from the day on which roots have filled the pot",
     [](auto& choice) { return choice.wilting_days_rooted; }}};

/// The end of the worst summer.
inline constexpr Column<ComparedChoice> choice_end_columns[]{
    {"worst_last_day", "last day of the worst summer",
     [](auto& choice) { return choice.worst.last; }},
    {"worst_ended_by", ended_by_meaning,
     [](auto& choice) { return to_string(choice.worst.summary.ended_by); }},
};

/// The first weeks, counted apart.
inline constexpr Column<ComparedChoice> choice_settling_columns[]{
    {"settled",
     "day from which roots hold half of the mix, latest of the summers: water daily until then; "
     "empty if a season ends before",
     [](auto& choice) { return choice.settled; }},
    {"settling_wilting_days",
     "most wilting days in a summer before that day: counted apart, never why it is not enough",
     [](auto& choice) { return choice.wilting_days_settling; }},
};

/// A choice over all draws.
inline constexpr Column<ChoiceSpread> choice_spread_columns[]{
    {"watered_l_p10", litres, 2, "water given in a summer: a tenth of the draws need no more",
     [](auto& s) { return s.watered_l.p10; }},
    {"watered_l_p90", litres, 2, "nine tenths need no more",
     [](auto& s) { return s.watered_l.p90; }},
    {"wilting_days_p10", count, 0, "days beyond the wilting line in the worst summer, likewise",
     [](auto& s) { return s.wilting_days.p10; }},
    {"wilting_days_p90", count, 0, "the same, nine tenths",
     [](auto& s) { return s.wilting_days.p90; }},
    {"enough_share", number, 3, "share of draws in which no summer has a wilting day",
     [](auto& s) { return s.enough_share; }},
    moves_most<ChoiceSpread>(season_moves_most),
    rank_correlation<ChoiceSpread>(),
};

}  // namespace wiltline::tables
