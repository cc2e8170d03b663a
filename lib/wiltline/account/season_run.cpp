#include "wiltline/account/season_run.hpp"

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
          .watered_l = day.watered_l,
          .drained_l = day.drained_l,
          .store_l = store_l(pot, day.state),
          .depletion_l = day.state.rooted_depletion_l,
          .refill_at_l = day.threshold_l,
          .available_l = day.taw_l,
          .ks = potential_l > 0.0 ? day.transpired_l / potential_l : 1.0,
          .stressed_at_h = hour(day.stressed_at),
          .wilting_at_h = hour(day.wilting_at),
          .dry_at_h = hour(day.dry_at),
          .care = care};
}

}  // namespace

SeasonResult run_pot(const PlantingSetting& setting, const Course& course,
                     const ModelParameters& model, bool ledger) {
  PotRun run(setting, model);
  const PlantingSetting* const settings[] = {&setting};
  SeasonSums<1> sums(settings, course, model, InstructionSet::baseline, run.full_size());
  std::vector<LedgerLine> lines;
  CareDays before;
  run_along(course, run, sums, [&](std::size_t day) {
    if (!ledger) return;
    const CareDays so_far = sums.care(0);
    lines.push_back(
        ledger_line(course.days[day], course.date(day), run, setting.pot, so_far.since(before)));
    before = so_far;
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
