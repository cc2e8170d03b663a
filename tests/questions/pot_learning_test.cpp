// Readings taken into an account as they come: invented pots with a truth that is known, over
// observed weather.
#include "wiltline/questions/pot_learning.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "support/invented_pots.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/questions/forecast.hpp"

namespace wiltline::test {
namespace {

Writing usual_writing() {
  return {.first = in_last_summer(6, 20), .weighings = 20, .wrong_kg = 0.0};
}

/// The first `weighings` of what was written of a pot: the waterings as its log.
ForecastPlanting input_of(const PotReadings& all, int weighings) {
  ForecastPlanting input{.planting = all.planting, .log = {}, .saved = {}};
  int left = weighings;
  for (const Reading& one : all.readings) {
    if (one.weighed() && left-- == 0) break;
    if (one.kind == ReadingKind::watered) {
      input.log.events.push_back({one.when, PotEventKind::watered, one.given_l});
    } else {
      input.readings.push_back(one);
    }
  }
  if (!input.log.events.empty()) input.log.complete_from = input.log.events.front().when;
  return input;
}

ForecastOptions options_at(const Instant& now) {
  ForecastOptions options;
  options.now = now;
  options.known_last = seattle().record().last();
  options.observed_last = now.date - std::chrono::days(1);
  options.members = 1;
  return options;
}

PlantingForecast forecast_of(const ForecastPlanting& input, const ForecastOptions& options) {
  ForecastResult result = forecast({&input, 1}, seattle(), catalogue(), options);
  REQUIRE(result.pots.size() == 1);
  return std::move(result.pots.front());
}

double days_until(const std::optional<Instant>& at, const Instant& now) {
  constexpr double longest_days = 14.0;
  if (!at) return longest_days;
  return static_cast<double>((at->date - now.date).count()) + (at->hour - now.hour) / 24.0;
}

/// What many invented gardens came to, after so many weighings. Ranges of the dry time are worked
/// out for every fifth of them.
struct Learning {
  double table_loss_error = 0.0;  // of what tomorrow's evening takes: mean, as a share
  double loss_error = 0.0;
  double table_dry_error = 0.0;  // of the time at which it is dry: mean, days
  double dry_error = 0.0;
  double use_bias = 0.0;   // mean of log(estimate / truth)
  double use_error = 0.0;  // root mean square
  double use_covered = 0.0;
  double dry_covered = 0.0;  // by the range for 8 in 10 of --uncertain
  double dry_width = 0.0;    // of it, days
  double table_dry_width = 0.0;
  int doubtful = 0;
  int pots = 0;
};

Learning learn_sets(int sets, int weighings, bool knows_tare, std::uint64_t first_seed,
                    bool ranges) {
  const std::vector<Planting> garden = pots_to_learn();
  const Writing how = usual_writing();
  Learning all;
  double ranged = 0.0;  // pots
  std::vector<PotReadings> usual;
  for (const Planting& one : garden) {
    usual.push_back(invented_readings(one, {}, how, seattle(), 1));
  }
  const CalibrationResult before = calibrate(usual, seattle(), catalogue(), {});
  for (int set = 0; set < sets; ++set) {
    Normal normal(first_seed + static_cast<std::uint64_t>(set));
    for (std::size_t i = 0; i < garden.size(); ++i) {
      const PotParameters pot = build_pot(garden[i], seattle().model());
      const double dry_kg = dry_mix_kg(garden[i].mix, pot.mix_l);
      const double pot_kg = 0.3 * pot.mix_l * std::exp(0.5 * normal());
      const Truth truth{
          .use_factor = std::exp(prior_error(before.pots[i].of("use_factor")) * normal()),
          .usable_factor = std::exp(prior_error(before.pots[i].of("usable_l")) * normal()),
          .empty_kg = pot_kg + dry_kg * (1.0 + 0.15 * normal()),
          .plant_kg_per_leaf_m2 = std::max(0.3, 2.0 + normal())};
      const std::uint64_t seed = (first_seed + static_cast<std::uint64_t>(set)) * 10 + i;
      const PotReadings written = invented_readings(garden[i], truth, how, seattle(), seed);
      Planting own = garden[i];
      if (knows_tare) own.tare_kg = pot_kg;
      ForecastPlanting input = input_of(written, weighings);
      input.planting = &own;
      ForecastPlanting unread = input;
      unread.readings.clear();
      const Date day = input.readings.back().when.date + std::chrono::days(1);
      const ForecastOptions options = options_at({day, 0.5});

      const Planting real_pot = with_truth(garden[i], truth, seattle().model());
      const SpotWeather weather =
          with_day_errors(seattle().at(garden[i].spot), seed, how.day_error);
      const SpotWeather recorded = with_day_errors(seattle().at(garden[i].spot), seed, 0.0);
      const auto truly = [&](const SpotWeather& spot) {
        Journey journey(input.log,
                        PlantingRun(real_pot,
                                    *growing_since(real_pot, day, seattle().record().first(),
                                                   GrowthClock::stage_days),
                                    seattle().model(), GrowthClock::stage_days),
                        spot, seattle().record());
        journey.go_to(day);
        const Instant end{day + std::chrono::days(14), 0.5};
        return journey.go_on(options.now, end, Instant{day, 19.0},
                             [](Date date) { return seattle().record().index_of(date); });
      };
      const auto at_evening = [&](const ForecastPlanting& of) {
        Planting evening = *of.planting;
        evening.routine = *parse_routine("daily 19:00");
        ForecastPlanting one = of;
        one.planting = &evening;
        return forecast_of(one, options);
      };
      const Journey::Outcome really = truly(weather);
      const double evening_l = *truly(recorded).give_at_visit_l;
      const PlantingForecast table = at_evening(unread);
      const PlantingForecast learned = at_evening(input);
      const auto loss_error = [&](const PlantingForecast& of) {
        return std::abs(of.give_at_visit_l->p50 / evening_l - 1.0);
      };
      const double dry_days = days_until(really.dry, options.now);
      all.table_loss_error += loss_error(table);
      all.loss_error += loss_error(learned);
      all.table_dry_error += std::abs(days_until(table.dry.p50, options.now) - dry_days);
      all.dry_error += std::abs(days_until(learned.dry.p50, options.now) - dry_days);
      const PotUpdate& update = *learned.update;
      const double off = std::log(update.use.value / truth.use_factor);
      all.use_bias += off;
      all.use_error += off * off;
      all.use_covered +=
          update.use.low <= truth.use_factor && truth.use_factor <= update.use.high ? 1.0 : 0.0;
      all.doubtful += static_cast<int>(update.doubtful.size());
      constexpr int every = 5;
      if (ranges && set % every == 0) {
        ++ranged;
        ForecastOptions drawn = options;
        drawn.uncertain = true;
        drawn.members = 60;
        const PlantingForecast spread = forecast_of(input, drawn);
        const PlantingForecast table_spread = forecast_of(unread, drawn);
        const double low = days_until(spread.dry.p10, options.now);
        const double high = days_until(spread.dry.p90, options.now);
        all.dry_covered += low <= dry_days && dry_days <= high ? 1.0 : 0.0;
        all.dry_width += high - low;
        all.table_dry_width += days_until(table_spread.dry.p90, options.now) -
                               days_until(table_spread.dry.p10, options.now);
      }
      ++all.pots;
    }
  }
  const auto n = static_cast<double>(all.pots);
  for (double* of : {&all.table_loss_error, &all.loss_error, &all.table_dry_error, &all.dry_error,
                     &all.use_bias, &all.use_error, &all.use_covered}) {
    *of /= n;
  }
  for (double* of : {&all.dry_covered, &all.dry_width, &all.table_dry_width}) {
    *of /= std::max(ranged, 1.0);
  }
  all.use_error = std::sqrt(all.use_error);
  return all;
}

std::string figures(int weighings, const Learning& of) {
  return std::to_string(weighings) + " weighings: tomorrow's loss off by " +
         std::to_string(100.0 * of.loss_error) + " % (tables " +
         std::to_string(100.0 * of.table_loss_error) + "), dry time by " +
         std::to_string(of.dry_error) + " days (tables " + std::to_string(of.table_dry_error) +
         "); use: bias " + std::to_string(100.0 * of.use_bias) + " %, error " +
         std::to_string(100.0 * of.use_error) + " %, covered " +
         std::to_string(100.0 * of.use_covered) + " %; " +
         (of.dry_width > 0.0
              ? "dry time's range for 8 in 10 holds " + std::to_string(100.0 * of.dry_covered) +
                    " %, " + std::to_string(of.dry_width) + " days wide (tables " +
                    std::to_string(of.table_dry_width) + "); "
              : "") +
         std::to_string(of.doubtful) + " doubtful, of " + std::to_string(of.pots) + " pots";
}

}  // namespace

TEST_CASE("learning: each weighing makes what comes better known than by the tables") {
  constexpr int sets = 10;  // 40 pots
  for (const bool tare : {true, false}) {
    const Learning one = learn_sets(sets, 1, tare, 500, false);
    const Learning three = learn_sets(sets, 3, tare, 500, false);
    const Learning seven = learn_sets(sets, 7, tare, 500, false);
    for (const auto& [weighings, of] : {std::pair(1, one), {3, three}, {7, seven}}) {
      MESSAGE(std::string(tare ? "known tare, " : "unknown tare, ") << figures(weighings, of));
    }
    // One weight of a pot whose empty weight is not known tells nothing, and must not hurt.
    CHECK(one.loss_error < (tare ? 1.0 : 1.02) * one.table_loss_error);
    CHECK(one.dry_error < (tare ? 1.0 : 1.02) * one.table_dry_error);
    CHECK(three.loss_error < 0.75 * three.table_loss_error);
    CHECK(three.dry_error < 0.9 * three.table_dry_error);
    CHECK(seven.loss_error < 0.65 * seven.table_loss_error);
    CHECK(seven.dry_error < 0.85 * seven.table_dry_error);
    // Of 40 pots: 0.90 less three standard errors of such a share.
    CHECK(seven.use_covered > 0.75);
    CHECK(near(seven.use_bias, 0.0, 0.03 + 3.0 * seven.use_error / std::sqrt(40.0)));
  }
}

// tests/calibration.sh runs the skipped one.
TEST_CASE("learning, long: errors and how often ranges hold, of 400 pots" * doctest::skip()) {
  constexpr int sets = 100;
  for (const bool tare : {true, false}) {
    for (const int weighings : {1, 3, 7, 14}) {
      const Learning of = learn_sets(sets, weighings, tare, 5000, true);
      MESSAGE(std::string(tare ? "known tare, " : "unknown tare, ") << figures(weighings, of));
      CHECK(near(of.use_covered, 0.90, 0.05));
      CHECK(near(of.use_bias, 0.0, 0.03));
      // More than 8 in 10: they vary the line of dryness too, which these truths do not.
      CHECK(of.dry_covered > 0.8);
      if (weighings > 1) CHECK(of.dry_width < of.table_dry_width);
    }
  }
}

TEST_CASE("learning: a run stopped, written, read and gone on with is the whole run to the bit") {
  const std::vector<Planting> garden = pots_to_learn();
  for (std::size_t i = 0; i < garden.size(); ++i) {
    INFO(garden[i].name);
    Writing how = usual_writing();
    how.wrong_kg = 1.5;
    const PotReadings written =
        invented_readings(garden[i], {.use_factor = 1.3, .empty_kg = 9.0}, how, seattle(), 40 + i);
    const ForecastPlanting whole = input_of(written, 20);
    const Instant now{whole.readings.back().when.date + std::chrono::days(1), 9.0};
    const PlantingForecast in_one = forecast_of(whole, options_at(now));

    // Three stops: at 09:00, with the readings of the evening before; one at noon of a day that is
    // observed but for the state, whose evening's readings are not known yet.
    std::optional<SavedPlanting> saved;
    std::size_t read = 0;
    for (const std::size_t until : {std::size_t{5}, std::size_t{6}, std::size_t{13}}) {
      ForecastPlanting part{.planting = &garden[i], .log = {}, .saved = saved};
      const Instant stop{whole.readings[until].when.date, 20.0};
      const Date planted =
          *growing_since(garden[i], stop.date, seattle().record().first(), GrowthClock::stage_days);
      std::vector<PotEvent> events;
      for (const PotEvent& one : whole.log.events) {
        if (one.when <= stop) events.push_back(one);
      }
      part.log = merge_log(events, planted, saved).log;
      std::vector<Reading> known;
      for (; read < whole.readings.size() && whole.readings[read].when <= stop; ++read) {
        known.push_back(whole.readings[read]);
      }
      part.readings = merge_readings(known, planted, saved).readings;
      const SavedPlanting state = forecast_of(part, options_at(stop)).saved;
      CHECK_FALSE(state.readings.empty());
      const std::vector<SavedPlanting> from_file =
          read_state({"state.csv", state_csv({&state, 1})}, seattle().model(),
                     {.plantings = garden,
                      .first = seattle().record().first(),
                      .last = seattle().record().last()});
      REQUIRE(from_file.size() == 1);
      CHECK(from_file.front() == state);
      saved = from_file.front();
    }
    ForecastPlanting rest{.planting = &garden[i], .log = {}, .saved = saved};
    rest.log = merge_log(whole.log.events, saved->planted, saved).log;
    const MergedReadings merged = merge_readings(whole.readings, saved->planted, saved);
    CHECK(merged.counted_before > 0);
    rest.readings = merged.readings;
    const PlantingForecast gone_on = forecast_of(rest, options_at(now));
    CHECK(gone_on.saved == in_one.saved);
    CHECK(gone_on.depletion_l == in_one.depletion_l);
    CHECK(gone_on.dry.p50 == in_one.dry.p50);
    CHECK(gone_on.update->use.value == in_one.update->use.value);
    CHECK(gone_on.update->readings_all == in_one.update->readings_all);
    ForecastOptions drawn = options_at(now);
    drawn.uncertain = true;
    drawn.members = 20;
    CHECK(forecast_of(rest, drawn).dry.p90 == forecast_of(whole, drawn).dry.p90);
  }
}

TEST_CASE("learning: pots without readings stay as they are, to the bit") {
  const std::vector<Planting> garden = pots_to_learn();
  const ForecastPlanting weighed =
      input_of(invented_readings(garden[0], {.use_factor = 1.4, .empty_kg = 9.0}, usual_writing(),
                                 seattle(), 7),
               9);
  std::vector<ForecastPlanting> inputs{weighed};
  std::vector<ForecastPlanting> without{weighed};
  without.front().readings.clear();
  for (std::size_t i = 1; i < garden.size(); ++i) {
    inputs.push_back({.planting = &garden[i], .log = {}, .saved = {}});
    without.push_back(inputs.back());
  }
  ForecastOptions options =
      options_at({weighed.readings.back().when.date + std::chrono::days(1), 9.0});
  options.uncertain = true;
  options.members = 10;
  const ForecastResult with = forecast(inputs, seattle(), catalogue(), options);
  const ForecastResult plain = forecast(without, seattle(), catalogue(), options);
  int same = 0;
  for (const PlantingForecast& one : with.pots) {
    for (const PlantingForecast& other : plain.pots) {
      if (one.planting->name != other.planting->name) continue;
      const bool learned = one.planting == &garden[0];
      CHECK(one.update.has_value() == learned);
      if (learned) continue;
      CHECK(one.saved == other.saved);
      CHECK(one.depletion_l == other.depletion_l);
      CHECK(one.refill.p10 == other.refill.p10);
      CHECK(one.dry.p90 == other.dry.p90);
      ++same;
    }
  }
  CHECK(same == 3);
}

TEST_CASE("learning: what is learned begins where calibrate ended") {
  std::vector<Planting> garden = pots_to_learn();
  garden[1].learned.use_factor = 1.3;
  garden[1].learned.use_factor_sd = 0.065;
  const PotReadings written = invented_readings(garden[1], {.use_factor = 1.3, .empty_kg = 9.0},
                                                usual_writing(), seattle(), 11);
  const ForecastPlanting input = input_of(written, 1);
  const Instant now{input.readings.back().when.date + std::chrono::days(1), 9.0};
  const PotUpdate update = *forecast_of(input, options_at(now)).update;
  CHECK(near(update.use_before, 1.3, 1e-12));
  CHECK(update.use_error <= 0.05 + 1e-9);
  CHECK(update.use_error > 0.04);
  const PotUpdate more =
      *forecast_of(input_of(written, 12), options_at({now.date + std::chrono::days(30), 9.0}))
           .update;
  CHECK(more.use_error < update.use_error);
  CHECK(more.readings == 12);
}

TEST_CASE("learning: a wrong weight is left out, one that comes again is true of the pot") {
  const std::vector<Planting> garden = pots_to_learn();
  const PotReadings written = invented_readings(garden[1], {.use_factor = 1.1, .empty_kg = 9.0},
                                                usual_writing(), seattle(), 12);
  ForecastPlanting input = input_of(written, 9);
  const Instant now{input.readings.back().when.date + std::chrono::days(1), 9.0};
  const PlantingForecast right = forecast_of(input, options_at(now));
  CHECK(right.update->doubtful.empty());

  ForecastPlanting mistyped = input;
  mistyped.readings[5].weight_kg += 3.0;
  const PlantingForecast without = forecast_of(mistyped, options_at(now));
  REQUIRE(without.update->doubtful.size() == 1);
  CHECK(without.update->doubtful[0].reading == mistyped.readings[5]);
  CHECK_FALSE(without.update->doubtful[0].believed);
  CHECK(near(without.update->doubtful[0].off_kg, 3.0, 0.5));
  CHECK(without.update->readings == 8);
  CHECK(near(without.update->use.value, right.update->use.value, 0.05));

  // Another scale, or a stone put in: every weight from then on.
  ForecastPlanting shifted = input;
  for (std::size_t i = 5; i < shifted.readings.size(); ++i) shifted.readings[i].weight_kg += 3.0;
  const PlantingForecast believed = forecast_of(shifted, options_at(now));
  REQUIRE(believed.update->doubtful.size() == 2);
  CHECK_FALSE(believed.update->doubtful[0].believed);
  CHECK(believed.update->doubtful[1].believed);
  CHECK(near(believed.update->use.value, right.update->use.value, 0.15));
}

TEST_CASE("learning: what is felt and seen moves a pot the right way") {
  const std::vector<Planting> garden = pots_to_learn();
  const Date day = in_last_summer(7, 10);
  const Instant now{day + std::chrono::days(3), 9.0};
  const auto seen = [&](ReadingKind kind) {
    ForecastPlanting input{.planting = &garden[1], .log = {}, .saved = {}};
    input.log = {.events = {{{day, 18.0}, PotEventKind::watered, {}}},
                 .complete_from = Instant{day, 18.0}};
    input.readings = {{.when = {day + std::chrono::days(2), 15.0}, .kind = kind}};
    return forecast_of(input, options_at(now));
  };
  const PlantingForecast wilted = seen(ReadingKind::wilted);
  const PlantingForecast fresh = seen(ReadingKind::not_wilted);
  CHECK(wilted.depletion_l > fresh.depletion_l);
  CHECK(wilted.update->use.value > fresh.update->use.value);
  CHECK(seen(ReadingKind::top_felt_dry).depletion_l >
        seen(ReadingKind::top_felt_moist).depletion_l);
}

TEST_CASE("learning: what drained of what was given tells how much was gone") {
  const std::vector<Planting> garden = pots_to_learn();
  const Date day = in_last_summer(7, 10);
  const auto drained = [&](double litres) {
    ForecastPlanting input{.planting = &garden[1], .log = {}, .saved = {}};
    input.log.complete_from = Instant{day, 18.0};
    input.log.events = {{{day, 18.0}, PotEventKind::watered, {}}};
    for (int i = 1; i < 4; ++i) {
      const Instant when{day + std::chrono::days(i), 18.0};
      input.log.events.push_back({when, PotEventKind::watered, 6.0});
      input.readings.push_back({.when = when, .given_l = 6.0, .drained_l = litres});
    }
    return forecast_of(input, options_at({day + std::chrono::days(4), 9.0})).update;
  };
  CHECK(drained(4.5)->readings == 3);
  CHECK(drained(4.5)->use.value < 0.9 * drained(3.0)->use.value);
  CHECK(drained(4.5)->use_error < 0.2);
}

TEST_CASE("learning: a weight of this morning counts, though the day has no weather yet") {
  std::vector<Planting> garden = pots_to_learn();
  garden[1].tare_kg = 2.0;
  const WeatherRecord& all = seattle().record();
  const Date today = in_last_summer(7, 15);
  const Place known(all.between(all.first(), today - std::chrono::days(1)), catalogue().parameters);
  // Not just after a refill: there a weight tells how much the pot holds, not what is missing.
  ForecastPlanting input{.planting = &garden[1], .log = {}, .saved = {}};
  const Instant watered{today - std::chrono::days(1), 7.0};
  input.log = {.events = {{watered, PotEventKind::watered, {}}}, .complete_from = watered};
  ForecastOptions options = at_end_of(known.record());
  options.now = {today, 9.0};
  options.members = 20;
  const auto weighs = [&](double kg) {
    input.readings = {{.when = {today, 8.0}, .kind = ReadingKind::weighed_before, .weight_kg = kg}};
    const ForecastResult result = forecast({&input, 1}, known, catalogue(), options);
    return result.pots.front();
  };
  const double expected_kg = 1.0 - weighs(1.0).update->doubtful.front().off_kg;
  const PlantingForecast light = weighs(expected_kg - 1.0);
  const PlantingForecast heavy = weighs(expected_kg + 1.0);
  CHECK(light.depletion_l > heavy.depletion_l + 0.2);
  // The state to save is that of midnight: the reading goes with it.
  CHECK(light.saved.readings.size() == 1);
  CHECK(light.saved.run == heavy.saved.run);
  CHECK(light.update->readings == 1);
}

TEST_CASE("learning: readings out of time and an impossible scale are refused") {
  const std::vector<Planting> garden = pots_to_learn();
  const Date day = in_last_summer(7, 10);
  ForecastOptions options = options_at({day, 9.0});
  const auto refused = [&](std::vector<Reading> readings) {
    ForecastPlanting input{.planting = &garden[1], .log = {}, .saved = {}};
    input.readings = std::move(readings);
    return refusal([&] { (void)forecast({&input, 1}, seattle(), catalogue(), options); });
  };
  const std::string after = refused({{.when = {day, 10.0}, .kind = ReadingKind::wilted}});
  CHECK(after.find("found a reading at") != std::string::npos);
  CHECK(refused({{.when = {in_last_summer(5, 1), 10.0}, .kind = ReadingKind::wilted}})
            .find("expected one from") != std::string::npos);
  options.scale_error_kg = 0.0;
  CHECK(
      refused({{.when = {day, 8.0}, .kind = ReadingKind::wilted}}).find("scale's standard error") !=
      std::string::npos);
}

TEST_CASE(
    "learning: what drained is judged by what was poured then, not by a pot dry at midnight") {
  const std::vector<Planting> garden = pots_to_learn();
  const Date day = in_last_summer(7, 20);
  const auto doubted = [&](double drained_l) {
    ForecastPlanting input{.planting = &garden[0], .log = {}, .saved = {}};
    // Left for days, filled at seven, and watered once more at eight.
    for (const Instant& when :
         {Instant{day - std::chrono::days(4), 18.0}, Instant{day, 7.0}, Instant{day, 8.0}}) {
      input.log.events.push_back({when, PotEventKind::watered, {}});
    }
    input.log.complete_from = input.log.events.front().when;
    input.readings = {{.when = {day, 8.0}, .drained_l = drained_l}};
    return forecast_of(input, options_at({day, 12.0})).update->doubtful.size();
  };
  CHECK(doubted(0.05) == 0);
  CHECK(doubted(1.0) == 1);
}

}  // namespace wiltline::test
