#include "wiltline/questions/absence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <tuple>

#include "wiltline/account/course.hpp"
#include "wiltline/account/crop_run.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/batch/left_alone.hpp"
#include "wiltline/questions/shares.hpp"

namespace wiltline {
namespace {

/// A season as all pots of the crop meet it.
struct Season {
  Date planted{};
  std::vector<CropDay> crop{};      // from `planted` on
  std::vector<double> leave_at{};   // x at the leave hour
  std::vector<double> return_at{};  // x at the hour of return
  const SpotDay* spot = nullptr;    // of `planted`, the others behind it
  Date last{};                      // of the planting, and why
  EndedBy ended_by = EndedBy::record;
  std::vector<std::size_t> starts{};  // days on which a window begins, ascending
};

/// Days on which a window may begin, counted from planting, up to a date.
std::vector<std::size_t> starts_of(Date planted, Date last, const AbsenceOptions& options) {
  std::vector<std::size_t> starts;
  const auto add = [&](Date from, Date to) {
    for (Date date = std::max(from, planted); date <= std::min(to, last); ++date) {
      starts.push_back(static_cast<std::size_t>((date - planted).count()));
    }
  };
  for (int year = year_of(planted) - 1; year <= year_of(last); ++year) {
    if (options.start_day) {
      const Date date = options.start_day->nearest_in_year(year);
      add(date, date);
      continue;
    }
    const int end_year = options.first_month <= options.last_month ? year : year + 1;
    const auto end = std::chrono::year(end_year) / std::chrono::month(options.last_month);
    add(make_date(year, options.first_month, 1), Date(end / std::chrono::last));
  }
  return starts;
}

/// Which part of a planting's life is to be worked out.
struct Wanted {
  bool whole_life = true;  // to the planting's end, else no further than the last window
  bool one_plant = true;   // as CropSetting
};

Season season_of(const Planting& planting, Date planted, const Place& place,
                 const AbsenceOptions& options, const Wanted& wanted) {
  const WeatherRecord& record = place.record();
  const ModelParameters& model = place.model();
  Season season{.planted = planted};
  const auto to_return = static_cast<std::size_t>(options.days_to_return());
  const Date latest = std::min(
      record.last(), latest_day(planting, planted, options.growth).value_or(record.last()));
  season.starts = starts_of(planted, latest - std::chrono::days(options.days_to_return()), options);
  if (season.starts.empty()) return season;
  // For the windows nothing after the last of them matters.
  const std::size_t needed = season.starts.back() + to_return + 1;
  const std::size_t first = record.index_of(planted);
  const std::size_t left = record.size() - first;
  // From the first of the month: what else grows there may have been planted earlier in it.
  const std::size_t earlier = std::min<std::size_t>(first, month_day_of(planted).day - 1);
  const std::span<const SpotDay> days =
      wanted.whole_life
          ? std::span(place.at(planting.spot)).subspan(first)
          : place.at(planting.spot, first - earlier, earlier + needed).subspan(earlier);
  season.spot = days.data();
  CropRun crop(planting, planted, model, options.growth, wanted.one_plant);
  season.crop.reserve(needed);
  std::size_t i = 0;
  for (; i < needed && !crop.finished(); ++i) {
    season.crop.push_back(crop.begin_day(days[i], model));
    crop.end_day(days[i]);
  }
  while (!season.starts.empty() && season.starts.back() + to_return >= i) season.starts.pop_back();
  if (season.starts.empty()) return season;
  season.crop.resize(season.starts.back() + to_return + 1);
  if (wanted.whole_life) {
    for (; i < left && !crop.finished(); ++i) crop.pass_day(days[i], model);
    season.last = record.date(first + i - 1);
    season.ended_by = crop.ended_by().value_or(EndedBy::record);
  }
  const bool same_hour = options.return_h() == options.leave_h;
  for (std::size_t day = 0; day < season.crop.size(); ++day) {
    if (!options.rain_counts) season.crop[day].rain_mm = 0.0;
    const DemandCurve& curve = days[day].curve;
    season.leave_at.push_back(curve.share_by(options.leave_h));
    season.return_at.push_back(same_hour ? season.leave_at.back()
                                         : curve.share_by(options.return_h()));
  }
  return season;
}

/// Lines that no depletion reaches: no crossing is to be reported.
constexpr LineDepletions no_lines{kernel::out_of_reach, kernel::out_of_reach, kernel::out_of_reach,
                                  kernel::out_of_reach};

/// A day of one pot, worked out once for all windows that hold it.
struct UnvisitedDay {
  DayForcing forcing;
  IntervalLimits limits{};
  double line_l = 0.0;  // the depletion not to be crossed
  // In a day at full rates, as if the whole mix were like its rooted part, which loses more a litre
  // than the rest.
  double most_lost_l = 0.0;
};

/// The share of a pot that its roots have reached on a day since planting, the same in every
/// season.
struct Rooted {
  double share = 1.0;      // of the mix
  double top_share = 1.0;  // kernel::rooted_top_share
};

/// A pot and what holds of it in all its seasons; days are worked out one season at a time.
struct PotInSeasons {
  PlantingSetting setting{};
  std::vector<Rooted> roots{};
  std::vector<UnvisitedDay> days{};
  DaysAlone alone{};              // the same days for bounds on many windows
  std::vector<PotState> left{};   // as the gardener leaves it day by day
  std::vector<char> refills{};    // 1 where the next day's visit is sure to fill it again
  std::vector<LeftAlone> sure{};  // of windows, from the first start on
};

void fill_pot_days(PotInSeasons& one, const Season& season, const ModelParameters& model,
                   Line line) {
  const PlantingSetting& setting = one.setting;
  const std::size_t count = season.crop.size();
  one.days.resize(count);
  one.alone.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    UnvisitedDay& day = one.days[i];
    day.forcing = planting_day(setting, season.crop[i], static_cast<double>(i), model).day;
    if (i == one.roots.size()) {
      double share = i == 0 ? setting.pot.initial_rooted_share : one.roots.back().share;
      if (day.forcing.roots_grow) {
        share =
            grow_roots(setting.pot, {.rooted_share = share}, day.forcing.roots_filled).rooted_share;
      }
      one.roots.push_back(
          {.share = share,
           .top_share = kernel::rooted_top_share(share, setting.pot.ball_top_factor)});
    }
    const Rooted& roots = one.roots[i];
    day.limits =
        interval_limits(setting.pot, day.forcing.depletion_fraction, roots.share, roots.top_share);
    day.line_l = line_depletions(setting.pot, day.limits)[static_cast<std::size_t>(line)];
    day.most_lost_l =
        day.forcing.full_rates.rooted_use_l(roots.share, roots.top_share) / roots.share;
    one.alone.set(i, day.forcing, day.limits, day.line_l, season.leave_at[i], season.return_at[i]);
  }
}

/// The state of a pot that nobody waters, from interval to interval, and whether it crossed the
/// line.
class Unattended {
 public:
  Unattended(const PotParameters& pot, const std::vector<UnvisitedDay>& days)
      : pot_(pot), days_(days) {}

