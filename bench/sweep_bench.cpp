// A sweep's blocks: what a pot-day costs when every pot is run through every year of a record.
#include <benchmark/benchmark.h>

#include "inputs.hpp"
#include "wiltline/questions/sweep.hpp"

namespace wiltline {
namespace {

/// Tomato in every built-in pot, one thread, weather prepared; items are pot-days.
void sweep_blocks(benchmark::State& state) {
  const Catalogue& known = catalogue();
  SweepAxes axes{.crops = {*known.crops.find("tomato")},
                 .spots = {*known.spots.find("patio")},
                 .pots = {},
                 .mixes = {*known.mix("potting mix")},
                 .plants = {1},
                 .planted = {},
                 .routine = *parse_routine("check daily 07:00")};
  for (const Entry<Pot>& pot : known.pots.entries()) axes.pots.push_back(pot.value);
  const SweepPlan plan(std::move(axes), 1, known.parameters);
  Place weather(tolvenau(), known.parameters);
  std::int64_t days = 0;
  for (auto _ : state) {
    for (std::size_t b = 0; b < plan.blocks(); ++b) {
      const SweepSeasons run = run_block(plan, plan.block(b), weather, known, {});
      for (const SeasonResult& season : run.seasons) days += season.summary.days;
    }
  }
  state.SetItemsProcessed(days);
}
BENCHMARK(sweep_blocks)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace wiltline
