#include "wiltline/account/season_sums.hpp"

#include <algorithm>

namespace wiltline {
namespace {

constexpr double never = 1e9;

// Before a loop over pots: what it writes for one it does not read for another. Sums and days are
// objects apart, which GCC would else ask of each two arrays before the loop.
#if defined(__clang__)
#define WILTLINE_APART
#else
#define WILTLINE_APART _Pragma("GCC ivdep")
#endif

template <std::size_t width>
WILTLINE_LOOP void add_day(typename SeasonSums<width>::Totals& t, const DayOf<width>& d,
                           const CourseDay& today, const FeedSchedule& schedule, double rot_line,
                           bool may_rot, std::size_t lanes) {
  const double age = today.age_days;
  const double leaf_share = today.leaf_area_share;
  const FeedSchedule feeds = schedule;
  WILTLINE_APART
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    t.waterings[i] += d.waterings[i];
    t.watered[i] += d.watered[i];
    t.drained[i] += d.drained[i];
    t.used[i] += d.transpired[i] + d.evaporated[i];
    t.sheds_days[i] += d.sheds[i];
    t.finger_days[i] += d.top_felt_dry[i] * (1.0 - d.past_threshold[i]);
    t.root_days[i] += (1.0 - d.top_felt_dry[i]) * d.past_threshold[i];
  }
  WILTLINE_APART
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const Fed fed = feed({.last_days = t.last_feed[i], .drained_since_l = t.drained_since_feed[i]},
                         feeds, t.mix_l[i], age, leaf_share, t.drained_yesterday[i]);
    t.feeds[i] += fed.due;
    t.first_feed[i] = kernel::least(t.first_feed[i], kernel::choose(fed.due, age, never));
    t.last_feed[i] = fed.after.last_days;
    t.drained_since_feed[i] = fed.after.drained_since_l;
    t.drained_yesterday[i] = d.drained[i];
  }
  if (today.crop.rain_mm > 0.0) {
    for (std::size_t i = 0; i < lanes; ++i) t.rain[i] += d.rain[i];  // vector loop
  }
  if (may_rot && today.flowering) {
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      t.rot_days[i] += kernel::flag(d.highest_depletion[i] > rot_line * d.taw[i]);
    }
  }
  if (today.mid_season) {
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      t.mid_season_threshold[i] += d.threshold[i];
    }
  }
  if (d.rooting) {
    for (std::size_t i = 0; i < lanes; ++i) t.settling_days[i] += d.settling[i];  // vector loop
  }
  if (d.lines_passed) {
    if (d.rooting) {
      for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
        t.settling.stressed_days[i] += d.settling[i] * d.stressed[i];
        t.settling.wilting_days[i] += d.settling[i] * d.wilting[i];
        t.settling.dry_days[i] += d.settling[i] * d.dry[i];
      }
    }
    const double rooting = d.rooting ? 1.0 : 0.0;
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      const double settled = 1.0 - rooting * d.settling[i];
      const double dry = settled * d.dry[i];
      t.settled.stressed_days[i] += settled * d.stressed[i];
      t.settled.wilting_days[i] += settled * d.wilting[i];
      t.settled.dry_days[i] += dry;
      t.first_dry[i] = kernel::least(t.first_dry[i], kernel::choose(dry, age, never));
    }
  }
}

/// `window`: days that a mean is of; as a constant it makes the sum over them plain additions.
template <std::size_t width>
WILTLINE_LOOP void find_peak(const std::vector<LanesOf<width>>& daily, std::size_t window,
                             typename SeasonSums<width>::Peak& peak, std::size_t lanes) {
  const auto days = static_cast<double>(window);
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    peak.mean[i] = 0.0;
    peak.end[i] = days;
  }
  for (std::size_t end = window; end <= daily.size(); ++end) {
    const auto now = static_cast<double>(end);
    const LanesOf<width>* const week = &daily[end - window];
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      double sum = 0.0;
      for (std::size_t k = 0; k < window; ++k) sum += week[k][i];
      const double mean = sum / days;
      const double higher = kernel::flag(mean > peak.mean[i]);
      peak.mean[i] = kernel::most(mean, peak.mean[i]);
      peak.end[i] = kernel::choose(higher, now, peak.end[i]);
    }
  }
}
template <std::size_t width>
WILTLINE_LOOP void find_peak(const std::vector<LanesOf<width>>& daily,
                             typename SeasonSums<width>::Peak& peak, std::size_t lanes) {
  if (daily.size() < peak_window_days) {
    find_peak<width>(daily, daily.size(), peak, lanes);
  } else {
    find_peak<width>(daily, peak_window_days, peak, lanes);
  }
}

std::optional<Date> date_of(const Course& course, double age_days) {
  if (age_days >= never) return std::nullopt;
  return course.date(static_cast<std::size_t>(age_days));
}

bool may_rot(const Planting& planting) {
  return any_crop(planting, [](const Crop& crop) { return crop.blossom_end_rot; });
}

}  // namespace

bool heats_in_sun(const Planting& planting, const ModelParameters& model) {
  const Spot& spot = planting.spot;
  return planting.pot.wall.dark && !spot.is_group() && spot.sun_from_h <= model.hot_root_from_h &&
         spot.sun_to_h >= model.hot_root_to_h && spot.shade_cloth == 0.0;
}

