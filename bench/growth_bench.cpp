// How time grows with pots, days and draws: linear, or where it bends.
#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "inputs.hpp"
#include "wiltline/questions/drawn_answers.hpp"

namespace wiltline {
namespace {

/// Pots that are all a little different, for this many days.
std::vector<Planting> pots(std::size_t count, int days) {
  std::string text = "name,crop,pot,mix,plants,planted,spot,routine,volume_l,ends\n";
  const std::string ends = to_string(make_date(2022, 5, 15) + std::chrono::days(days - 1));
  for (std::size_t i = 0; i < count; ++i) {
    const double litres = 20.0 + 30.0 * static_cast<double>(i) / static_cast<double>(count);
    text += std::to_string(i) + ",tomato,nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00," +
            std::to_string(litres) + "," + ends + "\n";
  }
  return read_garden({"bench.csv", text}, catalogue());
}

std::vector<SeasonStart> starts_of(const std::vector<Planting>& garden) {
  std::vector<SeasonStart> starts;
  for (const Planting& planting : garden) starts.push_back({&planting, make_date(2022, 5, 15)});
  return starts;
}

constexpr int season_days = 128;

void run_all(benchmark::State& state, const std::vector<Planting>& garden) {
  const auto starts = starts_of(garden);
  const Place weather(tolvenau(), catalogue().parameters);
  for (auto _ : state) {
    benchmark::DoNotOptimize(run_seasons(starts, weather, {}));
  }
  state.SetComplexityN(state.range(0));
}

void growth_in_pots(benchmark::State& state) {
  run_all(state, pots(static_cast<std::size_t>(state.range(0)), season_days));
}
BENCHMARK(growth_in_pots)
    ->RangeMultiplier(4)
    ->Range(16, 65536)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

void growth_in_days(benchmark::State& state) {
  run_all(state, pots(1024, static_cast<int>(state.range(0))));
}
BENCHMARK(growth_in_days)
    ->RangeMultiplier(2)
    ->Range(8, season_days)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

void growth_in_draws(benchmark::State& state) {
  const auto garden = pots(256, season_days);
  const auto starts = starts_of(garden);
  const Place weather(tolvenau(), catalogue().parameters);
  const DrawOptions draws{.draws = static_cast<std::size_t>(state.range(0))};
  for (auto _ : state) {
    benchmark::DoNotOptimize(season_spreads(starts, weather, catalogue(), {}, draws));
  }
  state.SetComplexityN(state.range(0));
}
BENCHMARK(growth_in_draws)
    ->RangeMultiplier(2)
    ->Range(1, 64)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

}  // namespace
}  // namespace wiltline
