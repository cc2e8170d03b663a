#include "wiltline/questions/pot_account.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "wiltline/account/course.hpp"
#include "wiltline/account/journey.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/reading_errors.hpp"

namespace wiltline {
namespace {

namespace errors = reading_errors;

// What is judged, beside the ranges of the model tables and reading_errors.
constexpr double least_use_error = 0.15;     // plants of a crop differ, as shares
constexpr double least_usable_error = 0.10;  // pots are not filled alike
constexpr double least_wall_error = 0.10;
constexpr double least_day_l = 0.01;
constexpr std::uint64_t prior_draws = 32;

/// Half its square is -log(chance).
double yes_no_residual(bool yes, double above) {
  return std::sqrt(-2.0 * std::log(yes_no_chance(yes, above)));
}

}  // namespace

double yes_no_chance(bool yes, double above) {
  const double chance = 0.5 * std::erfc((yes ? -above : above) / std::sqrt(2.0));
  return errors::wrong_answer_share / 2.0 + (1.0 - errors::wrong_answer_share) * chance;
}

Foretold foretold(const PotParameters& pot, const PotState& state, const Reading& reading,
                  const Pouring& pouring) {
  switch (reading.kind) {
    case ReadingKind::wilted:
    case ReadingKind::not_wilted: {
      const double taw_l = pot.total_available_l * state.rooted_share;
      return {state.rooted_depletion_l - pot.wilting_fraction * taw_l,
              errors::wilting_line_error_share * taw_l, -1.0};
    }
    case ReadingKind::watered: {
      const double litres = given_l(pot, state, reading, pouring);
      const double drained_l = water(pot, state, litres, pouring).drained_l;
      const double a_litre = !(drained_l > 0.0) ? 0.0
                             : reading.given_l  ? 1.0
                                                : -pot.drained_share / (1.0 - pot.drained_share);
      return {drained_l, errors::drained_error_share * litres + errors::drained_error_l, a_litre};
    }
    default:
      return {kernel::top_deficit(depletions(state), pot.top_draw_share) - pot.top_dry_limit_l,
              errors::top_limit_error_share * pot.top_dry_limit_l, -pot.top_draw_share};
  }
}

double given_l(const PotParameters& pot, const PotState& state, const Reading& watering,
               const Pouring& pouring) {
  return watering.given_l.value_or(std::max(0.0, litres_until_drained(pot, state, pouring)));
}

double scale_variance(double weight_kg, double scale_error_kg) {
  return square(scale_error_kg) + square(errors::scale_share * weight_kg);
}

std::vector<Instant> implied_waterings(const std::vector<Reading>& readings,
                                       std::vector<Instant> watered) {
  constexpr double just_before_h = 1.0;
  std::vector<Instant> implied;
  for (const Reading& one : readings) {
    const auto told = [&](const Instant& when) {
      return when.date == one.when.date && when.hour <= one.when.hour &&
             when.hour >= one.when.hour - just_before_h;
    };
    if (one.kind != ReadingKind::weighed_after || std::ranges::any_of(watered, told)) {
      continue;
    }
    watered.push_back(one.when);
    implied.push_back(one.when);
  }
  return implied;
}

Learned learned_of(const PotParameters& tables, double use, double usable, double wall) {
  Learned learned;
  learned.use_factor = std::exp(use);
  learned.usable_l =
      std::min(tables.total_available_l * std::exp(usable), tables.mix_l - tables.lower_limit_l);
  learned.wall_factor = std::exp(wall);
  return learned;
}

bool says_something(const Reading& reading) {
  return reading.kind != ReadingKind::watered || reading.drained_l.has_value();
}

bool is_yes_no(ReadingKind kind) {
  return is_yes(kind) || kind == ReadingKind::top_felt_moist || kind == ReadingKind::not_wilted;
}

bool is_yes(ReadingKind kind) {
  return kind == ReadingKind::top_felt_dry || kind == ReadingKind::wilted;
}

PotAccount::PotAccount(const PotReadings& readings, const Place& place, const Catalogue& catalogue,
                       const CalibrationOptions& options)
    : planting_(*readings.planting), place_(place), options_(options) {
  planting_.learned = {};
  days_ = &place.at(planting_.spot);
  pot_ = build_pot(planting_, place.model());
  sort_seasons(readings.readings);
  set_priors(catalogue);
}

double PotAccount::dry_mix_kg() const {
  return wiltline::dry_mix_kg(planting_.mix, pot_.mix_l);
}

void PotAccount::set_variances(const PotNumbers& numbers) {
  for (Season& season : seasons_) {
    season.variance.assign(season.readings.size(), 0.0);
    (void)run(numbers, season, &season.variance);
  }
}

std::vector<Residual> PotAccount::residuals(const PotNumbers& numbers) const {
  std::vector<Residual> all;
  for (const Season& season : seasons_) {
    const std::vector<Residual> of = run(numbers, season, nullptr);
    all.insert(all.end(), of.begin(), of.end());
  }
  return all;
}

Learned PotAccount::learned(const PotNumbers& numbers) const {
  return learned_of(pot_, numbers[PotNumber::use], numbers[PotNumber::usable],
                    numbers[PotNumber::wall]);
}

void PotAccount::sort_seasons(std::vector<Reading> readings) {
  std::vector<Instant> told;
  for (const Reading& one : readings) {
    weighed_ = weighed_ || one.weighed();
    if (one.kind == ReadingKind::watered) told.push_back(one.when);
  }
  for (const Instant& when : implied_waterings(readings, told)) {
    readings.push_back({.when = when, .kind = ReadingKind::watered});
  }
  std::ranges::stable_sort(readings, {},
                           [](const Reading& one) { return std::pair(one.when, one.kind); });
  const WeatherRecord& record = place_.record();
  std::map<Date, Season> seasons;
  std::map<Date, Date> last_days;
  for (const Reading& one : readings) {
    if (!record.contains(one.when.date)) continue;
    const auto planted = growing_since(planting_, one.when.date, record.first(), options_.growth);
    if (!planted || !record.contains(*planted)) continue;
    if (!last_days.contains(*planted)) {
      last_days[*planted] =
          plan_course(planting_, *planted, record, *days_, place_.model(), options_.growth).last();
    }
    if (one.when.date > last_days[*planted]) {
      if (says_something(one)) ++after_its_end_;
      continue;
    }
    Season& season = seasons[*planted];
    season.planted = *planted;
    const bool watered = one.kind == ReadingKind::watered;
    if (watered && !season.log.complete_from) season.log.complete_from = one.when;
    season.log.events.push_back({one.when,
                                 watered ? PotEventKind::watered : PotEventKind::looked_at,
                                 watered ? one.given_l : std::nullopt});
    season.readings.push_back(one);
  }
  for (auto& [planted, season] : seasons) {
    const auto telling = std::ranges::count_if(season.readings, says_something);
    if (telling == 0) continue;
    telling_ += static_cast<std::size_t>(telling);
    seasons_.push_back(std::move(season));
  }
}

/// The spread of draws over the days of the readings.
void PotAccount::set_priors(const Catalogue& catalogue) {
  check_drawn(place_.model(), catalogue);
  const std::vector<Stretch> stretches = stretches_of();
  const double usual_l = transpired(stretches, planting_, place_.model(), false);
  double days = 0.0;
  for (const Stretch& one : stretches)
    days += static_cast<double>((one.last - one.first).count()) + 1.0;
  usual_day_l_ = usual_l / std::max(days, 1.0);
  double use_variance = 0.0;
  double usable_variance = 0.0;
  double draws = 0.0;
  for (std::uint64_t number = 0; number < prior_draws; ++number) {
    const DrawnGarden drawn = draw_garden({&planting_, 1}, place_.model(), catalogue, 1, number);
    if (!drawn.waterless.empty()) continue;
    const Planting& one = drawn.plantings.front();
    const double held_l = build_pot(one, drawn.model).total_available_l;
    usable_variance += square(std::log(held_l / pot_.total_available_l));
    if (usual_l > 0.0) {
      use_variance += square(std::log(transpired(stretches, one, drawn.model, true) / usual_l));
    }
    draws += 1.0;
  }
  draws = std::max(draws, 1.0);
  const Ranged& share = planting_.pot.wall.evaporation_share;
  const double wall_error =
      share.low > 0.0 ? std::log(share.high / share.low) / std::sqrt(12.0) : least_wall_error;
  const double usual_kg = errors::empty_kg_per_l * pot_.mix_l;
  const double tare_variance_kg2 = square(planting_.tare_kg ? 0.0 : usual_kg);
  prior_ = {0.0, 0.0, planting_.tare_kg.value_or(usual_kg) + dry_mix_kg(),
            errors::plant_kg_per_leaf_m2, 0.0};
  prior_error_ = {std::max(std::sqrt(use_variance / draws), least_use_error),
                  std::max(std::sqrt(usable_variance / draws), least_usable_error),
                  std::sqrt(tare_variance_kg2 + mix_variance_kg2()),
                  errors::plant_error_kg_per_leaf_m2, std::max(wall_error, least_wall_error)};
}

double PotAccount::mix_variance_kg2() const {
  return square(errors::mix_weight_error_share * dry_mix_kg()) +
         square(errors::lower_limit_error_share * pot_.lower_limit_l);
}

double PotAccount::variance_of(NextMeasure next) const {
  const double two_weights = 2.0 * square(options_.scale_error_kg);
  const double wilting_l = pot_.wilting_fraction * pot_.total_available_l;
  switch (next) {
    case NextMeasure::hot_day:
      return square(errors::day_use_error_share) +
             two_weights / square(std::max(usual_day_l_, least_day_l));
    case NextMeasure::until_wilting:
      return square(errors::wilting_line_error_share / pot_.wilting_fraction) +
             two_weights / square(wilting_l);
    case NextMeasure::empty_pot:
      return mix_variance_kg2();
  }
  return 0.0;
}

/// Those of the readings; without any, of the last months that it stood in this weather.
std::vector<PotAccount::Stretch> PotAccount::stretches_of() const {
  std::vector<Stretch> stretches;
  for (const Season& season : seasons_) {
    stretches.push_back(
        {season.planted, season.log.events.front().when.date, season.log.events.back().when.date});
  }
  const WeatherRecord& record = place_.record();
  constexpr std::chrono::days month(30);
  for (Date date = record.last(); stretches.empty() && date >= record.first(); date -= month) {
    const auto planted = growing_since(planting_, date, record.first(), options_.growth);
    if (planted && record.contains(*planted)) stretches.push_back({*planted, *planted, date});
  }
  return stretches;
}

/// What the plants would transpire in them, litres.
double PotAccount::transpired(const std::vector<Stretch>& stretches, const Planting& planting,
                              const ModelParameters& model, bool other_spot) const {
  const WeatherRecord& record = place_.record();
  double litres = 0.0;
  for (const Stretch& stretch : stretches) {
    PlantingRun run(planting, stretch.planted, model, options_.growth);
    while (run.date() <= stretch.last && !run.finished()) {
      const std::size_t index = record.index_of(run.date());
      const SpotDay day = other_spot
                              ? spot_day(record.site(), record.date(index), record.day(index),
                                         place_.reference()[index], planting.spot, model)
                              : (*days_)[index];
      const Date date = run.date();
      const DayForcing forcing = run.begin_day(day);
      if (date >= stretch.first) litres += forcing.full_rates.transpiration_l;
      run.end_day({}, day);  // of the crop alone
    }
  }
  return litres;
}

std::vector<Residual> PotAccount::run(const PotNumbers& numbers, const Season& season,
                                      std::vector<double>* variances) const {
  Planting planting = planting_;
  planting.learned = learned(numbers);
  const Pouring pouring = routine_plan(planting.routine).pouring;
  const std::vector<SpotDay>& days = *days_;
  const SpotWeather weather = [&days](std::size_t index) { return days[index]; };
  const WeatherRecord& record = place_.record();
  const double taw_l = pot_.total_available_l;

  std::vector<Residual> residuals;
  double variance = square(errors::planted_error_share * taw_l);  // of all water in the pot
  Instant last{season.planted, 0.0};
  double last_l = -1.0;  // water then; none known
  const auto grow_variance = [&](const Instant& now, double water_l) {
    double rain_l = 0.0;
    for (Date date = last.date + std::chrono::days(1); date <= now.date;
         date += std::chrono::days(1)) {
      rain_l += days[record.index_of(date)].rain_mm * pot_.top_area_m2;
    }
    const double gone_days = static_cast<double>((now.date - last.date).count()) +
                             (now.hour - last.hour) / units::hours_per_day;
    if (last_l >= 0.0) {
      variance += square(errors::day_use_error_share * (std::abs(water_l - last_l) + rain_l)) /
                  std::max(1.0, gone_days);
      variance += square(errors::rain_error_share * rain_l);
    }
  };

  const Watch watch = [&](const PlantingRun& run, DayInProgress& day, const PotEvent& event) {
    const auto at = static_cast<std::size_t>(&event - season.log.events.data());
    const Reading& reading = season.readings[at];
    const PotParameters& pot = run.pot();
    const PotState state = day.state();
    const double water_l = store_l(pot, state);
    if (variances != nullptr) {
      grow_variance(event.when, water_l);
      (*variances)[at] = variance;
    } else {
      variance = season.variance[at];
    }
    last = event.when;
    last_l = water_l;
    const double without_kg = numbers[PotNumber::empty] + numbers[PotNumber::plant] * run.leaf_m2();
    Residual& one = residuals.emplace_back();
    one.reading = &reading;
    one.point.when = event.when;
    one.point.kind = reading.kind;
    one.point.foretold_kg = without_kg + water_l;
    if (reading.weighed()) {
      const double scale = scale_variance(reading.weight_kg, options_.scale_error_kg);
      const double error_kg = std::sqrt(variance + scale);
      one.off_kg = reading.weight_kg - one.point.foretold_kg;
      one.value = one.off_kg / error_kg;
      one.point.weighed_kg = reading.weight_kg;
      one.point.error_kg = error_kg;
      const double gain = variance / (variance + scale);
      day.correct(holding(pot, state, water_l + gain * one.off_kg));
      variance *= 1.0 - gain;
      last_l = store_l(pot, day.state());
    } else if (reading.kind == ReadingKind::watered) {
      const double litres = given_l(pot, state, reading, pouring);
      const WateringResult watered = water(pot, state, litres, pouring);
      if (reading.drained_l) {
        const Foretold drains = foretold(pot, state, reading, pouring);
        one.value =
            (*reading.drained_l - drains.value) / std::sqrt(variance + square(drains.error));
      }
      const bool refilled =
          !reading.given_l || watered.drained_l > 0.0 || reading.drained_l.value_or(0.0) > 0.0;
      variance = refilled ? square(errors::refilled_error_share * taw_l)
                          : variance + square(errors::given_error_share * litres);
      last_l = store_l(pot, watered.state);
    } else if (const Foretold seen = foretold(pot, state, reading, pouring); seen.error > 0.0) {
      const double error = std::sqrt(square(seen.error) + square(seen.a_litre) * variance);
      one.value = yes_no_residual(is_yes(reading.kind), seen.value / error);
    }
    one.point.then_kg = without_kg + last_l;
  };
  const PlantingRun start(planting, season.planted, place_.model(), options_.growth);
  Journey journey(season.log, start, weather, record, watch);
  journey.go_to(season.log.events.back().when.date + std::chrono::days(1));
  return residuals;
}

}  // namespace wiltline