  [[nodiscard]] const PotState& state() const { return state_; }
  [[nodiscard]] bool crossed() const { return crossed_; }

  /// Goes on from `state` at an instant of a day, counted from planting; its lines decide whether
  /// it is beyond already.
  void start(const PotState& state, std::size_t day) {
    state_ = state;
    crossed_ = beyond(day);
  }
  /// 00:00 of a day: roots grow, rain falls, the lines are the new day's.
  void begin(std::size_t day) {
    const DayForcing& forcing = days_[day].forcing;
    if (forcing.roots_grow) {
      state_ = grow_roots(pot_, state_, forcing.roots_filled);
    }
    if (forcing.rain_l > 0.0) state_ = water(pot_, state_, forcing.rain_l).state;
    crossed_ = crossed_ || beyond(day);
  }
  void pour(const std::optional<double>& given_l, Pouring pouring) {
    const double litres = given_l.value_or(litres_until_drained(pot_, state_, pouring));
    if (litres > 0.0) state_ = water(pot_, state_, litres, pouring).state;
  }
  void dry(std::size_t day, double dx) {
    if (dx <= 0.0) return;
    const UnvisitedDay& today = days_[day];
    state_ = flow(today.forcing.full_rates, today.limits, no_lines, state_, dx).state;
    // Depletion only rises between waterings: the end of a stretch tells, without the instant.
    crossed_ = crossed_ || beyond(day);
  }

 private:
  [[nodiscard]] bool beyond(std::size_t day) const {
    return state_.rooted_depletion_l > days_[day].line_l;
  }

