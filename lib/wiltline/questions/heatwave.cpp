#include "wiltline/questions/heatwave.hpp"

#include <algorithm>
#include <array>

#include "wiltline/account/course.hpp"
#include "wiltline/account/dry_down.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"

namespace wiltline {
namespace {

constexpr double morning_h = 7.0;
constexpr double evening_h = 19.0;
constexpr std::array once_a_day{morning_h};
constexpr std::array twice_a_day{morning_h, evening_h};

HotSpell spell_at(const PreparedWeather& weather, std::size_t first, std::size_t days) {
  HotSpell spell{.first = weather.record().date(first), .days = static_cast<int>(days)};
  for (std::size_t i = first; i < first + days; ++i) {
    spell.mean_tmax_c += weather.record().day(i).tmax_c;
    spell.mean_et0_mm += weather.reference()[i].et0.total_mm();
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
  const CropSetting setting = crop_setting(planting, model);
  Development development(planting.crop, GrowthClock::stage_days, setting.first_leaf_share);
  while (!development.mid_season()) development.next_day(0.0);  // by days: no warmth is asked for
  std::vector<CropDay> days;
  for (const SpotDay& day : spot) days.push_back(crop_day(setting, day, development, model));
  return days;
}

/// Empty if the planting is not in the ground on every day of the spell.
std::optional<CropInSpell> crop_in_spell(const Planting& planting, PreparedWeather& weather,
                                         const HotSpell& spell, const ModelParameters& model,
                                         const HeatwaveOptions& options) {
  const WeatherRecord& record = weather.record();
  const std::vector<SpotDay>& spot = weather.at(planting.spot, model);
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
  std::vector<CropDay> crop =
      crop_life(planting, planted, record, spot, model, options.growth).days;
  const auto age = static_cast<std::size_t>((spell.first - planted).count());
  if (crop.size() < age + count) return std::nullopt;
  const auto begin = crop.begin() + static_cast<std::ptrdiff_t>(age);
  return CropInSpell{.planted = planted,
                     .age_days = static_cast<double>(age),
                     .days = {begin, begin + static_cast<std::ptrdiff_t>(count)}};
}

/// What a pot goes through, day by day, under a plan for each.
template <typename PlanOf, typename Note>
void run_spell(const PotParameters& pot, std::span<const RainlessDay> days, double age_days,
               const PlanOf& plan_of, const Note& note) {
  PotState state = just_watered(pot, std::max(age_days - 1.0, 0.0));  // roots grow at 00:00
  for (const RainlessDay& today : days) {
    const DayResult day = run_day(pot, state, today.forcing, plan_of(today));
    state = day.state;
    note(day);
  }
}

VisitedSpell visited_spell(const PotParameters& pot, std::span<const RainlessDay> days,
                           double age_days, std::span<const double> hours) {
  VisitedSpell visited;
  std::vector<Visit> visits;
  run_spell(
      pot, days, age_days,
      [&](const RainlessDay& today) {
        visits.clear();
        for (const double hour : hours) visits.push_back({.at = today.curve.share_by(hour)});
        return DayPlan{.give_l = {}, .visits = visits};
      },
      [&](const DayResult& day) {
        if (day.stressed_at) ++visited.stressed_days;
        if (day.wilting_at || day.dry_at) ++visited.wilting_days;
      });
  return visited;
}

HeatwavePot run_pot(const Planting& planting, const CropInSpell& crop,
                    std::span<const SpotDay> spot, const HotSpell& spell,
                    const ModelParameters& model) {
  const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
  const std::vector<RainlessDay> days =
      rainless_days(setting, crop.days, spot, crop.age_days, model);
  HeatwavePot result;
  result.planting = &planting;
  result.planted = crop.planted;
  for (const RainlessDay& day : days) {
    result.peak_use_l_day = std::max(result.peak_use_l_day, day.forcing.demand.potential_use_l());
  }
  run_spell(
      setting.pot, days, crop.age_days,
      [](const RainlessDay&) { return DayPlan{.as_needed = true, .give_l = {}, .visits = {}}; },
      [&](const DayResult& day) {
        result.waterings += day.waterings;
        result.most_waterings_a_day = std::max(result.most_waterings_a_day, day.waterings);
      });
  result.waterings_per_day = static_cast<double>(result.waterings) / spell.days;
  result.once_a_day = visited_spell(setting.pot, days, crop.age_days, once_a_day);
  result.twice_a_day = visited_spell(setting.pot, days, crop.age_days, twice_a_day);

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

std::optional<HotSpell> hottest_spell(const PreparedWeather& weather, int days, Heat by) {
  const auto count = static_cast<std::size_t>(days);
  std::optional<HotSpell> hottest;
  for (std::size_t first = 0; first + count <= weather.record().size(); ++first) {
    const HotSpell spell = spell_at(weather, first, count);
    const auto measure = [by](const HotSpell& of) {
      return by == Heat::tmax ? of.mean_tmax_c : of.mean_et0_mm;
    };
    if (!hottest || measure(spell) > measure(*hottest)) hottest = spell;
  }
  return hottest;
}

std::optional<HotSpell> longest_spell(const PreparedWeather& weather, double tmax_c,
                                      int fewest_days) {
  constexpr double rounding_c = 1e-9;  // of °F turned into °C
  const WeatherRecord& record = weather.record();
  const auto hot = [&](std::size_t i) { return record.day(i).tmax_c >= tmax_c - rounding_c; };
  std::optional<HotSpell> longest;
  std::size_t length = 0;
  for (std::size_t i = 0; i < record.size(); ++i) {
    length = hot(i) ? length + 1 : 0;
    const bool ends = i + 1 == record.size() || !hot(i + 1);
    if (!ends || length < static_cast<std::size_t>(fewest_days)) continue;
    const HotSpell spell = spell_at(weather, i + 1 - length, length);
    if (!longest || spell.days > longest->days ||
        (spell.days == longest->days && spell.mean_tmax_c > longest->mean_tmax_c)) {
      longest = spell;
    }
  }
  return longest;
}

std::optional<HotSpell> spell_from(const PreparedWeather& weather, Date first, int days) {
  const WeatherRecord& record = weather.record();
  const Date last = first + std::chrono::days(days - 1);
  if (!record.contains(first) || !record.contains(last)) return std::nullopt;
  return spell_at(weather, record.index_of(first), static_cast<std::size_t>(days));
}

WeatherRecord warmer(const WeatherRecord& record, double degrees_c,
                     const MissingDataOptions& missing) {
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
    const ReferenceDay reference = reference_day(record.site(), record.date(i), before, missing);
    if (reference.humidity_estimated()) after.vapour_pressure_kpa = reference.vapour_pressure_kpa;
    days.push_back(after);
  }
  return {record.name(), record.site(), record.first(), std::move(days), record.rain_observed()};
}

HeatwaveResult heatwave(std::span<const Planting> plantings, PreparedWeather& weather,
                        const HotSpell& spell, const ModelParameters& model,
                        const HeatwaveOptions& options) {
  HeatwaveResult result;
  for (const Planting& planting : plantings) {
    const auto crop = crop_in_spell(planting, weather, spell, model, options);
    if (!crop) {
      result.absent.push_back(&planting);
      continue;
    }
    const std::span<const SpotDay> spot = std::span<const SpotDay>(weather.at(planting.spot, model))
                                              .subspan(weather.record().index_of(spell.first));
    result.pots.push_back(run_pot(planting, *crop, spot, spell, model));
  }
  return result;
}

}  // namespace wiltline
