#include "columns.hpp"

#include <array>

#include "wiltline/base/units.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;

constexpr std::array et0_table{
    Column{"date", text, 0, "day"},
    Column{"et0_mm", water_depth_mm, 2, "reference evapotranspiration, FAO-56 eq. 6"},
    Column{"estimated", text, 0, "what was not measured, joined by +; - if everything was"},
};

constexpr std::array et0_steps_table{
    Column{"pressure_kpa", pressure_kpa, 2, "air pressure (eq. 7)"},
    Column{"gamma_kpa_c", number, 5, "psychrometric constant, kPa/°C (eq. 8)"},
    Column{"es_kpa", pressure_kpa, 3, "mean saturation vapour pressure (eq. 12)"},
    Column{"vapour_pressure_kpa", pressure_kpa, 3, "actual vapour pressure (eq. 14-19, 48)"},
    Column{"slope_kpa_c", number, 4, "slope of the saturation curve, kPa/°C (eq. 13)"},
    Column{"ra_mj_m2", radiation_mj_m2, 2, "extraterrestrial radiation (eq. 21)"},
    Column{"daylight_h", hours, 2, "daylight hours (eq. 34)"},
    Column{"rso_mj_m2", radiation_mj_m2, 2, "clear-sky radiation (eq. 37)"},
    Column{"rs_mj_m2", radiation_mj_m2, 2, "solar radiation (measured, eq. 35 or 50)"},
    Column{"rns_mj_m2", radiation_mj_m2, 2, "net short-wave radiation (eq. 38)"},
    Column{"rnl_mj_m2", radiation_mj_m2, 2, "net outgoing long-wave radiation (eq. 39)"},
    Column{"rn_mj_m2", radiation_mj_m2, 2, "net radiation (eq. 40)"},
    Column{"wind_2m_m_s", wind_m_s, 2, "wind at 2 m (eq. 47)"},
    Column{"et_radiation_mm", water_depth_mm, 3, "radiation term of eq. 6"},
    Column{"et_air_mm", water_depth_mm, 3, "aerodynamic term of eq. 6"},
};

constexpr std::array season_table{
    Column{"name", text, 0, "planting"},
    Column{"crop", text, 0, "crop"},
    Column{"pot", text, 0, "pot"},
    Column{"mix_l", litres, 2, "mix in the pot"},
    Column{"capacity_l", litres, 3, "refilled capacity: water after a good watering"},
    Column{"available_l", litres, 3, "total available water of the whole mix"},
    Column{"refill_at_l", litres, 3,
           "refill threshold: depletion at which to water, mean over mid-season"},
    Column{"peak_use_l_day", litres, 3, "highest 7-day mean of potential use"},
    Column{"waterings", count, 0, "times watered"},
    Column{"watered_l", litres, 2, "water given"},
    Column{"rain_l", litres, 2, "rain caught"},
    Column{"drained_l", litres, 2, "water drained away"},
    Column{"used_l", litres, 2, "water transpired and evaporated"},
    Column{"stressed_days", count, 0,
           "days beyond readily available water at any instant, once settled"},
    Column{"wilting_days", count, 0, "days beyond the wilting line, once settled"},
    Column{"dry_days", count, 0, "days beyond the dry line, once settled"},
    Column{"first_dry", text, 0, "first dry day, once settled; empty if none"},
    Column{"longest_gap_days", days, 1,
           "longest time between waterings or rains that refilled the pot"},
};

constexpr std::array season_settling_table{
    Column{"settled", text, 0,
           "day from which roots hold half of the mix: water daily until then; empty if the season "
           "ends before"},
    Column{"settling_stressed_days", count, 0,
           "days before that day beyond readily available water: counted apart"},
    Column{"settling_wilting_days", count, 0, "the same beyond the wilting line"},
    Column{"settling_dry_days", count, 0, "the same beyond the dry line"},
};

constexpr std::array season_care_table{
    Column{"peak_use_full_size_l_day", litres, 3,
           "peak_use_l_day if the plant reached full size whatever the pot"},
    Column{"waterings_week_peak", number, 1, "waterings a week in the four weeks around the peak"},
    Column{"finger_only_days", count, 0,
           "mornings on which the top felt dry but the root zone was not at its threshold"},
    Column{"root_only_days", count, 0,
           "mornings on which the root zone was at its threshold but the top felt moist"},
    Column{"frost_days", count, 0, "days colder than the crop bears"},
    Column{"too_warm_days", count, 0, "days in a week warmer than the crop's heat limit"},
    Column{"poor_fruit_set_days", count, 0, "days too hot or cold for its flowers to set"},
    Column{"blossom_end_rot_days", count, 0, "days so dry while fruit grows that it may rot"},
    Column{"hot_root_days", count, 0, "hot days of a dark pot in full sun: a caution only"},
    Column{"sheds_water_days", count, 0, "days on which dry mix let water through: soak twice"},
    Column{"feeds", count, 0, "times soluble feed was due"},
    Column{"first_feed", text, 0, "day of the first feed; empty if none"},
};