  const PotParameters& pot_;
  const std::vector<UnvisitedDay>& days_;
  PotState state_;
  bool crossed_ = false;
};

/// Goes on from x on a day to the hour of return; stops once the line is crossed. `leave_day`: from
/// which the helper's days count.
bool comes_through(Unattended course, const Season& season, std::size_t day, double x,
                   std::size_t leave_day, const AbsenceOptions& options) {
  const std::size_t last_day = leave_day + static_cast<std::size_t>(options.days_to_return());
  const TripHelper& helper = options.helper;
  const Pouring pouring = helper.soaks ? Pouring::soaked_twice : Pouring::once;
  auto visit = helper.visits.begin();
  while (!course.crossed()) {
    for (; visit != helper.visits.end() && leave_day + static_cast<std::size_t>(visit->day) == day;
         ++visit) {
      const double at = season.spot[day].curve.share_by(visit->hour);
      course.dry(day, at - x);
      x = std::max(x, at);
      if (!course.crossed()) course.pour(helper.give_l, pouring);
    }
    const double stop = day == last_day ? season.return_at[day] : 1.0;
    course.dry(day, stop - x);
    if (day == last_day) break;
    course.begin(++day);
    x = 0.0;
  }
  return !course.crossed();
}

/// True if nothing is missing from a pot just watered.
bool is_full(const PotParameters& pot, const PotState& state) {
  return state.rooted_depletion_l <= 0.0 && state.unrooted_depletion_l <= 0.0 &&
         state.top_depletion_l <= 0.0 && state.mulch_water_l >= pot.mulch_store_l;
}

/// True if a full pot that is left on a day is sure to be full again after the next day's visit:
/// it keeps no water beside what watering fills, and not even full rates would dry rooted or
/// unrooted mix to where it sheds. The course between the two visits then need not be known.
bool fills_again(const PotParameters& pot, const std::vector<UnvisitedDay>& days,
                 const Season& season, std::size_t i) {
  if (pot.surplus_store_l > pot.watered_store_l) return false;
  const double lost = (1.0 - season.leave_at[i]) * days[i].most_lost_l +
                      season.leave_at[i + 1] * days[i + 1].most_lost_l;
  return lost < pot.refilled_l - pot.rewet_l;
}

/// Keeps the daily visits up to the last start: how the pot is left on each day.
void run_visits(PotInSeasons& one, const Season& season) {
  const PotParameters& pot = one.setting.pot;
  const std::vector<UnvisitedDay>& days = one.days;
  const Pouring pouring = routine_plan(one.setting.planting->routine).pouring;
  const auto watered = [&](const PotState& before) {
    return water(pot, before, litres_until_drained(pot, before, pouring), pouring).state;
  };
  // Of a pot that misses nothing a visit makes the same, however far its roots have come.
  PotState refilled = watered({});
  const bool refilled_is_full = is_full(pot, refilled);
  one.left.clear();
  one.refills.clear();
  Unattended course(pot, days);
  course.start({.rooted_share = pot.initial_rooted_share}, 0);
  course.begin(0);
  course.dry(0, season.leave_at[0]);
  one.left.push_back(watered(course.state()));
  bool full = is_full(pot, one.left.back());
  for (std::size_t i = 0;; ++i) {
    const bool has_next = i + 1 < days.size();
    const bool refills = has_next && full && fills_again(pot, days, season, i);
    one.refills.push_back(refills ? 1 : 0);
    if (i == season.starts.back()) return;
    if (refills) {
      refilled.rooted_share = days[i + 1].limits.rooted_share;
      one.left.push_back(refilled);
      full = refilled_is_full;
      continue;
    }
    course.start(one.left.back(), i);
    course.dry(i, 1.0 - season.leave_at[i]);
    course.begin(i + 1);
    course.dry(i + 1, season.leave_at[i + 1]);
    one.left.push_back(watered(course.state()));
    full = is_full(pot, one.left.back());
  }
}

/// One window, day by day. `at_visit_hour`: stops where the gardener's next visit would be.
bool run_window(const PotInSeasons& one, const Season& season, std::size_t start,
                bool at_visit_hour, const AbsenceOptions& options) {
  Unattended course(one.setting.pot, one.days);
  course.start(one.left[start], start);
  double x = season.leave_at[start];
  std::size_t day = start;
  if (at_visit_hour) {
    course.dry(day, 1.0 - x);
    course.begin(++day);
    x = season.leave_at[day];
    course.dry(day, x);
  }
  return comes_through(course, season, day, x, start, options);
}

void run_windows(PotInSeasons& one, const Season& season, const ModelParameters& model,
                 const AbsenceOptions& options, AbsencePot& answer) {
  if (season.starts.empty()) return;
  fill_pot_days(one, season, model, options.line);
  run_visits(one, season);
  const auto to_return = static_cast<std::size_t>(options.days_to_return());
  const auto settled = std::ranges::find_if(season.starts, [&](auto start) {
    return one.days[start].limits.rooted_share >= settled_share;
  });
  if (settled == season.starts.end()) return;
  const std::size_t first = *settled;
  one.sure.assign(one.left.size() - first, LeftAlone::open);
  if (options.helper.visits.empty()) {
    judge_left_alone(one.setting.pot, one.alone, first,
                     std::span<const PotState>(one.left).subspan(first), to_return, one.sure);
  }
  // A window is broken off for the course between two daily visits unless there is no such visit
  // in it, or that course need not be known.
  const bool on_its_own =
      options.away_h < units::hours_per_day || to_return == 0 || !options.helper.visits.empty();
  for (const std::size_t start : std::span(settled, season.starts.end())) {
    const LeftAlone sure = one.sure[start - first];
    const bool passed =
        sure == LeftAlone::within_line ||
        (sure == LeftAlone::open &&
         run_window(one, season, start, !on_its_own && one.refills[start] == 0, options));
    ++answer.windows;
    if (passed) {
      ++answer.passed;
    } else {
      answer.failed.push_back(season.planted + std::chrono::days(static_cast<int>(start)));
    }
  }
}

[[noreturn]] void refuse(const std::string& found, const std::string& expected) {
  throw RequestError(fmt::format("absence: found {}; expected {}", found, expected));
}

void check(const AbsenceOptions& options) {
  const auto expect = [](bool holds, const std::string& found, const std::string& expected) {
    if (!holds) refuse(found, expected);
  };
  (void)options.days_to_return();  // throws for hours out of their ranges
  for (const unsigned month : {options.first_month, options.last_month}) {
    expect(month >= 1 && month <= 12, fmt::format("month {}", month), "1 to 12");
  }
  if (options.start_day) {
    constexpr int a_leap_year = 2000;
    expect(options.start_day->in_year(a_leap_year).has_value(),
           fmt::format("{} as the day of leaving", to_string(*options.start_day)),
           "a day of the year");
  }
  expect(options.share > 0.0 && options.share <= 1.0,
         fmt::format("{:g} as the share of windows", options.share), "more than 0, up to 1");
  int day_before = 0;
  double hour_before = 0.0;
  for (const TripHelper::Visit& visit : options.helper.visits) {
    expect(visit.day >= 1 && visit.day < options.days_to_return() &&
               std::tie(visit.day, visit.hour) >= std::tie(day_before, hour_before) &&
               visit.hour >= 0.0 && visit.hour < units::hours_per_day,
           fmt::format("a helper on day {} at {:g} h", visit.day, visit.hour),
           "visits in order, after the day of leaving and before that of return");
    std::tie(day_before, hour_before) = std::tie(visit.day, visit.hour);
  }
  const double give_l = options.helper.give_l.value_or(most_given_l);
  expect(give_l > 0.0 && give_l <= most_given_l, fmt::format("a helper who gives {:g} L", give_l),
         fmt::format("more than nothing and up to {:g}", most_given_l));
}

struct SeasonAt {
  const Place* place = nullptr;
  Season season;
};

/// What all plantings of a crop at a spot meet that are in the ground on the same days.
struct Life {
  const Planting* planting = nullptr;  // one of them
  std::vector<SeasonAt> seasons{};     // place by place, year by year
  int summers = 0;                     // of them with a window
  std::vector<PlantingDays> days{};    // of those
};

/// The routine is left out: it does not matter to an absence.
bool same_life(const Planting& a, const Planting& b) {
  return same_crops(a, b) && a.spot == b.spot && a.planted == b.planted && a.ends == b.ends &&
         a.hardened == b.hardened && a.leaf_by_leaf == b.leaf_by_leaf && a.pruned == b.pruned;
}

Life life_of(const Planting& planting, Places places, const AbsenceOptions& options,
             const Wanted& wanted) {
  Life life{.planting = &planting};
  for (const Place& place : places) {
    for (const Date planted : planting_dates(planting, place.record())) {
      life.seasons.push_back({&place, season_of(planting, planted, place, options, wanted)});
      const Season& season = life.seasons.back().season;
      if (season.starts.empty()) continue;
      ++life.summers;
      if (wanted.whole_life) life.days.push_back({season.planted, season.last, season.ended_by});
    }
  }
  return life;
}

/// The least mix of those with the share asked; the first of equals.
std::optional<std::size_t> smallest_with(const std::vector<AbsencePot>& pots, double share) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < pots.size(); ++i) {
    const AbsencePot& pot = pots[i];
    if (!passes(pot, share)) continue;
    if (!best || pot.mix_l < pots[*best].mix_l) best = i;
  }
  return best;
}

