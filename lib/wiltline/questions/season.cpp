#include "wiltline/questions/season.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "wiltline/budget/watering.hpp"
#include "wiltline/crop/comfort.hpp"
#include "wiltline/questions/care.hpp"
#include "wiltline/questions/planting_life.hpp"

namespace wiltline {
namespace {

constexpr std::size_t peak_window_days = 7;
constexpr int peak_month_days = 28;
constexpr double refilled_below = 0.10;  // of TAW: a watering or rain that counts as a refill
constexpr int longest_look_ahead_days = 400;

/// A gardener's visits, as the day needs them.
class VisitPlanner {
 public:
  VisitPlanner(const Routine& routine, Date planted, const std::vector<SpotDay>& days, Date first)
      : routine_(routine), planted_(planted), days_(days), first_(first) {}

  /// The visits of a date, with the demand that will pass before each next one.
  const std::vector<Visit>& on(Date date) {
    visits_.clear();
    if (!visited(date)) return visits_;
    const double days_to_next = days_until_next_visit_day(date);
    const DemandCurve& curve = curve_on(date);
    for (const double hour : routine_.visit_hours) visits_.push_back({curve.share_by(hour), 0.0});
    for (std::size_t i = 0; i + 1 < visits_.size(); ++i) {
      visits_[i].until_next = visits_[i + 1].at - visits_[i].at;
    }
    visits_.back().until_next = 1.0 - visits_.back().at + (days_to_next - 1.0) + visits_.front().at;
    return visits_;
  }

 private:
  [[nodiscard]] bool visited(Date date) const {
    return routine_.visits_on(date, (date - planted_).count());
  }
  /// Whole days to the next day with a visit; the gardener knows the routine and the absences.
  [[nodiscard]] double days_until_next_visit_day(Date date) const {
    for (int ahead = 1; ahead < longest_look_ahead_days; ++ahead) {
      if (visited(date + std::chrono::days(ahead))) return ahead;
    }
    return longest_look_ahead_days;
  }
  [[nodiscard]] const DemandCurve& curve_on(Date date) const {
    return days_[static_cast<std::size_t>((date - first_).count())].curve;
  }

  const Routine& routine_;
  Date planted_;
  const std::vector<SpotDay>& days_;
  Date first_;
  std::vector<Visit> visits_;
};

/// The longest time between refills; planting counts as one.
class GapMeter {
 public:
  void refill(double at_days) {
    longest_ = std::max(longest_, at_days - last_);
    last_ = at_days;
  }
  [[nodiscard]] double longest_by(double end_days) const {
    return std::max(longest_, end_days - last_);
  }

 private:
  double last_ = 0.0;
  double longest_ = 0.0;
};

/// Means of the threshold: over mid-season, and over the last days for a crop that never got there.
class ThresholdMean {
 public:
  void add(double threshold_l, bool mid_season) {
    all_.push_back(threshold_l);
    if (!mid_season) return;
    mid_sum_ += threshold_l;
    ++mid_days_;
  }
  [[nodiscard]] bool reached_mid_season() const { return mid_days_ > 0; }
  [[nodiscard]] double value() const {
    if (mid_days_ > 0) return mid_sum_ / mid_days_;
    const auto days = static_cast<std::ptrdiff_t>(std::min(all_.size(), peak_window_days));
    return std::accumulate(all_.end() - days, all_.end(), 0.0) / static_cast<double>(days);
  }

