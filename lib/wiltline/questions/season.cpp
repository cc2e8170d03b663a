#include "wiltline/questions/season.hpp"

#include <algorithm>
#include <numeric>

#include "wiltline/account/course.hpp"
#include "wiltline/account/feeding.hpp"
#include "wiltline/account/season_summary.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline {
namespace {

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

/// As Peak says, of one value a day.
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

/// Counts a day by the lines it passed: apart while the planting settles in.
void count_lines(const DayResult& day, Date date, SeasonSummary& summary) {
  SettlingIn& apart = summary.settling_in;
  const bool settling = day.settling();
  if (settling) ++apart.days;
  if (!settling && !apart.settled) apart.settled = date;
  if (day.stressed_at) ++(settling ? apart.stressed_days : summary.stressed_days);
  if (day.wilting_at) ++(settling ? apart.wilting_days : summary.wilting_days);
  if (!day.dry_at) return;
  ++(settling ? apart.dry_days : summary.dry_days);
  if (!settling && !summary.first_dry) summary.first_dry = date;
}

}  // namespace

PreparedWeather::PreparedWeather(const WeatherRecord& record, const MissingDataOptions& options)
    : record_(&record),
      reference_(
          std::make_shared<const std::vector<ReferenceDay>>(reference_days(record, options))) {
  for (const ReferenceDay& day : *reference_) sources_.count(day);
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (!record.day(i).rain_mm) ++days_without_rain_reading_;
  }
}

PreparedWeather PreparedWeather::afresh() const {
  PreparedWeather weather = *this;
  weather.spots_.clear();
  return weather;
}

const std::vector<SpotDay>& PreparedWeather::at(const Spot& spot, const ModelParameters& model) {
  const auto found = std::find_if(spots_.begin(), spots_.end(),
                                  [&](const auto& known) { return known.first == spot; });
  if (found != spots_.end()) return found->second;
  spots_.emplace_back(spot, spot_days(*record_, *reference_, spot, model));
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
  const std::vector<SpotDay>& days = weather.at(planting.spot, model);
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  const Course course =
      plan_course(planting, planted, weather.record(), days, model, options.growth);

  SeasonResult result = empty_season(setting, course);
  SeasonSummary& summary = result.summary;
  const PotParameters& pot = setting.pot;
  const PlantingSetting full_size = at_full_size(setting);
  const bool heats = heats_in_sun(planting);

  PotState state{.rooted_share = pot.initial_rooted_share};  // refilled, a mulch still dry
  kernel::RefillGap gap;
  ThresholdMean threshold;
  Feeding feeding;
  double drained_yesterday_l = 0.0;
  std::vector<double> use_l;
  std::vector<double> full_size_use_l;
  std::vector<int> waterings;

  for (std::size_t i = 0; i < course.days.size(); ++i) {
    const CourseDay& today = course.days[i];
    const Date date = course.date(i);
    const PlantingDayForcing forcing = planting_day(setting, today.crop, today.age_days, model);
    const DayResult day = run_day(pot, state, forcing.day, course.plan(i));
    state = day.state;

    summary.waterings += day.waterings;
    summary.watered_l += day.watered_l;
    summary.rain_l += day.rain_l;
    summary.drained_l += day.drained_l;
    summary.used_l += day.transpired_l + day.evaporated_l;
    count_lines(day, date, summary);
    const Fed fed = feed(feeding, feed_schedule(model), pot.mix_l, today.age_days,
                         today.leaf_area_share, drained_yesterday_l);
    feeding = fed.after;
    const CareFlags care{.feed = fed.due > 0.5,
                         .frost = today.comfort.frost,
                         .too_warm = today.comfort.too_warm,
                         .poor_fruit_set = today.comfort.poor_fruit_set,
                         .blossom_end_rot = planting.crop.blossom_end_rot && today.flowering &&
                                            day.highest_depletion_l > model.rot_line * day.taw_l,
                         .hot_roots = heats && today.tmax_c > model.hot_root_tmax_c,
                         .sheds_water = day.shed_water,
                         .finger_only = day.top_felt_dry && !day.past_threshold,
                         .root_only = !day.top_felt_dry && day.past_threshold};
    summary.care.count(care);
    if (care.feed && !summary.first_feed) summary.first_feed = date;
    drained_yesterday_l = day.drained_l;
    for (const Refill& refill : day.refills) {
      gap = kernel::refilled(gap, kernel::is_refill(refill.depletion_after_l, day.taw_l),
                             days_since_planting(today.age_days, today.spot->curve, refill.at));
    }
    threshold.add(day.threshold_l, today.mid_season);
    const IntervalDemand& demand = forcing.day.demand;
    use_l.push_back(demand.potential_use_l());
    full_size_use_l.push_back(
        planting_day(full_size, today.crop, today.age_days, model).day.demand.potential_use_l());
    waterings.push_back(day.waterings);

    if (options.ledger) {
      const auto hour = [&](const std::optional<double>& x) {
        return x ? std::optional(today.spot->curve.hours_at(*x)) : std::nullopt;
      };
      result.ledger.push_back(
          {.date = date,
           .et0_mm = today.spot->open_et0_mm,
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
  }

  summary.refill_at_l = threshold.value();
  summary.reached_mid_season = threshold.reached_mid_season();
  summary.longest_gap_days = kernel::refilled(gap, 1.0, summary.days).longest_days;
  set_peak(
      highest_week(use_l), highest_week(full_size_use_l).mean,
      [&](std::size_t day) { return waterings[day]; }, result);
  return result;
}

}  // namespace wiltline