constexpr std::array ledger_care_table{
    Column{"care", text, 0,
           "what else the day calls for, joined by +: feed, frost, too-warm, poor-fruit-set, "
           "blossom-end-rot, hot-roots, sheds-water, finger-only, root-only; - if nothing"},
};

constexpr std::array ledger_table{
    Column{"name", text, 0, "planting"},
    Column{"date", text, 0, "day"},
    Column{"et0_mm", water_depth_mm, 2, "reference evapotranspiration of the open site"},
    Column{"canopy_m2", area_m2, 4, "plan area of all plants of the pot"},
    Column{"demand_l", litres, 4, "potential transpiration"},
    Column{"transpired_l", litres, 4, "transpired"},
    Column{"evaporated_l", litres, 4, "evaporated from top and wall"},
    Column{"rain_l", litres, 4, "rain caught"},
    Column{"watered_l", litres, 4, "water given"},
    Column{"drained_l", litres, 4, "drained away"},
    Column{"store_l", litres, 4, "all water in the planting at the day's end"},
    Column{"depletion_l", litres, 4,
           "root-zone depletion at the day's end; below zero while a saucer holds water"},
    Column{"refill_at_l", litres, 4, "refill threshold of the day"},
    Column{"ks", number, 3, "transpired over potential (FAO-56 eq. 84)"},
    Column{"stressed_at", text, 0, "clock time at which growth slows; empty if not reached"},
    Column{"dry_at", text, 0, "clock time at which the dry line is passed; empty if not reached"},
};

constexpr std::array capacity_table{
    Column{"pot", text, 0, "pot, or shape given"},
    Column{"mix", text, 0, "mix"},
    Column{"mix_l", litres, 2, "mix in the pot"},
    Column{"height_cm", length_cm, 1, "height of the mix"},
    Column{"capacity_l", litres, 3, "refilled capacity: water after a good watering"},
    Column{"capacity_m3_m3", volume_share, 4, "container capacity as a laboratory states it"},
    Column{"air_m3_m3", volume_share, 4, "air left at container capacity"},
    Column{"lower_limit_m3_m3", volume_share, 4, "water content at which a plant can draw no more"},
    Column{"available_l", litres, 3, "refilled capacity down to the lower limit"},
    Column{"readily_available_l", litres, 3, "the part a plant takes before growth slows"},
    Column{"available_low_l", litres, 3, "available_l if the materials plausibly hold least"},
    Column{"available_high_l", litres, 3, "and most"},
};

constexpr std::array season_remedies_table{
    Column{"remedy", text, 0,
           "smallest single change that leaves no wilting or dry day in any season here; empty if "
           "none does or none is needed"},
    Column{
        "remedies", text, 0,
        "changes that help, joined by ;, with wilting days of all seasons here before and after"},
};

constexpr std::array absence_table{
    Column{"crop", text, 0, "crop"},
    Column{"pot", text, 0, "pot"},
    Column{"mix_l", litres, 2, "mix in the pot"},
    Column{"windows", count, 0, "windows in the record and in the planting's life"},
    Column{"passed", count, 0, "windows in which the pot never went beyond the line"},
    Column{"share", number, 3, "passed over windows; empty without windows"},
    Column{"smallest", text, 0,
           "yes on the pot of least mix whose share is at least that asked; else empty"},
};

constexpr std::array absence_more_table{
    Column{"name", text, 0, "planting of the garden; empty without one"},
    Column{"own", text, 0, "yes if it is that planting's own pot; else empty"},
    Column{"mix", text, 0, "mix"},
    Column{"plants", count, 0, "plants in the pot"},
    Column{"spot", text, 0, "where it stands"},
    Column{"summers", count, 0, "plantings, one a year and record, that had a window"},
    Column{"first_failed", text, 0, "day of leaving of the first window not passed; empty if none"},
};

