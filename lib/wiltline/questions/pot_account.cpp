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

/// A watering alone says nothing of the pot.
bool says_something(const Reading& reading) {
  return reading.kind != ReadingKind::watered || reading.drained_l.has_value();
}

/// Half its square is -log(chance).
double yes_no_residual(bool yes, double above) {
  return std::sqrt(-2.0 * std::log(yes_no_chance(yes, above)));
}

}  // namespace

double yes_no_chance(bool yes, double above) {
  const double chance = 0.5 * std::erfc((yes ? -above : above) / std::sqrt(2.0));
  return errors::misseen / 2.0 + (1.0 - errors::misseen) * chance;
}

bool watered_just_before(const Instant& watered, const Instant& weighed) {
  constexpr double just_before_h = 1.0;
  return watered.date == weighed.date && watered.hour <= weighed.hour &&
         watered.hour >= weighed.hour - just_before_h;
}

Learned learned_of(const PotParameters& tables, double use, double usable, double wall) {
  Learned learned;
  learned.use_factor = std::exp(use);
  learned.usable_l =
      std::min(tables.total_available_l * std::exp(usable), tables.mix_l - tables.lower_limit_l);
  learned.wall_factor = std::exp(wall);
  return learned;
}

EmptyWeight empty_weight(const Planting& planting, const PotParameters& tables) {
  const double dry_kg = dry_mix_kg(planting.mix, tables.mix_l);
  const double usual_kg = errors::empty_kg_per_l * tables.mix_l;
  const double mix_variance_kg2 =
      square(errors::mix_weight * dry_kg) + square(errors::lower_limit * tables.lower_limit_l);
  return {planting.tare_kg.value_or(usual_kg) + dry_kg,
          square(planting.tare_kg ? 0.0 : usual_kg) + mix_variance_kg2, mix_variance_kg2};
}

bool is_yes_no(ReadingKind kind) {
  return kind == ReadingKind::top_felt_dry || kind == ReadingKind::top_felt_moist ||
         kind == ReadingKind::wilted || kind == ReadingKind::not_wilted;
}

PotAccount::PotAccount(const PotReadings& readings, const Place& place, const Catalogue& catalogue,
                       const CalibrationOptions& options)
    : planting_(*readings.planting), place_(place), options_(options), all_(readings.readings) {
  planting_.learned = {};
  days_ = &place.at(planting_.spot);
  pot_ = build_pot(planting_, place.model());
  sort_seasons();
  set_priors(catalogue);
}

bool PotAccount::weighed() const {
  return std::any_of(all_.begin(), all_.end(), [](const Reading& one) { return one.weighed(); });
}

double PotAccount::dry_mix_kg() const {
  return wiltline::dry_mix_kg(planting_.mix, pot_.mix_l);
}

void PotAccount::set_variances(const PotNumbers& numbers) {
  for (Season& season : seasons_) {
    season.variance.assign(season.readings.size(), 0.0);
    (void)run(numbers, season, {.variances = &season.variance});
  }
}

std::vector<Residual> PotAccount::residuals(const PotNumbers& numbers) const {
  std::vector<Residual> all;
  for (const Season& season : seasons_) {
    const std::vector<Residual> of = run(numbers, season, {});
    all.insert(all.end(), of.begin(), of.end());
  }
  return all;
}

std::vector<AccountPoint> PotAccount::points(const PotNumbers& numbers) const {
  std::vector<AccountPoint> all;
  for (const Season& season : seasons_) (void)run(numbers, season, {.points = &all});
  return all;
}

Learned PotAccount::learned(const PotNumbers& numbers) const {
  return learned_of(pot_, numbers[PotNumber::use], numbers[PotNumber::usable],
                    numbers[PotNumber::wall]);
}

