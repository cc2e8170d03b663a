// Columns of pots left alone on past trips.
#pragma once

#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/questions/trip_help.hpp"
#include "wiltline/tables/planting_columns.hpp"

namespace wiltline::tables {

/// What became of a pot on past trips.
inline constexpr Column<AbsencePot> absence_columns[]{
    {"mix_l", litres, 2, "mix in the pot", [](auto& pot) { return pot.mix_l; }},
    {"windows", "past trips (windows): all that fit into the record and the planting's life",
     [](auto& pot) { return pot.windows; }},
    {"passed", "trips survived: those on which the pot never went beyond the line",
     [](auto& pot) { return pot.passed; }},
    {"share", number, 3, "passed over windows; empty if there are none",
     [](auto& pot) { return pot.share(); }}};

/// Appended: its summers.
inline constexpr Column<AbsencePot> absence_more_columns[]{
    {"summers", "plantings, one a year and record, that had a trip",
     [](auto& pot) { return pot.summers; }},
    {"first_failed", "day of leaving of the first trip not survived; empty if none", [](auto& pot) {
       return pot.failed.empty() ? std::nullopt : std::optional(pot.failed.front());
     }}};

/// What would help it.
inline constexpr Column<PotHelp> absence_help_columns[]{
    {"helper_visits",
     "fewest visits of a helper, spread evenly, with which the share asked is reached; empty if "
     "not even daily ones do, or if a helper was given",
     [](auto& help) { return help.visits; }},
    {"enough_grouped_in_shade",
     "yes if it is reached without a helper in light shade, pots and crowns rim to rim",
     [](auto& help) { return help.passes_grouped_in_shade; }},
};

/// A pot over all draws.
inline constexpr Column<AbsenceSpread> absence_spread_columns[]{
    {"share_p10", number, 3, "share of trips survived: a tenth of the draws have no more",
     [](auto& s) { return s.share.p10; }},
    {"share_p90", number, 3, "nine tenths have no more", [](auto& s) { return s.share.p90; }},
    {"enough_share", number, 3, "share of draws in which the share asked is reached",
     [](auto& s) { return s.enough_share; }},
    moves_most<AbsenceSpread>(
        "the input that moves the share of trips most; empty if none stands out"),
    rank_correlation<AbsenceSpread>(),
};

}  // namespace wiltline::tables