constexpr std::array compare_table{
    Column{"crop", text, 0, "crop"},
    Column{"plants", count, 0, "plants in the pot"},
    Column{"pot", text, 0, "pot"},
    Column{"mix", text, 0, "mix"},
    Column{"wall", text, 0, "the pot's wall"},
    Column{"spot", text, 0, "where it stands"},
    Column{"mix_l", litres, 2, "mix in the pot"},
    Column{"available_l", litres, 3, "total available water of the whole mix"},
    Column{"peak_use_l_day", litres, 3,
           "highest 7-day mean of potential use; highest of the summers"},
    Column{"waterings_week_peak", number, 1,
           "waterings a week in the four weeks around the peak; highest of the summers"},
    Column{"longest_safe_gap_days", days, 2,
           "shortest time from watered until it drains, at the routine's first hour (07:00 if "
           "as needed), to the wilting line, of all starts in the four weeks around the peak of "
           "every summer, as if no rain fell; empty if no start gets there in its season"},
    Column{"watered_l", litres, 2, "water given in a summer; mean of the summers"},
    Column{"stressed_days", count, 0,
           "days beyond readily available water in the worst summer (most dry days, then most "
           "wilting, then most stressed)"},
    Column{"wilting_days", count, 0, "days beyond the wilting line in that summer"},
    Column{"dry_days", count, 0, "days beyond the dry line in that summer"},
    Column{"enough", text, 0, "yes if the routine leaves no wilting day in any summer; else no"},
};

constexpr std::array compare_more_table{
    Column{"longest_gap_days", days, 1,
           "longest time between waterings or rains that refilled the pot; longest of the summers"},
    Column{"routine", text, 0, "the routine it is judged by"},
    Column{"summers", count, 0, "plantings run, one a year and record"},
    Column{"summers_above_wilting", count, 0, "those without a wilting day"},
    Column{"worst_planted", text, 0, "planting day of the worst summer"},
    Column{"worst_weather", text, 0, "weather record of the worst summer"},
    Column{"first_wilting", text, 0, "first wilting day of the worst summer; empty if none"},
    Column{"wilting_days_rooted", count, 0,
           "most wilting days in a summer from the day on which roots have filled the pot"},
    Column{"reason", text, 0, "why it is enough or not, in words"},
    Column{"name", text, 0, "planting of the garden; empty without one"},
};

constexpr std::array compare_settling_table{
    Column{"settled", text, 0,
           "day from which roots hold half of the mix, latest of the summers: water daily until "
           "then; empty if a season ends before"},
    Column{"settling_wilting_days", count, 0,
           "most wilting days in a summer before that day: counted apart, never why it is not "
           "enough"},
};

constexpr std::array heatwave_table{
    Column{"name", text, 0, "planting, or crop"},
    Column{"pot", text, 0, "pot"},
    Column{"first_day", text, 0, "first day of the spell"},
    Column{"days", count, 0, "days of the spell"},
    Column{"mean_tmax_c", temperature_c, 1, "mean highest temperature of the spell"},
    Column{"mean_et0_mm", water_depth_mm, 2,
           "mean reference evapotranspiration of the open site in the spell"},
    Column{"peak_use_l_day", litres, 3, "potential use on the spell's thirstiest day"},
    Column{"waterings_per_day", number, 2,
           "waterings a day, mean over the spell, if watered the moment the refill threshold is "
           "reached, from full at 00:00 of the first day and without rain"},
    Column{"refill_at", text, 0,
           "clock time at which the pot, watered until it drains at 07:00, reaches its refill "
           "threshold on the day of the spell on which that is soonest; times before 07:00 are of "
           "the night after; empty if it lasts to the next 07:00, on the last day to its end"},
    Column{"once_a_day_enough", text, 0,
           "yes if watering at 07:00 until it drains leaves no wilting day in the spell; else no"},
    Column{"twice_a_day_enough", text, 0, "the same with 07:00 and 19:00"},
};

constexpr std::array heatwave_more_table{
    Column{"crop", text, 0, "crop"},
    Column{"plants", count, 0, "plants in the pot"},
    Column{"mix", text, 0, "mix"},
    Column{"wall", text, 0, "the pot's wall"},
    Column{"spot", text, 0, "where it stands"},
    Column{"planted", text, 0, "day it was planted; empty if taken as full-grown"},
    Column{"most_waterings_a_day", count, 0, "most as-needed waterings on a day of the spell"},
    Column{"refill_on", text, 0, "day of the spell to which refill_at belongs; empty if none"},
    Column{"once_stressed_days", count, 0,
           "days beyond readily available water with watering at 07:00"},
    Column{"once_wilting_days", count, 0, "days beyond the wilting line with it"},
    Column{"twice_stressed_days", count, 0,
           "days beyond readily available water with watering at 07:00 and 19:00"},
    Column{"twice_wilting_days", count, 0, "days beyond the wilting line with it"},
};