void PotAccount::sort_seasons() {
  // A weighing after a watering that no log has: it was watered just then.
  std::vector<Reading> implied;
  for (const Reading& one : all_) {
    if (one.kind != ReadingKind::weighed_after) continue;
    const auto told = [&](const Reading& other) {
      return other.kind == ReadingKind::watered && watered_just_before(other.when, one.when);
    };
    const bool known = std::any_of(all_.begin(), all_.end(), told) ||
                       std::any_of(implied.begin(), implied.end(), told);
    if (!known) implied.push_back({.when = one.when, .kind = ReadingKind::watered});
  }
  all_.insert(all_.end(), implied.begin(), implied.end());
  std::stable_sort(all_.begin(), all_.end(), [](const Reading& a, const Reading& b) {
    return std::pair(a.when, a.kind) < std::pair(b.when, b.kind);
  });
  const WeatherRecord& record = place_.record();
  std::map<Date, Season> seasons;
  std::map<Date, Date> last_days;
  for (const Reading& one : all_) {
    if (!record.contains(one.when.date)) continue;
    const auto planted = growing_since(planting_, one.when.date, record.first(), options_.growth);
    if (!planted || !record.contains(*planted)) continue;
    if (!last_days.contains(*planted)) {
      last_days[*planted] =
          crop_end(planting_, *planted, record, *days_, place_.model(), options_.growth).last;
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
    season.readings.push_back(&one);
  }
  for (auto& [planted, season] : seasons) {
    const auto telling = std::count_if(season.readings.begin(), season.readings.end(),
                                       [](const Reading* one) { return says_something(*one); });
    if (telling == 0) continue;
    telling_ += static_cast<std::size_t>(telling);
    seasons_.push_back(std::move(season));
  }
}

/// The spread of draws over the days of the readings.
void PotAccount::set_priors(const Catalogue& catalogue) {
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
  const EmptyWeight empty = empty_weight(planting_, pot_);
  prior_ = {0.0, 0.0, empty.kg, errors::plant_kg_per_leaf_m2, 0.0};
  prior_error_ = {std::max(std::sqrt(use_variance / draws), least_use_error),
                  std::max(std::sqrt(usable_variance / draws), least_usable_error),
                  std::sqrt(empty.variance_kg2), errors::plant_error_kg_per_leaf_m2,
                  std::max(wall_error, least_wall_error)};
}

double PotAccount::variance_of(NextMeasure next) const {
  const double two_weights = 2.0 * square(options_.scale_error_kg);
  const double wilting_l = pot_.wilting_fraction * pot_.total_available_l;
  switch (next) {
    case NextMeasure::hot_day:
      return square(errors::day) + two_weights / square(std::max(usual_day_l_, least_day_l));
    case NextMeasure::until_wilting:
      return square(errors::wilting / pot_.wilting_fraction) + two_weights / square(wilting_l);
    case NextMeasure::empty_pot:
      return empty_weight(planting_, pot_).mix_variance_kg2;
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
                                      Kept kept) const {
  Planting planting = planting_;
  planting.learned = learned(numbers);
  const std::vector<SpotDay>& days = *days_;
  const SpotWeather weather = [&days](std::size_t index) { return days[index]; };
  const WeatherRecord& record = place_.record();
  const double taw_l = pot_.total_available_l;

  std::vector<Residual> residuals;
  double variance = square(errors::planted * taw_l);  // of all water in the pot
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
      variance +=
          square(errors::day * (std::abs(water_l - last_l) + rain_l)) / std::max(1.0, gone_days);
      variance += square(errors::rain * rain_l);
    }
  };

  const Watch watch = [&](const PlantingRun& run, DayInProgress& day, const PotEvent& event) {
    const auto at = static_cast<std::size_t>(&event - season.log.events.data());
    const Reading& reading = *season.readings[at];
    const PotParameters& pot = run.pot();
    const double water_l = store_l(pot, day.state());
    if (kept.variances != nullptr) {
      grow_variance(event.when, water_l);
      (*kept.variances)[at] = variance;
    } else {
      variance = season.variance[at];
    }
    last = event.when;
    last_l = water_l;
    const auto add = [&](double value, double off_kg = 0.0) {
      residuals.push_back({&reading, value, off_kg});
    };
    const PotState& state = day.state();
    const double without_kg = numbers[PotNumber::empty] + numbers[PotNumber::plant] * run.leaf_m2();
    const auto keep = [&](const std::optional<double>& error_kg) {
      if (kept.points == nullptr) return;
      kept.points->push_back(
          {.when = event.when,
           .kind = reading.kind,
           .foretold_kg = without_kg + water_l,
           .then_kg = without_kg + last_l,
           .weighed_kg = reading.weighed() ? std::optional(reading.weight_kg) : std::nullopt,
           .error_kg = error_kg});
    };
    switch (reading.kind) {
      case ReadingKind::weighed_before:
      case ReadingKind::weighed_after: {
        const double off_kg = reading.weight_kg - (without_kg + water_l);
        const double scale =
            square(options_.scale_error_kg) + square(errors::scale_share * reading.weight_kg);
        const double error_kg = std::sqrt(variance + scale);
        add(off_kg / error_kg, off_kg);
        const double gain = variance / (variance + scale);
        day.correct(holding(pot, state, water_l + gain * off_kg));
        variance *= 1.0 - gain;
        last_l = store_l(pot, day.state());
        keep(error_kg);
        return;
      }
      case ReadingKind::watered: {
        const Pouring pouring = routine_plan(planting.routine).pouring;
        const double given_l =
            reading.given_l.value_or(std::max(0.0, litres_until_drained(pot, state, pouring)));
        const WateringResult watered = water(pot, state, given_l, pouring);
        if (reading.drained_l) {
          const double error = variance + square(errors::drained * given_l + errors::drained_l);
          add((*reading.drained_l - watered.drained_l) / std::sqrt(error));
        }
        const bool refilled =
            !reading.given_l || watered.drained_l > 0.0 || reading.drained_l.value_or(0.0) > 0.0;
        variance = refilled ? square(errors::refilled * taw_l)
                            : variance + square(errors::given * given_l);
        last_l = store_l(pot, watered.state);
        keep(std::nullopt);
        return;
      }
      case ReadingKind::wilted:
      case ReadingKind::not_wilted: {
        const double taw = pot.total_available_l * state.rooted_share;
        const double error = std::sqrt(square(errors::wilting * taw) + variance);
        add(yes_no_residual(reading.kind == ReadingKind::wilted,
                            (state.rooted_depletion_l - pot.wilting_fraction * taw) / error));
        return;
      }
      case ReadingKind::top_felt_dry:
      case ReadingKind::top_felt_moist: {
        const double limit_l = pot.top_dry_limit_l;
        if (!(limit_l > 0.0)) return;
        const double above_l = kernel::top_deficit(depletions(state), pot.top_draw_share) - limit_l;
        const double error =
            std::sqrt(square(errors::top * limit_l) + square(pot.top_draw_share) * variance);
        add(yes_no_residual(reading.kind == ReadingKind::top_felt_dry, above_l / error));
        return;
      }
    }
  };
  const PlantingRun start(planting, season.planted, place_.model(), options_.growth);
  Journey journey(season.log, start, weather, record, watch);
  journey.go_to(season.log.events.back().when.date + std::chrono::days(1));
  return residuals;
}

}  // namespace wiltline
