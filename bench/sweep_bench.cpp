// A sweep's blocks: what a pot-day costs when every pot is run through every year of a record.
#include <benchmark/benchmark.h>

#include <string_view>

#include "inputs.hpp"
#include "wiltline/questions/sweep.hpp"

namespace wiltline {
namespace {

/// Tomato in every built-in pot, one thread, weather prepared; items are pot-days.
void sweep_watered(benchmark::State& state, std::string_view routine) {
  const Catalogue& known = catalogue();
  SweepAxes axes{.crops = {*known.crops.find("tomato")},
                 .spots = {*known.spots.find("patio")},
                 .pots = {},
                 .mixes = {*known.mix("potting mix")},
                 .plants = {1},
                 .planted = {},
                 .routine = *parse_routine(routine)};
  for (const Entry<Pot>& pot : known.pots.entries()) axes.pots.push_back(pot.value);
  const SweepPlan plan(std::move(axes), 1, known.parameters);
  const Place weather(tolvenau(), known.parameters);
  std::int64_t days = 0;
  for (auto _ : state) {
    for (std::size_t b = 0; b < plan.blocks(); ++b) {
      const SweepSeasons run = run_block(plan, plan.block(b), weather, known, {});
      for (const SeasonResult& season : run.seasons()) days += season.summary.days;
    }
  }
  state.SetItemsProcessed(days);
}
void sweep_blocks(benchmark::State& state) {
  sweep_watered(state, "check daily 07:00");
}
BENCHMARK(sweep_blocks)->Unit(benchmark::kMillisecond);

void sweep_as_needed(benchmark::State& state) {
  sweep_watered(state, "as-needed");
}
BENCHMARK(sweep_as_needed)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace wiltline
