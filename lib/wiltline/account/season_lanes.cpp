#include "wiltline/account/season_lanes.hpp"

#include <algorithm>

#include "wiltline/account/feeding.hpp"
#include "wiltline/account/season_summary.hpp"

namespace wiltline {
namespace {

/// Sums of a season so far; and, day by day, what the peak is found from.
struct Totals {
  Lanes mix_l;
  Lanes waterings;
  Lanes watered;
  Lanes rain;
  Lanes drained;
  Lanes used;
  struct Short {
    Lanes stressed_days;
    Lanes wilting_days;
    Lanes dry_days;
  };
  Short settled;   // counted by the lines passed once settled in
  Short settling;  // and before
  Lanes settling_days;
  Lanes first_dry;  // day of the season; none: never
  Lanes rot_days;
  Lanes sheds_days;
  Lanes finger_days;
  Lanes root_days;
  Lanes feeds;
  Lanes first_feed;
  Lanes last_feed;
  Lanes drained_since_feed;
  Lanes drained_yesterday;
  Lanes mid_season_threshold;
  std::array<Lanes, peak_window_days> last_thresholds;
  std::vector<Lanes> use;
  std::vector<Lanes> full_size_use;  // empty where no pot limits its plant
  std::vector<Lanes> waterings_by_day;
};

constexpr double never = 1e9;

WILTLINE_LOOP void add_day(Totals& t, const ChunkDay& d, const CourseDay& today,
                           const FeedSchedule& schedule, double rot_line, bool may_rot,
                           std::size_t lanes) {
  const double age = today.age_days;
  const double leaf_share = today.leaf_area_share;
  const FeedSchedule feeds = schedule;
  const auto day = static_cast<std::size_t>(age);
  Lanes& last_threshold = t.last_thresholds[day % peak_window_days];
  Lanes& use = t.use[day];
  Lanes& waterings = t.waterings_by_day[day];
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    t.waterings[i] += d.waterings[i];
    t.watered[i] += d.watered[i];
    t.drained[i] += d.drained[i];
    t.used[i] += d.transpired[i] + d.evaporated[i];
    t.sheds_days[i] += d.sheds[i];
    t.finger_days[i] += d.top_felt_dry[i] * (1.0 - d.past_threshold[i]);
    t.root_days[i] += (1.0 - d.top_felt_dry[i]) * d.past_threshold[i];
  }
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const Fed fed = feed({.last_days = t.last_feed[i], .drained_since_l = t.drained_since_feed[i]},
                         feeds, t.mix_l[i], age, leaf_share, t.drained_yesterday[i]);
    t.feeds[i] += fed.due;
    t.first_feed[i] = kernel::least(t.first_feed[i], kernel::choose(fed.due, age, never));
    t.last_feed[i] = fed.after.last_days;
    t.drained_since_feed[i] = fed.after.drained_since_l;
    t.drained_yesterday[i] = d.drained[i];
    use[i] = d.potential_use[i];
    waterings[i] = d.waterings[i];
    last_threshold[i] = d.threshold[i];
  }
  if (!t.full_size_use.empty()) {
    for (std::size_t i = 0; i < lanes; ++i) t.full_size_use[day][i] = d.full_size_use[i];
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
  for (const std::size_t i : d.exact) {
    const bool settling = d.settling[i] > 0.5;
    Totals::Short& days = settling ? t.settling : t.settled;
    days.stressed_days[i] += d.stressed[i];
    days.wilting_days[i] += d.wilting[i];
    days.dry_days[i] += d.dry[i];
    if (d.dry[i] > 0.5 && !settling) t.first_dry[i] = kernel::least(t.first_dry[i], age);
  }
}

struct PeakLanes {
  Lanes mean;
  Lanes end;
};
/// As highest_week, for all lanes.
WILTLINE_LOOP void highest_weeks(const std::vector<Lanes>& daily, PeakLanes& peak,
                                 std::size_t lanes) {
  const std::size_t window = std::min(daily.size(), peak_window_days);
  const auto days = static_cast<double>(window);
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    peak.mean[i] = 0.0;
    peak.end[i] = days;
  }
  Lanes sum;
  for (std::size_t end = window; end <= daily.size(); ++end) {
    const auto now = static_cast<double>(end);
    const Lanes* const week = &daily[end - window];
    for (std::size_t i = 0; i < lanes; ++i) sum[i] = 0.0;
    for (std::size_t k = 0; k < window; ++k) {
      for (std::size_t i = 0; i < lanes; ++i) sum[i] += week[k][i];  // vector loop
    }
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      const double mean = sum[i] / days;
      const double higher = kernel::flag(mean > peak.mean[i]);
      peak.mean[i] = kernel::most(mean, peak.mean[i]);
      peak.end[i] = kernel::choose(higher, now, peak.end[i]);
    }
  }
}

