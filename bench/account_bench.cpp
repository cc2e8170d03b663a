// The parts of the account: reading weather, reference ET, the interval step, a season.
#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "inputs.hpp"
#include "support/random.hpp"
#include "wiltline/questions/absence.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {
namespace {

const std::string source = WILTLINE_SOURCE;

void weather_csv_to_record(benchmark::State& state) {
  const FileBytes file = read_file(source + "/weather-samples/tolvenau.csv");
  for (auto _ : state) benchmark::DoNotOptimize(read_weather(file, {}));
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * file.bytes.size()));
}
BENCHMARK(weather_csv_to_record);

void reference_et_per_day(benchmark::State& state) {
  const WeatherRecord& record = tolvenau();
  for (auto _ : state) benchmark::DoNotOptimize(reference_days(record));
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(record.size()));
}
BENCHMARK(reference_et_per_day);

/// One interval of a pot; argument 0: nothing crosses an edge, 1: RAW is crossed.
void interval_step(benchmark::State& state) {
  const bool crossing = state.range(0) == 1;
  const IntervalLimits limits{.raw_l = 2.0,
                              .taw_l = 5.0,
                              .air_dry_l = 8.0,
                              .unrooted_raw_l = 0.2,
                              .unrooted_taw_l = 0.5,
                              .unrooted_air_dry_l = 0.8,
                              .rew_l = 0.4,
                              .tew_l = 1.0,
                              .rooted_share = 0.9};
  const LineDepletions lines{2.0, 2.0, 3.5, 4.25};
  test::Random random(1);
  std::vector<std::pair<FullRates, PotState>> cases;
  for (int i = 0; i < 1024; ++i) {
    PotState pot{.rooted_share = 0.9};
    pot.rooted_depletion_l = random.uniform(0.0, 0.5) + (crossing ? 1.4 : 0.0);
    cases.emplace_back(FullRates{random.uniform(0.7, 1.2), 0.1, random.uniform(0.1, 0.3)}, pot);
  }
  std::size_t i = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(flow(cases[i].first, limits, lines, cases[i].second, 1.0));
    i = (i + 1) % cases.size();
  }
  state.SetItemsProcessed(state.iterations());
}
BENCHMARK(interval_step)->Arg(0)->Arg(1);

/// A season of one planting, weather already prepared; items are pot-days.
void season_of_one_pot(benchmark::State& state) {
  const std::string row =
      "name,crop,pot,mix,plants,planted,spot,routine\n"
      "it,tomato,nursery 37 l,potting mix,1,2022-05-15,patio,check daily 07:00\n";
  const Planting planting = read_garden({"garden.csv", row}, catalogue()).front();
  const Place weather(tolvenau(), catalogue().parameters);
  std::int64_t days = 0;
  for (auto _ : state) {
    const SeasonResult result = run_season(planting, make_date(2022, 5, 15), weather, {});
    days += result.summary.days;
    benchmark::DoNotOptimize(result);
  }
  state.SetItemsProcessed(days);
}
BENCHMARK(season_of_one_pot);

/// The same weather so many times four years later.
WeatherRecord later(const WeatherRecord& record, int times) {
  constexpr int four_years_days = 1461;
  std::vector<WeatherDay> days;
  for (std::size_t i = 0; i < record.size(); ++i) days.push_back(record.day(i));
  return {record.name(), record.site(), record.first() + std::chrono::days(times * four_years_days),
          std::move(days), record.rain_observed()};
}

/// 60 pots of tomato away two days, leaving on each day of June to August of 20 summers (the same
/// four years five times over, each run for itself); weather already prepared. Items are windows.
void absence_of_sixty_pots(benchmark::State& state) {
  constexpr std::size_t pots = 60;
  const std::string row =
      "name,crop,pot,mix,plants,planted,spot,routine\n"
      "it,tomato,nursery 37 l,potting mix,1,05-15,patio,as-needed\n";
  const Planting planting = read_garden({"garden.csv", row}, catalogue()).front();
  std::vector<Pot> all;
  for (const auto& entry : catalogue().pots.entries()) all.push_back(entry.value);
  all.erase(all.begin(), all.end() - static_cast<std::ptrdiff_t>(pots));
  const std::vector<Planting> candidates = in_pots(planting, all, catalogue().parameters);
  std::vector<Place> weathers;
  for (int i = 0; i < 5; ++i) {
    weathers.emplace_back(later(tolvenau(), i), catalogue().parameters);
    benchmark::DoNotOptimize(weathers.back().at(planting.spot));
  }
  std::int64_t windows = 0;
  const AbsenceOptions options{.away_h = 24.0 * static_cast<double>(state.range(0))};
  for (auto _ : state) {
    const AbsenceResult result = absence(candidates, weathers, options);
    for (const AbsencePot& pot : result.pots) windows += pot.windows;
    benchmark::DoNotOptimize(result);
  }
  state.SetItemsProcessed(windows);
}
BENCHMARK(absence_of_sixty_pots)->Arg(2)->Arg(7)->Unit(benchmark::kMillisecond);

/// A garden of twelve plantings, each away three days under 100 draws, on T threads.
void absence_of_a_garden_in_draws(benchmark::State& state) {
  const std::vector<Planting> garden =
      read_garden(read_file(source + "/models/gardens/courtyard.csv"), catalogue());
  const Place weather(tolvenau(), catalogue().parameters);
  const DrawOptions draws{.threads = static_cast<std::size_t>(state.range(0))};
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        absence_spreads(garden, weather, catalogue(), {.away_h = 72.0}, draws));
  }
}
BENCHMARK(absence_of_a_garden_in_draws)
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

void built_in_tables(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(read_catalogue(builtin_tables()));
}
BENCHMARK(built_in_tables)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace wiltline
