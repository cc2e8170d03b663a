#include "wiltline/questions/heatwave.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "wiltline/account/course.hpp"
#include "wiltline/account/dry_down.hpp"
#include "wiltline/account/pot_run.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"

namespace wiltline {
namespace {

constexpr double morning_h = 7.0;
constexpr double evening_h = 19.0;
constexpr std::array once_a_day{morning_h};
constexpr std::array twice_a_day{morning_h, evening_h};

void require_days(int days) {
  if (days < 1)
    throw RequestError(fmt::format("found {} days of a spell; expected 1 or more", days));
}

HotSpell spell_at(const Place& place, std::size_t first, std::size_t days) {
  HotSpell spell{.first = place.record().date(first), .days = static_cast<int>(days)};
  for (std::size_t i = first; i < first + days; ++i) {
    spell.mean_tmax_c += place.record().day(i).tmax_c;
    spell.mean_et0_mm += place.reference()[i].et0.total_mm();
  }
  spell.mean_tmax_c /= static_cast<double>(days);
  spell.mean_et0_mm /= static_cast<double>(days);
  return spell;
}

/// A planting's crop on each day of a spell, and its age on the first.
struct CropInSpell {
  std::optional<Date> planted;
  double age_days = 0.0;
  std::vector<CropDay> days;
};

std::vector<CropDay> full_grown_days(const Planting& planting, std::span<const SpotDay> spot,
                                     const ModelParameters& model) {
  struct Grown {
    CropSetting setting;
    Development development;
  };
  std::vector<Grown> crops;
  const auto grow = [&](const Crop& crop) {
    const CropSetting setting = crop_setting(planting, crop, model);
    Development development(crop, GrowthClock::stage_days, model.leaf_curve(),
                            setting.first_leaf_share);
    while (!development.mid_season()) development.next_day(0.0);  // by days: no warmth is asked for
    crops.push_back({setting, development});
  };
  grow(planting.crop);
  for (const CropPlants& other : planting.beside) grow(other.crop);
  std::vector<CropDay> days;
  for (const SpotDay& day : spot) {
    std::vector<std::optional<CropDay>> today;
    for (const Grown& one : crops) {
      today.emplace_back(crop_day(one.setting, day, one.development, model));
    }
    days.push_back(planting.beside.empty() ? *today.front() : mixed_day(planting, today));
  }
  return days;
}

/// Empty if the planting is not in the ground on every day of the spell.
std::optional<CropInSpell> crop_in_spell(const Planting& planting, const Place& place,
                                         const HotSpell& spell, const HeatwaveOptions& options) {
  const WeatherRecord& record = place.record();
  const ModelParameters& model = place.model();
  const std::vector<SpotDay>& spot = place.at(planting.spot);
  const auto count = static_cast<std::size_t>(spell.days);
  if (options.full_grown) {
    return CropInSpell{
        .planted = std::nullopt,
        .age_days = model.root_fill_days,
        .days = full_grown_days(
            planting, std::span(spot).subspan(record.index_of(spell.first), count), model)};
  }
  std::vector<Date> dates = planting_dates(planting, record);
  while (!dates.empty() && dates.back() > spell.first) dates.pop_back();
  if (dates.empty()) return std::nullopt;
  const Date planted = dates.back();
  const auto age = static_cast<std::size_t>((spell.first - planted).count());
  const std::vector<CropDay> crop =
      crop_days(planting, planted, record, spot, model, options.growth, age + count);
  if (crop.size() < age + count) return std::nullopt;
  const auto begin = crop.begin() + static_cast<std::ptrdiff_t>(age);
  return CropInSpell{.planted = planted,
                     .age_days = static_cast<double>(age),
                     .days = {begin, begin + static_cast<std::ptrdiff_t>(count)}};
}

/// A pot that has just been watered goes through a spell without rain, under a plan for each day.
template <typename PlanOf, typename Note>
void run_spell(const PlantingSetting& setting, const CropInSpell& crop,
               std::span<const SpotDay> spot, const ModelParameters& model, const PlanOf& plan_of,
               const Note& note) {
  // Roots grow at 00:00.
  PotRun run(setting, model, just_watered(setting.pot, std::max(crop.age_days - 1.0, 0.0)));
  for (std::size_t i = 0; i < crop.days.size(); ++i) {
    CropDay today = crop.days[i];
    today.rain_mm = 0.0;
    run.run_day(today, crop.age_days + static_cast<double>(i), plan_of(spot[i].curve),
                spot[i].curve);
    note(run);
  }
}

VisitedSpell visited_spell(const PlantingSetting& setting, const CropInSpell& crop,
                           std::span<const SpotDay> spot, const ModelParameters& model,
                           std::span<const double> hours) {
  VisitedSpell visited;
  std::vector<Visit> visits;
  run_spell(
      setting, crop, spot, model,
      [&](const DemandCurve& curve) {
        visits.clear();
        for (const double hour : hours) visits.push_back({.at = curve.share_by(hour)});
        return DayPlan{.give_l = {}, .visits = visits};
      },
      [&](const PotRun& run) {
        const DayResult& day = run.result();
        if (day.stressed_at) ++visited.stressed_days;
        if (day.wilting_at || day.dry_at) ++visited.wilting_days;
      });
  return visited;
}

HeatwavePot run_pot(const Planting& planting, const CropInSpell& crop,
                    std::span<const SpotDay> spot, const HotSpell& spell,
                    const ModelParameters& model) {
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  HeatwavePot result;
  result.planting = &planting;
  result.planted = crop.planted;
  run_spell(
      setting, crop, spot, model,
      [](const DemandCurve&) { return DayPlan{.as_needed = true, .give_l = {}, .visits = {}}; },
      [&](const PotRun& run) {
        result.peak_use_l_day =
            std::max(result.peak_use_l_day, run.forcing().day.full_rates.potential_use_l());
        result.waterings += run.result().waterings;
        result.most_waterings_a_day = std::max(result.most_waterings_a_day, run.result().waterings);
      });
  result.waterings_per_day = static_cast<double>(result.waterings) / spell.days;
  result.once_a_day = visited_spell(setting, crop, spot, model, once_a_day);
  result.twice_a_day = visited_spell(setting, crop, spot, model, twice_a_day);

  const std::vector<RainlessDay> days =
      rainless_days(setting, crop.days, spot, crop.age_days, model);
  double soonest_days = 1.0;  // the next morning
  for (std::size_t i = 0; i < days.size(); ++i) {
    const std::size_t until_next_morning = std::min<std::size_t>(2, days.size() - i);
    const auto passing =
        dry_down(setting.pot, std::span<const RainlessDay>(days).subspan(i, until_next_morning),
                 crop.age_days + static_cast<double>(i), morning_h, Line::threshold);
    if (!passing || passing->days_from(morning_h) >= soonest_days) continue;
    soonest_days = passing->days_from(morning_h);
    result.refill_at_h = passing->clock_h;
    result.refill_on = spell.first + std::chrono::days(static_cast<int>(i));
  }
  return result;
}

}  // namespace

std::optional<HotSpell> hottest_spell(const Place& place, int days, Heat by,
                                      const SpellIs& preferred) {
  require_days(days);
  const auto count = static_cast<std::size_t>(days);
  std::optional<HotSpell> hottest;
  for (std::size_t first = 0; first + count <= place.record().size(); ++first) {
    const HotSpell spell = spell_at(place, first, count);
    const auto measure = [by](const HotSpell& of) {
      return by == Heat::tmax ? of.mean_tmax_c : of.mean_et0_mm;
    };
    if (hottest && measure(spell) <= measure(*hottest)) continue;
    if (!preferred || preferred(spell)) hottest = spell;
  }
  return hottest || !preferred ? hottest : hottest_spell(place, days, by);
}

std::optional<HotSpell> longest_spell(const Place& place, double tmax_c, int fewest_days,
                                      const SpellIs& preferred) {
  require_days(fewest_days);
  constexpr double rounding_c = 1e-9;  // of °F turned into °C
  const WeatherRecord& record = place.record();
  const auto hot = [&](std::size_t i) { return record.day(i).tmax_c >= tmax_c - rounding_c; };
  std::optional<HotSpell> longest;
  std::size_t length = 0;
  for (std::size_t i = 0; i < record.size(); ++i) {
    length = hot(i) ? length + 1 : 0;
    const bool ends = i + 1 == record.size() || !hot(i + 1);
    if (!ends || length < static_cast<std::size_t>(fewest_days)) continue;
    const HotSpell spell = spell_at(place, i + 1 - length, length);
    if (preferred && !preferred(spell)) continue;
    if (!longest || spell.days > longest->days ||
        (spell.days == longest->days && spell.mean_tmax_c > longest->mean_tmax_c)) {
      longest = spell;
    }
  }
  return longest || !preferred ? longest : longest_spell(place, tmax_c, fewest_days);
}

std::optional<HotSpell> spell_from(const Place& place, Date first, int days) {
  require_days(days);
  const WeatherRecord& record = place.record();
  const Date last = first + std::chrono::days(days - 1);
  if (!record.contains(first) || !record.contains(last)) return std::nullopt;
  return spell_at(place, record.index_of(first), static_cast<std::size_t>(days));
}

WeatherRecord warmer(const WeatherRecord& record, double degrees_c,
                     const MissingDataOptions& missing) {
  if (!(degrees_c >= 0.0)) {
    throw RequestError(fmt::format("found {:g} degrees warmer; expected 0 or more", degrees_c));
  }
  const auto lower = [](std::optional<double>& humidity_pct, double before_kpa, double after_kpa) {
    if (humidity_pct) *humidity_pct *= before_kpa / after_kpa;
  };
  std::vector<WeatherDay> days;
  days.reserve(record.size());
  for (std::size_t i = 0; i < record.size(); ++i) {
    const WeatherDay& before = record.day(i);
    WeatherDay after = before;
    after.tmin_c += degrees_c;
    after.tmax_c += degrees_c;
    lower(after.rh_max_pct, saturation_vapour_pressure_kpa(before.tmin_c),
          saturation_vapour_pressure_kpa(after.tmin_c));
    lower(after.rh_min_pct, saturation_vapour_pressure_kpa(before.tmax_c),
          saturation_vapour_pressure_kpa(after.tmax_c));
    lower(after.rh_mean_pct, mean_saturation_vapour_pressure_kpa(before.tmax_c, before.tmin_c),
          mean_saturation_vapour_pressure_kpa(after.tmax_c, after.tmin_c));
    // Each is lowered by its own share: a mean that was just inside its extremes stays there.
    if (after.rh_mean_pct && after.rh_max_pct) {
      after.rh_mean_pct = std::min(*after.rh_mean_pct, *after.rh_max_pct);
    }
    if (after.rh_mean_pct && after.rh_min_pct && !after.rh_max_pct) {
      after.rh_min_pct = std::min(*after.rh_mean_pct, *after.rh_min_pct);
    }
    const ReferenceDay reference = reference_day(record.site(), record.date(i), before, missing);
    if (reference.humidity_estimated()) after.vapour_pressure_kpa = reference.vapour_pressure_kpa;
    days.push_back(after);
  }
  return WeatherRecord(record.name(), record.site(), record.first(), std::move(days),
                       record.rain_observed())
      .as_generated(record.generated());
}

SpellIs grown_through(Plantings plantings, const Place& place, const HeatwaveOptions& options) {
  if (options.full_grown) return {};
  struct Season {
    Date first{};
    Date last{};
    Date next{};  // planting day: what then stands there is another
  };
  std::vector<Season> seasons;
  for (const Planting& planting : plantings) {
    Date next = Date::max();
    std::vector<Date> dates = planting_dates(planting, place.record());
    for (auto planted = dates.rbegin(); planted != dates.rend(); ++planted) {
      const std::size_t days = crop_days(planting, *planted, place.record(),
                                         place.at(planting.spot), place.model(), options.growth)
                                   .size();
      seasons.push_back({*planted, *planted + std::chrono::days(static_cast<int>(days) - 1), next});
      next = *planted;
    }
  }
  return [seasons = std::move(seasons)](const HotSpell& spell) {
    return std::any_of(seasons.begin(), seasons.end(), [&](const Season& season) {
      return season.first <= spell.first && spell.first < season.next &&
             spell.last() <= season.last;
    });
  };
}

HeatwaveResult heatwave(Plantings plantings, const Place& place, const HotSpell& spell,
                        const HeatwaveOptions& options) {
  require_days(spell.days);
  const std::size_t first = place.record().index_of(spell.first);
  (void)place.record().index_of(spell.last());  // throws for a day outside the record
  HeatwaveResult result;
  result.spell = spell;
  for (const Planting& planting : plantings) {
    const auto crop = crop_in_spell(planting, place, spell, options);
    if (!crop) {
      result.absent.push_back(&planting);
      continue;
    }
    const std::span<const SpotDay> spot =
        std::span<const SpotDay>(place.at(planting.spot)).subspan(first);
    result.pots.push_back(run_pot(planting, *crop, spot, spell, place.model()));
  }
  return result;
}

HeatwaveResult heatwave(Plantings plantings, const Place& place, const HeatwaveOptions& options) {
  constexpr int usual_days = 5;
  const auto spell =
      hottest_spell(place, usual_days, Heat::tmax, grown_through(plantings, place, options));
  if (!spell) {
    throw RequestError(fmt::format("{}: found {} days; expected {} or more for a hot spell",
                                   place.record().name(), place.record().size(), usual_days));
  }
  return heatwave(plantings, place, *spell, options);
}

}  // namespace wiltline
