#include "wiltline/questions/absence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <tuple>

#include "wiltline/account/course.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/units.hpp"
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

Season season_of(const Planting& planting, Date planted, const Place& place,
                 const AbsenceOptions& options) {
  const std::vector<SpotDay>& days = place.at(planting.spot);
  const WeatherRecord& record = place.record();
  Season season{.planted = planted};
  const CropEnd end = crop_end(planting, planted, record, days, place.model(), options.growth);
  season.last = end.last;
  season.ended_by = end.ended_by;
  const auto to_return = static_cast<std::size_t>(options.days_to_return());
  const auto length = static_cast<std::size_t>((end.last - planted).count()) + 1;
  for (std::size_t i = 0; i + to_return < length; ++i) {
    if (options.starts_on(planted + std::chrono::days(static_cast<int>(i)))) {
      season.starts.push_back(i);
    }
  }
  if (season.starts.empty()) return season;
  // Nothing after the last window matters.
  season.crop = crop_days(planting, planted, record, days, place.model(), options.growth,
                          season.starts.back() + to_return + 1);
  const std::size_t first = record.index_of(planted);
  season.spot = &days[first];
  for (std::size_t i = 0; i < season.crop.size(); ++i) {
    if (!options.rain_counts) season.crop[i].rain_mm = 0.0;
    const DemandCurve& curve = days[first + i].curve;
    season.leave_at.push_back(curve.share_by(options.leave_h));
    season.return_at.push_back(options.return_h() == options.leave_h
                                   ? season.leave_at.back()
                                   : curve.share_by(options.return_h()));
  }
  return season;
}

/// Nothing is to be reported.
constexpr LineDepletions no_lines{kernel::out_of_reach, kernel::out_of_reach, kernel::out_of_reach,
                                  kernel::out_of_reach};

/// A day of one pot, worked out once for all windows that hold it.
struct UnvisitedDay {
  DayForcing forcing;
  IntervalLimits limits{};
  kernel::PlainLimits plain{};
  double line_l = 0.0;  // the depletion not to be crossed
  // Both as if the whole mix were like its rooted part, which loses more a litre than the rest.
  double line_whole_l = 0.0;
  double most_lost_l = 0.0;  // in a day at full rates
};

/// How far a pot's roots have come on a day since planting, in whatever season.
struct Rooted {
  double share = 1.0;      // of the mix
  double top_share = 1.0;  // kernel::rooted_top_share
};

/// A pot and what holds of it in all its seasons; days are worked out one season at a time.
struct PotInSeasons {
  PlantingSetting setting{};
  std::vector<Rooted> roots{};
  std::vector<UnvisitedDay> days{};
};

void fill_pot_days(PotInSeasons& one, const Season& season, const ModelParameters& model,
                   Line line) {
  const PlantingSetting& setting = one.setting;
  std::vector<UnvisitedDay>& days = one.days;
  days.clear();
  for (std::size_t i = 0; i < season.crop.size(); ++i) {
    UnvisitedDay day{.forcing =
                         planting_day(setting, season.crop[i], static_cast<double>(i), model).day};
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
    day.plain = plain_limits(day.limits, no_lines);
    day.line_l = line_depletions(setting.pot, day.limits)[static_cast<std::size_t>(line)];
    const FullRates& rates = day.forcing.full_rates;
    day.line_whole_l = day.line_l / roots.share;
    day.most_lost_l = rates.rooted_use_l(roots.share, roots.top_share) / roots.share;
    days.push_back(day);
  }
}

/// A pot left to itself.
class Unattended {
 public:
  Unattended(const PotParameters& pot, const std::vector<UnvisitedDay>& days)
      : pot_(pot), days_(days) {}

  [[nodiscard]] const PotState& state() const { return state_; }
  [[nodiscard]] bool crossed() const { return crossed_; }