AbsenceResult ask(Plantings candidates, Places places, const AbsenceOptions& options,
                  bool whole_lives) {
  check(options);
  check_places(places);
  if (options.rain_counts) {
    for (const Place& place : places) place.require_rain();
  }
  AbsenceResult result;
  std::vector<Life> lives;  // each worked out once for all candidates that share it
  PotInSeasons one;
  for (const Planting& candidate : candidates) {
    auto life = std::ranges::find_if(
        lives, [&](const Life& known) { return same_life(*known.planting, candidate); });
    if (life == lives.end()) {
      const bool one_plant = std::ranges::any_of(candidates, [&](const Planting& other) {
        return (other.plants == 1 || !other.beside.empty()) && same_life(other, candidate);
      });
      lives.push_back(life_of(candidate, places, options, {whole_lives, one_plant}));
      life = std::prev(lives.end());
    }
    AbsencePot& pot = result.pots.emplace_back(AbsencePot{.planting = &candidate,
                                                          .mix_l = candidate.pot.mix_l(),
                                                          .summers = life->summers,
                                                          .lives = life->days});
    const ModelParameters* set_for = nullptr;
    for (const SeasonAt& at : life->seasons) {
      const ModelParameters& model = at.place->model();
      if (set_for == nullptr || *set_for != model) {
        one.setting = planting_setting(candidate, build_pot(candidate, model), model);
        one.roots.clear();
        set_for = &model;
      }
      run_windows(one, at.season, model, options, pot);
    }
  }
  result.smallest = smallest_with(result.pots, options.share);
  return result;
}

}  // namespace

