// Columns of the coming days: what comes of each pot, and the visits planned.
#pragma once

#include "wiltline/questions/plan.hpp"
#include "wiltline/tables/planting_columns.hpp"

namespace wiltline::tables {

/// A part of what it takes at its next visit; empty if that is not known.
[[nodiscard]] inline std::optional<double> at_visit(const PlantingForecast& pot,
                                                    double Spread::*share) {
  return pot.give_at_visit_l ? std::optional((*pot.give_at_visit_l).*share) : std::nullopt;
}

/// What comes of a pot.
inline constexpr Column<PlantingForecast> forecast_columns[]{
    {"depletion_l", litres, 3, "root-zone depletion now; below zero: a saucer holds water",
     [](auto& pot) { return pot.depletion_l; }},
    {"refill_at_l", litres, 3, "refill threshold: depletion at which to water",
     [](auto& pot) { return pot.refill_at_l; }},
    {"refill_p10",
     "time at which the threshold is reached if nobody waters, earliest tenth of the "
     "futures; empty if not within the horizon",
     [](auto& pot) { return pot.refill.p10; }},
    {"refill_p50", "the same, median", [](auto& pot) { return pot.refill.p50; }},
    {"refill_p90", "the same, nine tenths", [](auto& pot) { return pot.refill.p90; }},
    {"dry_p10", "time at which the pot goes dry if nobody waters, earliest tenth",
     [](auto& pot) { return pot.dry.p10; }},
    {"dry_p50", "the same, median", [](auto& pot) { return pot.dry.p50; }},
    {"dry_p90", "the same, nine tenths", [](auto& pot) { return pot.dry.p90; }},
    {"next_visit",
     "next visit of the routine, at the very minute of now too unless the log has it; empty if "
     "none",
     [](auto& pot) { return pot.next_visit; }},
    {"dry_before_visit",
     "yes if by the median it is dry now or goes dry before that (as needed: before water_at), "
     "else no; empty if not known",
     [](auto& pot) { return pot.dry_before_visit; }},
    {"give_now_l", litres, 2, "what it takes now, until it drains",
     [](auto& pot) { return pot.give_now_l; }},
    {"feed_due", "yes if soluble feed is due today", [](auto& pot) { return pot.feed_due; }}};

/// What makes it unsure.
inline constexpr Column<PlantingForecast> forecast_unsure_columns[]{
    moves_most<PlantingForecast>(
        "the input that moves the time of the threshold most; empty if none stands out"),
    rank_correlation<PlantingForecast>(
        "rank correlation of the two; below zero: more of it means sooner"),
};

/// What it takes at a visit.
inline constexpr Column<PlantingForecast> forecast_visit_columns[]{
    {"give_at_visit_l", litres, 2,
     "what it takes at the next visit, until it drains, if nobody waters before, median of the "
     "futures; watered as needed: at water_at; empty if that is not within the horizon",
     [](auto& pot) { return at_visit(pot, &Spread::p50); }},
    {"give_at_visit_l_p10", litres, 2, "the same, a tenth of the futures need no more",
     [](auto& pot) { return at_visit(pot, &Spread::p10); }},
    {"give_at_visit_l_p90", litres, 2, "nine tenths need no more",
     [](auto& pot) { return at_visit(pot, &Spread::p90); }},
    {"water_at",
     "when to water it, by the median: the last visit before the threshold is reached, the next "
     "visit if none comes before that; empty if not within the horizon or nobody comes",
     [](auto& pot) { return pot.water_at; }},
};

/// A part of what was learned of the plants' use; empty without readings.
[[nodiscard]] inline std::optional<double> learned_use(const PlantingForecast& pot,
                                                       double Ranged::*part) {
  return pot.update ? std::optional(pot.update->use.*part) : std::nullopt;
}
/// Times of the readings that were left out, separated by spaces.
[[nodiscard]] std::string left_out(const PlantingForecast& pot);

/// What readings say of it.
inline constexpr Column<PlantingForecast> forecast_learned_columns[]{
    {"readings", number, 0, "readings that the figures of the pot rest on; empty: none",
     [](auto& pot) {
       return pot.update ? std::optional(static_cast<double>(pot.update->readings_all))
                         : std::nullopt;
     }},
    {"use_factor", number, 3, "what the plants use by them, times what the tables say",
     [](auto& pot) { return learned_use(pot, &Ranged::value); }},
    {"use_factor_low", number, 3, "the same: 19 in 20 are higher",
     [](auto& pot) { return learned_use(pot, &Ranged::low); }},
    {"use_factor_high", number, 3, "19 in 20 are lower",
     [](auto& pot) { return learned_use(pot, &Ranged::high); }},
    {"use_factor_before", number, 3, "before the readings that are new",
     [](auto& pot) { return pot.update ? std::optional(pot.update->use_before) : std::nullopt; }},
    {"left_out", "times of readings that do not fit and were left out",
     [](auto& pot) { return left_out(pot); }},
};

/// Which visit a watering is of.
inline constexpr Column<PlannedWatering> plan_visit_columns[]{
    {"visit", "when somebody comes; as-needed pots: when it asks, by the median",
     [](auto& one) { return one.visit; }},
    {"by", "you or helper", [](auto& one) { return one.by_helper ? "helper" : "you"; }}};

/// What is given at it.
inline constexpr Column<PlannedWatering> plan_columns[]{
    {"give_l", litres, 2, "what the routine gives one pot, median of the futures",
     [](auto& one) { return one.give_l.p50; }},
    {"give_low_l", litres, 2, "a tenth of the futures need no more",
     [](auto& one) { return one.give_l.p10; }},
    {"give_high_l", litres, 2, "nine tenths need no more",
     [](auto& one) { return one.give_l.p90; }},
    {"lasts_to_next", "no if it is likelier than not to wilt before the next visit",
     [](auto& one) { return one.lasts_to_next(); }},
    {"feed", "yes if soluble feed is due", [](auto& one) { return one.feed_due; }}};

}  // namespace wiltline::tables