 private:
  std::vector<double> all_;
  double mid_sum_ = 0.0;
  int mid_days_ = 0;
};

/// The highest mean of a week of values, and where that week ends.
struct Peak {
  double mean = 0.0;
  std::size_t end = 0;  // one past its last day
};
Peak highest_week(const std::vector<double>& daily) {
  const std::size_t window = std::min(daily.size(), peak_window_days);
  Peak peak{0.0, window};
  for (std::size_t end = window; end <= daily.size(); ++end) {
    const auto begin = daily.begin() + static_cast<std::ptrdiff_t>(end - window);
    const double mean = std::accumulate(begin, begin + static_cast<std::ptrdiff_t>(window), 0.0) /
                        static_cast<double>(window);
    if (mean > peak.mean) peak = {mean, end};
  }
  return peak;
}

void find_peak(const std::vector<double>& use_l, const std::vector<double>& full_size_use_l,
               const std::vector<int>& waterings, SeasonResult& result) {
  SeasonSummary& summary = result.summary;
  const Peak peak = highest_week(use_l);
  summary.peak_use_l_day = peak.mean;
  summary.peak_use_full_size_l_day = highest_week(full_size_use_l).mean;
  summary.peak_ends = result.first + std::chrono::days(static_cast<int>(peak.end) - 1);

  const DayRange month = peak_month(result);
  const auto from = waterings.begin() + static_cast<std::ptrdiff_t>(month.first);
  const int count = std::accumulate(from, from + static_cast<std::ptrdiff_t>(month.count), 0);
  summary.waterings_week_peak = 7.0 * count / static_cast<double>(month.count);
}

/// Temperatures of a day with the mean of its week.
DayTemperatures temperatures(const WeatherRecord& record, std::size_t index) {
  const std::size_t first = index >= peak_window_days - 1 ? index - (peak_window_days - 1) : 0;
  double sum = 0.0;
  for (std::size_t i = first; i <= index; ++i) {
    sum += (record.day(i).tmin_c + record.day(i).tmax_c) / 2.0;
  }
  return {.tmin_c = record.day(index).tmin_c,
          .tmax_c = record.day(index).tmax_c,
          .week_mean_c = sum / static_cast<double>(index - first + 1)};
}

/// A pot that heats in the sun: dark wall, direct sun at midday.
bool heats_in_sun(const Planting& planting) {
  return planting.pot.wall.dark && !planting.spot.tight_group && planting.spot.sun_from_h <= 12.0 &&
         planting.spot.sun_to_h >= 15.0 && planting.spot.shade_cloth == 0.0;
}

}  // namespace

void CareDays::count(const CareFlags& flags) {
  feed += flags.feed ? 1 : 0;
  frost += flags.frost ? 1 : 0;
  too_warm += flags.too_warm ? 1 : 0;
  poor_fruit_set += flags.poor_fruit_set ? 1 : 0;
  blossom_end_rot += flags.blossom_end_rot ? 1 : 0;
  hot_roots += flags.hot_roots ? 1 : 0;
  sheds_water += flags.sheds_water ? 1 : 0;
  finger_only += flags.finger_only ? 1 : 0;
  root_only += flags.root_only ? 1 : 0;
}

DayRange peak_month(const SeasonResult& season) {
  const int total = season.summary.days;
  const int week = std::min(total, static_cast<int>(peak_window_days));
  const int month = std::min(total, peak_month_days);
  const int peak_end = static_cast<int>((season.summary.peak_ends - season.first).count()) + 1;
  const int from = std::clamp(peak_end - week / 2 - month / 2, 0, total - month);
  return {static_cast<std::size_t>(from), static_cast<std::size_t>(month)};
}

PreparedWeather::PreparedWeather(const WeatherRecord& record, const MissingDataOptions& options)
    : record_(&record), reference_(reference_days(record, options)) {
  for (const ReferenceDay& day : reference_) sources_.count(day);
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (!record.day(i).rain_mm) ++days_without_rain_reading_;
  }
}

const std::vector<SpotDay>& PreparedWeather::at(const Spot& spot, const ModelParameters& model) {
  const auto found = std::find_if(spots_.begin(), spots_.end(),
                                  [&](const auto& known) { return known.first == spot.name; });
  if (found != spots_.end()) return found->second;
  spots_.emplace_back(spot.name, spot_days(*record_, reference_, spot, model));
  return spots_.back().second;
}

std::vector<Date> planting_dates(const Planting& planting, const WeatherRecord& record) {
  std::vector<Date> dates;
  if (const auto* date = std::get_if<Date>(&planting.planted)) {
    if (record.contains(*date)) dates.push_back(*date);
    return dates;
  }
  const MonthDay day = std::get<MonthDay>(planting.planted);
  for (int year = year_of(record.first()); year <= year_of(record.last()); ++year) {
    const auto date = day.in_year(year);
    if (date && record.contains(*date)) dates.push_back(*date);
  }
  return dates;
}