int AbsenceOptions::days_to_return() const {
  if (!(leave_h >= 0.0 && leave_h < units::hours_per_day)) {
    refuse(fmt::format("{:g} as the hour of leaving", leave_h), "0 to less than 24");
  }
  if (!(away_h > 0.0 && away_h <= most_away_h)) {
    refuse(fmt::format("{:g} hours away", away_h),
           fmt::format("more than 0 and up to {:.0f}", most_away_h));
  }
  return static_cast<int>(std::ceil((leave_h + away_h) / units::hours_per_day)) - 1;
}

double AbsenceOptions::return_h() const {
  return leave_h + away_h - units::hours_per_day * days_to_return();
}

Months warmest_months(Places places) {
  check_places(places);
  constexpr unsigned year_months = 12;
  constexpr double coldest_c = -100.0;
  struct Month {
    double sum_c = 0.0;
    int days = 0;
    [[nodiscard]] double mean_c() const { return days > 0 ? sum_c / days : coldest_c; }
  };
  std::array<Month, year_months> months;
  for (const Place& place : places) {
    const WeatherRecord& record = place.record();
    for (std::size_t i = 0; i < record.size(); ++i) {
      Month& month = months[month_of(record.date(i)) - 1];
      month.sum_c += (record.day(i).tmin_c + record.day(i).tmax_c) / 2.0;
      ++month.days;
    }
  }
  const auto sum_c = [&](unsigned first) {
    return months[first].mean_c() + months[(first + 1) % year_months].mean_c() +
           months[(first + 2) % year_months].mean_c();
  };
  unsigned first = 0;
  for (unsigned other = 1; other < year_months; ++other) {
    if (sum_c(other) >= sum_c(first)) first = other;
  }
  return {first + 1, (first + 2) % year_months + 1};
}

std::optional<double> AbsencePot::share() const {
  if (windows == 0) return std::nullopt;
  return static_cast<double>(passed) / windows;
}

bool passes(const AbsencePot& pot, double share) {
  return share_reached(pot.passed, static_cast<std::size_t>(pot.windows), share);
}

AbsenceResult absence(Plantings candidates, Places places, const AbsenceOptions& options) {
  return ask(candidates, places, options, true);
}

AbsenceResult absence_windows(Plantings candidates, Places places, const AbsenceOptions& options) {
  return ask(candidates, places, options, false);
}

}  // namespace wiltline