  /// Takes up at an instant of a day.
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
    state_ = dried(today.forcing.full_rates, today.limits, no_lines, today.plain, state_, dx);
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

/// True if not even full rates bring a full pot to the line before the return: its course need not
/// be known.
bool passes_at_full_rates(const std::vector<UnvisitedDay>& days, const Season& season,
                          std::size_t day, std::size_t last_day) {
  double x = season.leave_at[day];
  double lost = 0.0;
  for (; day <= last_day; ++day) {
    const double stop = day == last_day ? season.return_at[day] : 1.0;
    lost += (stop - x) * days[day].most_lost_l;
    if (lost >= days[day].line_whole_l) return false;
    x = 0.0;
  }
  return true;
}

void run_windows(PotInSeasons& one, const Season& season, const ModelParameters& model,
                 const AbsenceOptions& options, AbsencePot& answer) {
  if (season.starts.empty()) return;
  const PotParameters& pot = one.setting.pot;
  const Planting& planting = *one.setting.planting;
  fill_pot_days(one, season, model, options.line);
  const std::vector<UnvisitedDay>& days = one.days;
  const Pouring pouring = routine_plan(planting.routine).pouring;
  const auto to_return = static_cast<std::size_t>(options.days_to_return());
  // The first day away is also the day between two daily visits, unless the gardener is back by
  // then or a helper comes.
  const bool on_its_own =
      options.away_h < units::hours_per_day || to_return == 0 || !options.helper.visits.empty();

  const auto watered = [&](const PotState& before) {
    return water(pot, before, litres_until_drained(pot, before, pouring), pouring).state;
  };

  Unattended course(pot, days);
  course.start({.rooted_share = pot.initial_rooted_share}, 0);
  course.begin(0);
  course.dry(0, season.leave_at[0]);
  PotState left = watered(course.state());
  auto start = season.starts.begin();
  for (std::size_t i = 0; start != season.starts.end(); ++i) {
    const bool is_start_day = i == *start;
    const bool is_start = is_start_day && days[i].limits.rooted_share >= settled_share;
    const bool has_next = i + 1 < days.size();
    const bool full = is_full(pot, left);
    const bool sure = has_next && full && fills_again(pot, days, season, i);
    bool passed = is_start && full && passes_at_full_rates(days, season, i, i + to_return);
    const bool open = is_start && !passed;
    course.start(left, i);
    if (open && (on_its_own || sure)) {
      passed = comes_through(course, season, i, season.leave_at[i], i, options);
    }
    if (sure) {
      left = watered({.rooted_share = days[i + 1].limits.rooted_share});
    } else if (has_next) {
      course.dry(i, 1.0 - season.leave_at[i]);
      course.begin(i + 1);
      course.dry(i + 1, season.leave_at[i + 1]);
      if (open && !on_its_own) {
        passed = comes_through(course, season, i + 1, season.leave_at[i + 1], i, options);
      }
      left = watered(course.state());
    }
    if (is_start_day) ++start;
    if (!is_start) continue;
    ++answer.windows;
    if (passed) {
      ++answer.passed;
    } else {
      answer.failed.push_back(season.planted + std::chrono::days(static_cast<int>(i)));
    }
  }
}

void check(const AbsenceOptions& options) {
  const auto expect = [](bool holds, const std::string& found, const char* expected) {
    if (!holds) throw RequestError(fmt::format("absence: found {}; expected {}", found, expected));
  };
  expect(options.leave_h >= 0.0 && options.leave_h < units::hours_per_day,
         fmt::format("{:g} as the hour of leaving", options.leave_h), "0 to less than 24");
  expect(options.away_h > 0.0 && std::isfinite(options.away_h),
         fmt::format("{:g} hours away", options.away_h), "more than 0");
  for (const unsigned month : {options.first_month, options.last_month}) {
    expect(month >= 1 && month <= 12, fmt::format("month {}", month), "1 to 12");
  }
  expect(options.share >= 0.0 && options.share <= 1.0,
         fmt::format("{:g} as the share of windows", options.share), "0 to 1");
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
  expect(options.helper.give_l.value_or(1.0) > 0.0,
         fmt::format("a helper who gives {:g} L", options.helper.give_l.value_or(1.0)),
         "more than nothing");
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

Life life_of(const Planting& planting, Places places, const AbsenceOptions& options) {
  Life life{.planting = &planting};
  for (const Place& place : places) {
    for (const Date planted : planting_dates(planting, place.record())) {
      life.seasons.push_back({&place, season_of(planting, planted, place, options)});
      const Season& season = life.seasons.back().season;
      if (season.starts.empty()) continue;
      ++life.summers;
      life.days.push_back({season.planted, season.last, season.ended_by});
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

}  // namespace

int AbsenceOptions::days_to_return() const {
  return static_cast<int>(std::ceil((leave_h + away_h) / units::hours_per_day)) - 1;
}

double AbsenceOptions::return_h() const {
  return leave_h + away_h - units::hours_per_day * days_to_return();
}

Months warmest_months(Places places) {
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

bool AbsenceOptions::starts_on(Date date) const {
  if (start_day) return start_day->nearest_in_year(year_of(date)) == date;
  const unsigned month = month_of(date);
  return first_month <= last_month ? month >= first_month && month <= last_month
                                   : month >= first_month || month <= last_month;
}

std::optional<double> AbsencePot::share() const {
  if (windows == 0) return std::nullopt;
  return static_cast<double>(passed) / windows;
}

bool passes(const AbsencePot& pot, double share) {
  return share_reached(pot.passed, static_cast<std::size_t>(pot.windows), share);
}

AbsenceResult absence(Plantings candidates, Places places, const AbsenceOptions& options) {
  check(options);
  refuse_repeated(places);
  if (options.rain_counts) {
    for (const Place& place : places) place.require_rain();
  }
  AbsenceResult result;
  std::vector<Life> lives;  // each worked out once for all candidates that share it
  PotInSeasons one;
  for (const Planting& candidate : candidates) {
    auto life = std::find_if(lives.begin(), lives.end(), [&](const Life& known) {
      return same_life(*known.planting, candidate);
    });
    if (life == lives.end()) {
      lives.push_back(life_of(candidate, places, options));
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

}  // namespace wiltline