SeasonResult run_season(const Planting& planting, Date planted, PreparedWeather& weather,
                        const ModelParameters& model, const SeasonOptions& options) {
  const WeatherRecord& record = weather.record();
  const std::vector<SpotDay>& days = weather.at(planting.spot, model);
  const PotParameters pot = build_pot(planting, model);
  const PlantingSetting setting = planting_setting(planting, pot, model);
  const Date wanted_last = end_of_planting(planting, planted, record.last(), options.growth);
  const Date last_possible = std::min(wanted_last, record.last());

  SeasonResult result;
  result.planting = &planting;
  result.first = result.last = planted;
  SeasonSummary& summary = result.summary;
  summary.mix_l = pot.mix_l;
  summary.capacity_l = pot.refilled_l;
  summary.available_l = pot.total_available_l;
  summary.litres_per_plant = pot.mix_l / planting.plants;
  summary.size_factor = setting.size_factor;

  const PlantingSetting full_size = at_full_size(setting);
  const FrostLimits frost_limits{model.frost_tender_c, model.frost_light_c, model.frost_hard_c};
  const bool heats = heats_in_sun(planting);

  PotState state{.rooted_share = pot.initial_rooted_share};  // refilled, a mulch still dry
  Development development(planting.crop, options.growth, setting.crop.first_leaf_share);
  VisitPlanner planner(planting.routine, planted, days, record.first());
  GapMeter gaps;
  ThresholdMean threshold;
  FeedCalendar feeding(model, pot.mix_l);
  double drained_yesterday_l = 0.0;
  std::vector<double> use_l;
  std::vector<double> full_size_use_l;
  std::vector<int> waterings;

  for (Date date = planted; date <= last_possible; date += std::chrono::days(1)) {
    const std::size_t index = record.index_of(date);
    const SpotDay& spot_day = days[index];
    for (const PlantingDay& pruning : planting.pruned) {
      if (falls_on(pruning, date)) development.prune(model.pruned_leaf_share);
    }
    const double age_days = static_cast<double>((date - planted).count());
    const CropDay crop = crop_day(setting.crop, spot_day, development, model);
    const PlantingDayForcing forcing = planting_day(setting, crop, age_days, model);
    const DayPlan plan{.as_needed = planting.routine.as_needed,
                       .rule = planting.routine.rule,
                       .give_l = planting.routine.give_l,
                       .pouring = planting.routine.soaks ? Pouring::soaked_twice : Pouring::once,
                       .visits = planner.on(date)};
    const DayResult day = run_day(pot, state, forcing.day, plan);
    state = day.state;

    ++summary.days;
    summary.waterings += day.waterings;
    summary.watered_l += day.watered_l;
    summary.rain_l += day.rain_l;
    summary.drained_l += day.drained_l;
    summary.used_l += day.transpired_l + day.evaporated_l;
    if (day.stressed_at) ++summary.stressed_days;
    if (day.wilting_at) ++summary.wilting_days;
    if (day.dry_at) {
      ++summary.dry_days;
      if (!summary.first_dry) summary.first_dry = date;
    }
    const bool flowering = is_flowering(planting.crop, development.progress());
    const DayComfort comfort =
        day_comfort(planting.crop, frost_limits, temperatures(record, index), flowering);
    const CareFlags care{
        .feed = feeding.due(age_days, development.leaf_area_share(), drained_yesterday_l),
        .frost = comfort.frost,
        .too_warm = comfort.too_warm,
        .poor_fruit_set = comfort.poor_fruit_set,
        .blossom_end_rot = planting.crop.blossom_end_rot && flowering &&
                           day.highest_depletion_l > model.rot_line * day.taw_l,
        .hot_roots = heats && record.day(index).tmax_c > model.hot_root_tmax_c,
        .sheds_water = day.shed_water,
        .finger_only = day.top_felt_dry && !day.past_threshold,
        .root_only = !day.top_felt_dry && day.past_threshold};
    summary.care.count(care);
    if (care.feed && !summary.first_feed) summary.first_feed = date;
    drained_yesterday_l = day.drained_l;
    for (const Refill& refill : day.refills) {
      if (refill.depletion_after_l >= refilled_below * day.taw_l) continue;
      gaps.refill(age_days + spot_day.curve.hours_at(refill.at) / 24.0);
    }
    threshold.add(day.threshold_l, development.mid_season());
    const IntervalDemand& demand = forcing.day.demand;
    use_l.push_back(demand.potential_use_l());
    full_size_use_l.push_back(
        setting.size_factor < 1.0
            ? planting_day(full_size, crop, age_days, model).day.demand.potential_use_l()
            : use_l.back());
    waterings.push_back(day.waterings);

    if (options.ledger) {
      const auto hour = [&](const std::optional<double>& x) {
        return x ? std::optional(spot_day.curve.hours_at(*x)) : std::nullopt;
      };
      result.ledger.push_back(
          {.date = date,
           .et0_mm = spot_day.open_et0_mm,
           .canopy_m2 = forcing.canopy_m2,
           .demand_l = demand.transpiration_l,
           .transpired_l = day.transpired_l,
           .evaporated_l = day.evaporated_l,
           .rain_l = day.rain_l,
           .watered_l = day.watered_l,
           .drained_l = day.drained_l,
           .store_l = store_l(pot, state),
           .depletion_l = state.rooted_depletion_l,
           .refill_at_l = day.threshold_l,
           .ks = demand.transpiration_l > 0.0 ? day.transpired_l / demand.transpiration_l : 1.0,
           .stressed_at_h = hour(day.stressed_at),
           .wilting_at_h = hour(day.wilting_at),
           .dry_at_h = hour(day.dry_at),
           .care = care});
    }
    result.last = date;
    development.next_day(spot_day.mean_temperature_c);
    if (!planting.ends && development.finished()) break;
  }

  summary.refill_at_l = threshold.value();
  summary.reached_mid_season = threshold.reached_mid_season();
  summary.longest_gap_days = gaps.longest_by(summary.days);
  summary.cut_by_record =
      !development.finished() && result.last == record.last() &&
      (options.growth == GrowthClock::degree_days ? !planting.ends : wanted_last > record.last());
  find_peak(use_l, full_size_use_l, waterings, result);
  return result;
}

std::vector<SeasonResult> run_seasons(std::span<const SeasonStart> starts, PreparedWeather& weather,
                                      const ModelParameters& model, const SeasonOptions& options) {
  std::vector<SeasonResult> results;
  results.reserve(starts.size());
  for (const SeasonStart& start : starts) {
    results.push_back(run_season(*start.planting, start.planted, weather, model, options));
  }
  return results;
}

}  // namespace wiltline