constexpr std::array sweep_key_table{
    Column{"weather", text, 0, "weather record: its file in the folder"},
    Column{"crop", text, 0, "crop"},
    Column{"pot", text, 0, "pot"},
    Column{"mix", text, 0, "mix"},
    Column{"spot", text, 0, "spot"},
    Column{"plants", count, 0, "plants in the pot"},
    Column{"draw", count, 0, "parameter draw; 0: central values"},
    Column{"planted", text, 0, "day of planting"},
};

constexpr std::array sweep_record_table{
    Column{"days", count, 0, "days of the account"},
    Column{"cut_by_record", text, 0, "yes: the weather ended before the crop did; else no"},
    Column{"estimated", text, 0,
           "days of the whole record on which something was not measured, as wind:1461, joined by "
           "+: humidity, radiation, wind, day (temperatures filled in), rain (taken as none); - if "
           "all was"},
};

constexpr Column moves_season_most{
    "moves_most", text, 0,
    "the input that moves the wilting days most or, if none stands out there, the water given"};
constexpr Column rank_correlation{"moves_most_rank_correlation", number, 2,
                                  "rank correlation of the two"};

constexpr std::array season_spread_table{
    Column{"watered_l_p10", litres, 2, "water given: a tenth of the draws need no more"},
    Column{"watered_l_p90", litres, 2, "nine tenths need no more"},
    Column{"wilting_days_p10", count, 0, "days beyond the wilting line, likewise"},
    Column{"wilting_days_p90", count, 0, "the same, nine tenths"},
    Column{"dry_days_p10", count, 0, "days beyond the dry line, likewise"},
    Column{"dry_days_p90", count, 0, "the same, nine tenths"},
    Column{"unwilted_share", number, 3, "share of draws without a wilting day"},
    moves_season_most,
    rank_correlation,
};

constexpr std::array choice_spread_table{
    Column{"watered_l_p10", litres, 2,
           "water given in a summer: a tenth of the draws need no more"},
    Column{"watered_l_p90", litres, 2, "nine tenths need no more"},
    Column{"wilting_days_p10", count, 0,
           "days beyond the wilting line in the worst summer, likewise"},
    Column{"wilting_days_p90", count, 0, "the same, nine tenths"},
    Column{"enough_share", number, 3, "share of draws in which no summer has a wilting day"},
    moves_season_most,
    rank_correlation,
};

constexpr std::array absence_spread_table{
    Column{"share_p10", number, 3, "share of windows passed: a tenth of the draws have no more"},
    Column{"share_p90", number, 3, "nine tenths have no more"},
    Column{"enough_share", number, 3, "share of draws in which the share asked is reached"},
    Column{"moves_most", text, 0,
           "the input that moves the share of windows most; empty if none stands out"},
    rank_correlation,
};

constexpr std::array heatwave_spread_table{
    Column{"peak_use_l_day_p10", litres, 3,
           "potential use on the thirstiest day: a tenth of the draws need no more"},
    Column{"peak_use_l_day_p90", litres, 3, "nine tenths need no more"},
    Column{"waterings_per_day_p10", number, 2, "waterings a day as needed, likewise"},
    Column{"waterings_per_day_p90", number, 2, "the same, nine tenths"},
    Column{"once_a_day_share", number, 3, "share of draws in which 07:00 is enough"},
    Column{"twice_a_day_share", number, 3, "share of draws in which 07:00 and 19:00 are"},
    Column{"moves_most", text, 0,
           "the input that moves the peak use most; empty if none stands out"},
    rank_correlation,
};

