#include "shared_columns.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using S = const SeasonSummary&;

constexpr Column<SeasonSummary> summary_list[]{
    {"mix_l", litres, 2, "mix in the pot", [](S s) { return s.mix_l; }},
    {"capacity_l", litres, 3, "refilled capacity: water after a good watering",
     [](S s) { return s.capacity_l; }},
    {"available_l", litres, 3, "total available water of the whole mix",
     [](S s) { return s.available_l; }},
    {"refill_at_l", litres, 3,
     "refill threshold: depletion at which to water, mean over mid-season",
     [](S s) { return s.refill_at_l; }},
    {"peak_use_l_day", litres, 3, "highest 7-day mean of potential use",
     [](S s) { return s.peak_use_l_day; }},
    {"waterings", count, 0, "times watered", [](S s) { return s.waterings; }},
    {"watered_l", litres, 2, "water given", [](S s) { return s.watered_l; }},
    {"rain_l", litres, 2, "rain caught", [](S s) { return s.rain_l; }},
    {"drained_l", litres, 2, "water drained away", [](S s) { return s.drained_l; }},
    {"used_l", litres, 2, "water transpired and evaporated", [](S s) { return s.used_l; }},
    {"stressed_days", count, 0, "days beyond readily available water at any instant, once settled",
     [](S s) { return s.stressed_days; }},
    {"wilting_days", count, 0, "days beyond the wilting line, once settled",
     [](S s) { return s.wilting_days; }},
    {"dry_days", count, 0, "days beyond the dry line, once settled",
     [](S s) { return s.dry_days; }},
    {"first_dry", text, 0, "first dry day, once settled; empty if none",
     [](S s) { return s.first_dry; }},
    {"longest_gap_days", days, 1, "longest time between waterings or rains that refilled the pot",
     [](S s) { return s.longest_gap_days; }},
};

constexpr Column<SeasonSummary> care_list[]{
    {"peak_use_full_size_l_day", litres, 3,
     "peak_use_l_day if the plant reached full size whatever the pot",
     [](S s) { return s.peak_use_full_size_l_day; }},
    {"waterings_week_peak", number, 1, "waterings a week in the four weeks around the peak",
     [](S s) { return s.waterings_week_peak; }},
    {"finger_only_days", count, 0,
     "mornings on which the top felt dry but the root zone was not at its threshold",
     [](S s) { return s.care.finger_only; }},
    {"root_only_days", count, 0,
     "mornings on which the root zone was at its threshold but the top felt moist",
     [](S s) { return s.care.root_only; }},
    {"frost_days", count, 0, "days colder than the crop bears", [](S s) { return s.care.frost; }},
    {"too_warm_days", count, 0, "days in a week warmer than the crop's heat limit",
     [](S s) { return s.care.too_warm; }},
    {"poor_fruit_set_days", count, 0, "days too hot or cold for its flowers to set",
     [](S s) { return s.care.poor_fruit_set; }},
    {"blossom_end_rot_days", count, 0, "days so dry while fruit grows that it may rot",
     [](S s) { return s.care.blossom_end_rot; }},
    {"hot_root_days", count, 0, "hot days of a dark pot in full sun: a caution only",
     [](S s) { return s.care.hot_roots; }},
    {"sheds_water_days", count, 0, "days on which dry mix let water through: soak twice",
     [](S s) { return s.care.sheds_water; }},
    {"feeds", count, 0, "times soluble feed was due", [](S s) { return s.care.feed; }},
    {"first_feed", text, 0, "day of the first feed; empty if none",
     [](S s) { return s.first_feed; }},
};

constexpr Column<SeasonSummary> settling_list[]{
    {"settled", text, 0,
     "day from which roots hold half of the mix: water daily until then; empty if the season ends "
     "before",
     [](S s) { return s.settling_in.settled; }},
    {"settling_stressed_days", count, 0,
     "days before that day beyond readily available water: counted apart",
     [](S s) { return s.settling_in.stressed_days; }},
    {"settling_wilting_days", count, 0, "the same beyond the wilting line",
     [](S s) { return s.settling_in.wilting_days; }},
    {"settling_dry_days", count, 0, "the same beyond the dry line",
     [](S s) { return s.settling_in.dry_days; }},
};

constexpr Column<WeatherRecord> weather_list[]{
    {"weather", text, 0, "weather record",
     [](const WeatherRecord& record) { return record.name(); }},
};

using E = const SeasonResult&;
constexpr Column<SeasonResult> end_list[]{
    {"last_day", text, 0, "last day of the account", [](E season) { return season.last; }},
    {"ended_by", text, 0, ended_by_meaning,
     [](E season) { return to_string(season.summary.ended_by); }},
    {"harvest", text, 0,
     "leaf: picked leaf by leaf and so kept smaller; whole: left to grow to full size",
     [](E season) { return season.planting->leaf_by_leaf ? "leaf" : "whole"; }},
};

}  // namespace

std::span<const Column<SeasonSummary>> summary_columns() {
  return summary_list;
}
std::span<const Column<SeasonSummary>> care_columns() {
  return care_list;
}
std::span<const Column<SeasonResult>> end_columns() {
  return end_list;
}
std::span<const Column<SeasonSummary>> settling_columns() {
  return settling_list;
}
std::span<const Column<WeatherRecord>> weather_columns() {
  return weather_list;
}

std::optional<std::string> clock_text(const std::optional<double>& hour) {
  return hour ? std::optional(clock_string(*hour)) : std::nullopt;
}

std::optional<std::string> name_of(const std::optional<Influence>& influence) {
  return influence ? std::optional(influence->name) : std::nullopt;
}

std::optional<double> correlation_of(const std::optional<Influence>& influence) {
  return influence ? std::optional(influence->correlation) : std::nullopt;
}

}  // namespace wiltline::cli
