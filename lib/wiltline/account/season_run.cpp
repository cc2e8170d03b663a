#include "wiltline/account/season_run.hpp"

#include <algorithm>
#include <array>
#include <iterator>

#include "wiltline/account/pot_run.hpp"
#include "wiltline/account/season_sums.hpp"
#include "wiltline/budget/watering.hpp"

namespace wiltline {
namespace {

/// Takes pots along a course, a day at a time. `note` is called after each day.
template <std::size_t width, typename Pots, typename Note>
void run_along(const Course& course, Pots& pots, SeasonSums<width>& sums, const Note& note) {
  for (std::size_t day = 0; day < course.days.size(); ++day) {
    const CourseDay& today = course.days[day];
    sums.add(pots.run_day(today.crop, today.age_days, course.plan(day), today.spot->curve));
    note(day);
  }
  sums.finish();
}

/// Goes through a day again, from the state it began in, and looks at the water every three hours
/// and before and after whatever happens.
std::vector<WaterLeft> water_left(const PotParameters& pot, const PotState& begun,
                                  const DayForcing& forcing, Pouring pouring, const DayResult& ran,
                                  const DemandCurve& curve) {
  DayInProgress day(pot, begun, forcing);
  const LineDepletions lines = line_depletions(
      pot, interval_limits(pot, forcing.depletion_fraction, day.state().rooted_share));
  const auto depletion_at = [&](Line line) { return lines[static_cast<std::size_t>(line)]; };
  constexpr Line worst_first[]{Line::dry, Line::wilting, Line::stressed};
  std::vector<WaterLeft> left;
  const auto look = [&](double hour, double poured_l = 0.0) {
    const double depletion_l = day.state().rooted_depletion_l;
    WaterLeft now{
        .hour = hour, .litres = std::max(ran.taw_l - depletion_l, 0.0), .poured_l = poured_l};
    for (const Line line : worst_first) {
      if (now.beyond || depletion_l <= depletion_at(line)) continue;
      now.beyond = line;
    }
    left.push_back(now);
  };
  std::array<bool, std::size(worst_first)> passed{};
  const auto watch = [&] {
    day.watch_from_here();
    for (std::size_t i = 0; i < passed.size(); ++i) {
      passed[i] = day.state().rooted_depletion_l > depletion_at(worst_first[i]);
    }
  };
  const auto dry_until = [&](double x) {
    day.dry_until(x);
    const std::optional<double> at[]{day.so_far().dry_at, day.so_far().wilting_at,
                                     day.so_far().stressed_at};
    for (std::size_t i = passed.size(); i-- > 0;) {
      if (passed[i] || !at[i]) continue;
      passed[i] = true;
      left.push_back({.hour = curve.hours_at(*at[i]),
                      .litres = std::max(ran.taw_l - depletion_at(worst_first[i]), 0.0),
                      .beyond = worst_first[i],
                      .crossing = true});
    }
  };
  day.take_rain({});
  watch();
  auto refill = ran.refills.begin();
  constexpr int step_h = 3;
  for (int hour = 0; hour <= 24; hour += step_h) {
    const double x = curve.share_by(hour);
    for (; refill != ran.refills.end() && refill->at <= x; ++refill) {
      if (refill->poured_l <= 0.0) continue;  // rain, taken already
      dry_until(refill->at);
      look(curve.hours_at(refill->at));
      day.pour(refill->poured_l, pouring);
      watch();
      look(curve.hours_at(refill->at), refill->poured_l);
    }
    dry_until(x);
    look(hour);
  }
  return left;
}

LedgerLine ledger_line(const CourseDay& today, Date date, const PotRun& run,
                       const PotParameters& pot, const CareDays& care) {
  const DayResult& day = run.result();
  const double potential_l = run.forcing().day.full_rates.transpiration_l;
  const auto hour = [&](const std::optional<double>& x) {
    return x ? std::optional(today.spot->curve.hours_at(*x)) : std::nullopt;
  };
  return {.date = date,
          .et0_mm = today.spot->open_et0_mm,
          .canopy_m2 = run.forcing().canopy_m2,
          .potential_transpiration_l = potential_l,
          .transpired_l = day.transpired_l,
          .evaporated_l = day.evaporated_l,
          .rain_l = day.rain_l,
          .waterings = day.waterings,
          .watered_l = day.watered_l,
          .drained_l = day.drained_l,
          .store_l = store_l(pot, day.state),
          .depletion_l = day.state.rooted_depletion_l,
          .refill_at_l = day.threshold_l,
          .ks = potential_l > 0.0 ? day.transpired_l / potential_l : 1.0,
          .stressed_at_h = hour(day.stressed_at),
          .wilting_at_h = hour(day.wilting_at),
          .dry_at_h = hour(day.dry_at),
          .settled = day.state.rooted_share >= settled_share,
          .care = care,
          .left = {}};
}

}  // namespace

SeasonResult run_pot(const PlantingSetting& setting, const Course& course,
                     const ModelParameters& model, bool ledger, bool hours) {
  PotRun run(setting, model);
  const PlantingSetting* const settings[] = {&setting};
  SeasonSums<1> sums(settings, course, model, InstructionSet::baseline, run.full_size());
  std::vector<LedgerLine> lines;
  CareDays before;
  PotState begun{.rooted_share = setting.pot.initial_rooted_share};
  run_along(course, run, sums, [&](std::size_t day) {
    if (!ledger) return;
    const CareDays so_far = sums.care(0);
    lines.push_back(
        ledger_line(course.days[day], course.date(day), run, setting.pot, so_far.since(before)));
    if (hours) {
      lines.back().left =
          water_left(setting.pot, begun, run.forcing().day, course.plan(day).pouring, run.result(),
                     course.days[day].spot->curve);
    }
    before = so_far;
    begun = run.result().state;
  });
  SeasonResult result =
      sums.result(0, run.longest_gap_days(static_cast<double>(course.days.size())));
  result.ledger = std::move(lines);
  return result;
}

std::size_t run_chunk(std::span<const PlantingSetting* const> settings, const Course& course,
                      const ModelParameters& model, InstructionSet set,
                      std::span<SeasonResult* const> results) {
  PotChunk chunk(settings, model, set);
  SeasonSums<chunk_pots> sums(settings, course, model, set, chunk.full_size());
  run_along(course, chunk, sums, [](std::size_t) {});
  const auto days = static_cast<double>(course.days.size());
  for (std::size_t i = 0; i < settings.size(); ++i) {
    *results[i] = sums.result(i, chunk.longest_gap_days(i, days));
  }
  return chunk.exact_pot_days();
}

}  // namespace wiltline