constexpr std::array forecast_table{
    Column{"name", text, 0, "planting"},
    Column{"pot", text, 0, "pot"},
    Column{"depletion_l", litres, 3, "root-zone depletion now; below zero: a saucer holds water"},
    Column{"refill_at_l", litres, 3, "refill threshold: depletion at which to water"},
    Column{"refill_p10", text, 0,
           "time at which the threshold is reached if nobody waters, earliest tenth of the "
           "futures; empty if not within the horizon"},
    Column{"refill_p50", text, 0, "the same, median"},
    Column{"refill_p90", text, 0, "the same, nine tenths"},
    Column{"dry_p10", text, 0, "time at which the pot goes dry if nobody waters, earliest tenth"},
    Column{"dry_p50", text, 0, "the same, median"},
    Column{"dry_p90", text, 0, "the same, nine tenths"},
    Column{"next_visit", text, 0, "next visit of the routine after now; empty if there is none"},
    Column{"dry_before_visit", text, 0,
           "yes if by the median it goes dry before that, else no; empty if not known"},
    Column{"give_now_l", litres, 2, "what it takes now, until it drains"},
    Column{"feed_due", text, 0, "yes if soluble feed is due today"},
};

constexpr std::array forecast_uncertain_table{
    Column{"moves_most", text, 0,
           "the input that moves the time of the threshold most; empty if none stands out"},
    Column{"moves_most_rank_correlation", number, 2,
           "rank correlation of the two; below zero: more of it means sooner"},
};

constexpr Column year{"year", count, 0, "year of planting"};
constexpr Column weather{"weather", text, 0, "weather record"};

}  // namespace

std::string_view unit_text(Quantity quantity, bool us) {
  switch (quantity) {
    case litres:
      return us ? "gal" : "L";
    case water_depth_mm:
      return us ? "in" : "mm";
    case length_cm:
      return us ? "in" : "cm";
    case area_m2:
      return us ? "ft2" : "m2";
    case temperature_c:
      return us ? "°F" : "°C";
    case pressure_kpa:
      return "kPa";
    case radiation_mj_m2:
      return "MJ/m2";
    case wind_m_s:
      return us ? "mph" : "m/s";
    case hours:
      return "h";
    case days:
      return "days";
    case percent:
      return "%";
    case text:
    case count:
    case number:
    case volume_share:
      break;
  }
  return "";
}

double in_units(Quantity quantity, double value, bool us) {
  if (!us) return value;
  constexpr double ft2_per_m2 = 1.0 / (units::m_per_foot * units::m_per_foot);
  switch (quantity) {
    case litres:
      return value / units::litres_per_us_gallon;
    case water_depth_mm:
      return value / units::mm_per_inch;
    case length_cm:
      return value / units::cm_per_inch;
    case area_m2:
      return value * ft2_per_m2;
    case temperature_c:
      return units::fahrenheit_from_celsius(value);
    case wind_m_s:
      return value / units::m_s_per_mph;
    default:
      return value;
  }
}

std::span<const Column> et0_columns() {
  return et0_table;
}
std::span<const Column> et0_step_columns() {
  return et0_steps_table;
}
std::span<const Column> season_columns() {
  return season_table;
}
std::span<const Column> ledger_columns() {
  return ledger_table;
}
std::span<const Column> capacity_columns() {
  return capacity_table;
}
std::span<const Column> season_settling_columns() {
  return season_settling_table;
}
std::span<const Column> compare_settling_columns() {
  return compare_settling_table;
}
std::span<const Column> season_care_columns() {
  return season_care_table;
}
std::span<const Column> ledger_care_columns() {
  return ledger_care_table;
}
std::span<const Column> season_remedy_columns() {
  return season_remedies_table;
}
std::span<const Column> absence_columns() {
  return absence_table;
}
std::span<const Column> absence_more_columns() {
  return absence_more_table;
}
std::span<const Column> compare_columns() {
  return compare_table;
}
std::span<const Column> compare_more_columns() {
  return compare_more_table;
}
std::span<const Column> heatwave_columns() {
  return heatwave_table;
}
std::span<const Column> heatwave_more_columns() {
  return heatwave_more_table;
}
std::span<const Column> sweep_key_columns() {
  return sweep_key_table;
}
std::span<const Column> sweep_record_columns() {
  return sweep_record_table;
}
std::span<const Column> season_spread_columns() {
  return season_spread_table;
}
std::span<const Column> choice_spread_columns() {
  return choice_spread_table;
}
std::span<const Column> absence_spread_columns() {
  return absence_spread_table;
}
std::span<const Column> heatwave_spread_columns() {
  return heatwave_spread_table;
}
std::span<const Column> forecast_columns() {
  return forecast_table;
}
std::span<const Column> forecast_uncertain_columns() {
  return forecast_uncertain_table;
}
const Column& year_column() {
  return year;
}
const Column& weather_column() {
  return weather;
}

}  // namespace wiltline::cli
