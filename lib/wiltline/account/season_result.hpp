// What the account of one planting comes to: its ledger, day by day, and its sums.
#pragma once

#include <optional>
#include <vector>

#include "wiltline/account/course.hpp"

namespace wiltline {

/// What days call for besides water: on how many of them.
struct CareDays {
  int feed = 0;             // soluble feed due
  int frost = 0;            // colder than the crop survives
  int too_warm = 0;         // the week is above the crop's heat limit
  int poor_fruit_set = 0;   // too hot or too cold for flowers to set
  int blossom_end_rot = 0;  // so dry while fruit grows that it may rot at its end
  int hot_roots = 0;        // dark pot in full sun on a hot day: a caution, never extra use
  int sheds_water = 0;      // mix so dry that it let water through: soak, wait, soak again
  int finger_only = 0;      // morning: the top felt dry, the root zone was not at its threshold
  int root_only = 0;        // morning: the other way round

  /// Of the days that `before` did not count yet.
  [[nodiscard]] CareDays since(const CareDays& before) const;
  bool operator==(const CareDays&) const = default;
};

/// What the plant still finds in the mix that roots hold, at an instant.
struct WaterLeft {
  double hour = 0.0;             // clock (or solar)
  double litres = 0.0;           // counted up from none; above TAW while a saucer holds water
  std::optional<Line> beyond{};  // the worst of stressed, wilting and dry; empty above them
  bool crossing = false;         // the very instant at which that line is passed
  double poured_l = 0.0;         // just before; the entry before it is the same instant unwatered
};

/// One line of the account. Litres; in - out = change in store.
struct LedgerLine {
  Date date;
  double et0_mm = 0.0;     // of the open site
  double canopy_m2 = 0.0;  // plan area of all plants of the pot
  double potential_transpiration_l = 0.0;
  double transpired_l = 0.0;
  double evaporated_l = 0.0;
  double rain_l = 0.0;
  int waterings = 0;
  double watered_l = 0.0;
  double drained_l = 0.0;
  double store_l = 0.0;                 // at the day's end: all water in the planting
  double depletion_l = 0.0;             // at the day's end, of the rooted mix
  double refill_at_l = 0.0;             // the day's threshold
  double ks = 1.0;                      // transpired / potential
  std::optional<double> stressed_at_h;  // clock (or solar) hour; empty if not reached
  std::optional<double> wilting_at_h;
  std::optional<double> dry_at_h;
  bool settled = true;  // roots hold half of the mix (SettlingIn)
  CareDays care;        // of this day
  /// Every three hours from 00:00 on, after rain, and at every change; empty unless asked for.
  std::vector<WaterLeft> left;
};

/// The first weeks, until roots hold half of the mix (settled_share): counted apart.
struct SettlingIn {
  int days = 0;
  int stressed_days = 0;
  int wilting_days = 0;
  int dry_days = 0;
  std::optional<Date> settled;  // the first day after it; empty: not before the season ends

  bool operator==(const SettlingIn&) const = default;
};

/// The account of one planting in one season. Litres are of one pot (Planting::count is for the
/// reader).
struct SeasonSummary {
  double mix_l = 0.0;
  double capacity_l = 0.0;         // refilled capacity
  double available_l = 0.0;        // total available water of the whole mix
  double refill_at_l = 0.0;        // mean threshold over mid-season
  bool reached_mid_season = true;  // if not, refill_at_l is the mean of the last seven days
  double peak_use_l_day = 0.0;     // highest 7-day mean of potential use
  Date peak_ends{};                // last of those days
  int waterings = 0;
  double waterings_week_peak = 0.0;  // in the 28 days (or all) around the peak
  double watered_l = 0.0;
  double rain_l = 0.0;
  double drained_l = 0.0;
  double used_l = 0.0;  // transpired + evaporated
  int days = 0;
  // Once the planting has settled in.
  int stressed_days = 0;
  int wilting_days = 0;
  int dry_days = 0;
  std::optional<Date> first_dry;
  SettlingIn settling_in;
  double longest_gap_days = 0.0;  // between refills that bring depletion below a tenth of TAW
  double peak_use_full_size_l_day = 0.0;  // the same if the plant reached full size
  CareDays care;
  std::optional<Date> first_feed;
  EndedBy ended_by = EndedBy::record;  // its last day
  double litres_per_plant = 0.0;
  double size_factor = 1.0;

  bool operator==(const SeasonSummary&) const = default;
};

/// A season of one planting, `first` and `last` included. Points to the planting, which must
/// outlive it.
struct SeasonResult {
  const Planting* planting = nullptr;
  Date first{};
  Date last{};
  SeasonSummary summary;
  std::vector<LedgerLine> ledger;  // empty unless asked for
};

/// Days of a season, counted from its first.
struct DayRange {
  std::size_t first = 0;
  std::size_t count = 0;
};

/// The four weeks with the peak week in their middle, or as much of them as the season has.
[[nodiscard]] DayRange peak_month(const SeasonResult& season);

}  // namespace wiltline