std::optional<Date> date_of(const Course& course, double age_days) {
  if (age_days >= never) return std::nullopt;
  return course.date(static_cast<std::size_t>(age_days));
}

}  // namespace

std::size_t run_chunk(std::span<const PlantingSetting* const> settings, const Course& course,
                      const ModelParameters& model, InstructionSet set,
                      std::span<SeasonResult* const> results) {
  const std::size_t lanes = vectors_in_use(settings.size()) * widest_vector;
  const std::size_t days = course.days.size();
  const FeedSchedule schedule = feed_schedule(model);
  const bool may_rot = settings.front()->crop.crop->blossom_end_rot;

  PotChunk chunk(settings, model, set);
  Totals t{};
  t.use.resize(days);
  if (!chunk.full_size()) t.full_size_use.resize(days);
  t.waterings_by_day.resize(days);
  for (std::size_t i = 0; i < chunk_pots; ++i) {
    t.mix_l[i] = settings[std::min(i, settings.size() - 1)]->pot.mix_l;
    t.first_dry[i] = t.first_feed[i] = never;
    t.last_feed[i] = Feeding{}.last_days;
  }
  CareDays shared_care;  // the same in every pot
  int hot_days = 0;
  int mid_season_days = 0;
  for (std::size_t day = 0; day < days; ++day) {
    const CourseDay& today = course.days[day];
    const ChunkDay& done =
        chunk.run_day(today.crop, today.age_days, course.plan(day), today.spot->curve);
    run_with(
        set, [&]() __attribute__((always_inline)) {
          add_day(t, done, today, schedule, model.rot_line, may_rot, lanes);
        });
    shared_care.count({.frost = today.comfort.frost,
                       .too_warm = today.comfort.too_warm,
                       .poor_fruit_set = today.comfort.poor_fruit_set});
    hot_days += today.tmax_c > model.hot_root_tmax_c ? 1 : 0;
    mid_season_days += today.mid_season ? 1 : 0;
  }
  PeakLanes peak;
  PeakLanes full_size_peak;
  run_with(
      set, [&]() __attribute__((always_inline)) {
        highest_weeks(t.use, peak, lanes);
        if (!chunk.full_size()) highest_weeks(t.full_size_use, full_size_peak, lanes);
      });

  const std::size_t last_thresholds = std::min(days, peak_window_days);
  for (std::size_t i = 0; i < settings.size(); ++i) {
    const auto count = [i](const Lanes& total) { return static_cast<int>(total[i]); };
    SeasonResult& result = *results[i];
    result = empty_season(*settings[i], course);
    SeasonSummary& s = result.summary;
    s.waterings = count(t.waterings);
    s.watered_l = t.watered[i];
    s.rain_l = t.rain[i];
    s.drained_l = t.drained[i];
    s.used_l = t.used[i];
    s.stressed_days = count(t.settled.stressed_days);
    s.wilting_days = count(t.settled.wilting_days);
    s.dry_days = count(t.settled.dry_days);
    s.settling_in.days = count(t.settling_days);
    s.settling_in.stressed_days = count(t.settling.stressed_days);
    s.settling_in.wilting_days = count(t.settling.wilting_days);
    s.settling_in.dry_days = count(t.settling.dry_days);
    if (s.settling_in.days < s.days)
      s.settling_in.settled = course.date(static_cast<std::size_t>(s.settling_in.days));
    s.first_dry = date_of(course, t.first_dry[i]);
    s.care = shared_care;
    s.care.feed = count(t.feeds);
    s.care.blossom_end_rot = count(t.rot_days);
    s.care.hot_roots = heats_in_sun(*settings[i]->planting) ? hot_days : 0;
    s.care.sheds_water = count(t.sheds_days);
    s.care.finger_only = count(t.finger_days);
    s.care.root_only = count(t.root_days);
    s.first_feed = date_of(course, t.first_feed[i]);
    s.reached_mid_season = mid_season_days > 0;
    if (mid_season_days > 0) {
      s.refill_at_l = t.mid_season_threshold[i] / mid_season_days;
    } else {
      double sum = 0.0;
      for (std::size_t back = last_thresholds; back > 0; --back) {
        sum += t.last_thresholds[(days - back) % peak_window_days][i];
      }
      s.refill_at_l = sum / static_cast<double>(last_thresholds);
    }
    s.longest_gap_days = chunk.longest_gap_days(i, s.days);
    set_peak(
        {.mean = peak.mean[i], .end = static_cast<std::size_t>(peak.end[i])},
        (chunk.full_size() ? peak : full_size_peak).mean[i],
        [&](std::size_t day) { return static_cast<int>(t.waterings_by_day[day][i]); }, result);
  }
  return chunk.exact_pot_days();
}

}  // namespace wiltline