template <std::size_t width>
SeasonSums<width>::SeasonSums(std::span<const PlantingSetting* const> settings,
                              const Course& course, const ModelParameters& model,
                              InstructionSet set, bool full_size)
    : settings_(settings.begin(), settings.end()),
      course_(course),
      model_(model),
      set_(set),
      feeds_(model),
      may_rot_(may_rot(*settings_.front()->planting)),
      full_size_(full_size),
      vectors_(vectors_in_use(settings.size())) {
  totals_.use.reserve(course.days.size());
  if (!full_size_) totals_.full_size_use.reserve(course.days.size());
  totals_.waterings_by_day.reserve(course.days.size());
  for (std::size_t i = 0; i < width; ++i) {
    totals_.mix_l[i] = settings_[std::min(i, settings_.size() - 1)]->pot.mix_l;
    totals_.first_dry[i] = totals_.first_feed[i] = never;
    totals_.last_feed[i] = Feeding{}.last_days;
  }
}

template <std::size_t width>
void SeasonSums<width>::add(const DayOf<width>& day) {
  totals_.use.push_back(day.potential_use);
  if (!full_size_) totals_.full_size_use.push_back(day.full_size_use);
  totals_.waterings_by_day.push_back(day.waterings);
  totals_.last_thresholds[days_ % peak_window_days] = day.threshold;
  const CourseDay& today = course_.days[days_++];
  const double rot_line = model_.rot_line;
  run_with(
      set_, [&]() __attribute__((always_inline)) {
        add_day<width>(totals_, day, today, feeds_, rot_line, may_rot_, lanes());
      });
  shared_care_.frost += today.comfort.frost ? 1 : 0;
  shared_care_.too_warm += today.comfort.too_warm ? 1 : 0;
  shared_care_.poor_fruit_set += today.comfort.poor_fruit_set ? 1 : 0;
  hot_root_days_ += today.tmax_c > model_.hot_root_tmax_c ? 1 : 0;
  mid_season_days_ += today.mid_season ? 1 : 0;
}

template <std::size_t width>
CareDays SeasonSums<width>::care(std::size_t pot) const {
  const auto count = [pot](const Lanes& total) { return static_cast<int>(total[pot]); };
  CareDays care = shared_care_;
  care.feed = count(totals_.feeds);
  care.blossom_end_rot = count(totals_.rot_days);
  care.hot_roots = heats_in_sun(*settings_[pot]->planting, model_) ? hot_root_days_ : 0;
  care.sheds_water = count(totals_.sheds_days);
  care.finger_only = count(totals_.finger_days);
  care.root_only = count(totals_.root_days);
  return care;
}

template <std::size_t width>
void SeasonSums<width>::finish() {
  run_with(
      set_, [&]() __attribute__((always_inline)) {
        find_peak<width>(totals_.use, peak_, lanes());
        if (!full_size_) {
          find_peak<width>(totals_.full_size_use, full_size_peak_, lanes());
        }
      });
  if (full_size_) full_size_peak_ = peak_;
}

/// The mean threshold of mid-season; of the last days for a crop that never got there.
template <std::size_t width>
double SeasonSums<width>::refill_at_l(std::size_t pot) const {
  if (mid_season_days_ > 0) return totals_.mid_season_threshold[pot] / mid_season_days_;
  const std::size_t last = std::min(days_, peak_window_days);
  double sum = 0.0;
  for (std::size_t back = last; back > 0; --back) {
    sum += totals_.last_thresholds[(days_ - back) % peak_window_days][pot];
  }
  return sum / static_cast<double>(last);
}

template <std::size_t width>
SeasonResult SeasonSums<width>::result(std::size_t pot, double longest_gap_days) const {
  const auto count = [pot](const Lanes& total) { return static_cast<int>(total[pot]); };
  const Totals& t = totals_;
  const PlantingSetting& setting = *settings_[pot];
  SeasonResult result;
  result.planting = setting.planting;
  result.first = course_.first;
  result.last = course_.last();
  SeasonSummary& s = result.summary;
  s.mix_l = setting.pot.mix_l;
  s.capacity_l = setting.pot.refilled_l;
  s.available_l = setting.pot.total_available_l;
  s.refill_at_l = refill_at_l(pot);
  s.reached_mid_season = mid_season_days_ > 0;
  s.peak_use_l_day = peak_.mean[pot];
  s.peak_ends = course_.date(static_cast<std::size_t>(peak_.end[pot]) - 1);
  s.waterings = count(t.waterings);
  s.watered_l = t.watered[pot];
  s.rain_l = t.rain[pot];
  s.drained_l = t.drained[pot];
  s.used_l = t.used[pot];
  s.days = static_cast<int>(days_);
  s.stressed_days = count(t.settled.stressed_days);
  s.wilting_days = count(t.settled.wilting_days);
  s.dry_days = count(t.settled.dry_days);
  SettlingIn& apart = s.settling_in;
  apart.days = count(t.settling_days);
  apart.stressed_days = count(t.settling.stressed_days);
  apart.wilting_days = count(t.settling.wilting_days);
  apart.dry_days = count(t.settling.dry_days);
  if (apart.days < s.days) apart.settled = course_.date(static_cast<std::size_t>(apart.days));
  s.first_dry = date_of(course_, t.first_dry[pot]);
  s.longest_gap_days = longest_gap_days;
  s.peak_use_full_size_l_day = full_size_peak_.mean[pot];
  s.care = care(pot);
  s.first_feed = date_of(course_, t.first_feed[pot]);
  s.ended_by = course_.ended_by;
  s.litres_per_plant = setting.pot.mix_l / plants_in_pot(*setting.planting);
  s.size_factor = setting.size_factor;
  const DayRange month = peak_month(result);
  int waterings = 0;
  for (std::size_t day = month.first; day < month.first + month.count; ++day) {
    waterings += count(t.waterings_by_day[day]);
  }
  s.waterings_week_peak = 7.0 * waterings / static_cast<double>(month.count);
  return result;
}

template class SeasonSums<1>;
template class SeasonSums<chunk_pots>;

}  // namespace wiltline
