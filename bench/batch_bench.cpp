// The batch run: nanoseconds a pot-day by instruction set, by share of pots that cross an edge, by
// size of the job; and what the machine can do, to hold it against.
#include <benchmark/benchmark.h>

#include <string>
#include <thread>
#include <vector>

#include "inputs.hpp"
#include "instruction_set_name.hpp"
#include "support/random.hpp"
#include "wiltline/account/season_run.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {
namespace {

/// Pots of one crop, watered once a day, of these litres or more. Big ones never cross their
/// threshold.
std::vector<Planting> pots(std::size_t count, double litres, const std::string& routine) {
  test::Random random(3);
  std::string text = "name,crop,pot,mix,plants,planted,spot,routine,mulch,volume_l,root_ball_l\n";
  for (std::size_t i = 0; i < count; ++i) {
    text += std::to_string(i) + ",tomato,nursery 37 l," +
            (random.chance(0.5) ? "potting mix" : "vegetable mix") + ",1,2022-05-15,patio," +
            routine + "," + (random.chance(0.3) ? "yes" : "") + "," +
            std::to_string(random.uniform(litres, 1.5 * litres)) + "," + std::to_string(litres) +
            "\n";
  }
  return read_garden({"bench.csv", text}, catalogue());
}

std::vector<PlantingSetting> settings_of(const std::vector<Planting>& garden) {
  const ModelParameters& model = catalogue().parameters;
  std::vector<PlantingSetting> settings;
  for (const Planting& planting : garden) {
    settings.push_back(planting_setting(planting, build_pot(planting, model), model));
  }
  return settings;
}

/// Seasons of a course that is worked out beforehand, chunk after chunk.
struct ChunkRun {
  std::vector<Planting> garden;
  std::vector<PlantingSetting> settings;
  Place weather;
  Course course;
  std::vector<SeasonResult> results;

  ChunkRun(std::size_t count, double litres, const std::string& routine)
      : garden(pots(count, litres, routine)),
        settings(settings_of(garden)),
        weather(tolvenau(), catalogue().parameters),
        course(plan_course(garden.front(), make_date(2022, 5, 15), tolvenau(),
                           weather.at(garden.front().spot), catalogue().parameters,
                           GrowthClock::stage_days)),
        results(count) {}

  /// Pot-days with an edge.
  std::size_t run(InstructionSet set) {
    std::size_t exact = 0;
    for (std::size_t begin = 0; begin < settings.size(); begin += chunk_pots) {
      const std::size_t count = std::min(chunk_pots, settings.size() - begin);
      std::array<const PlantingSetting*, chunk_pots> chunk{};
      std::array<SeasonResult*, chunk_pots> into{};
      for (std::size_t i = 0; i < count; ++i) {
        chunk[i] = &settings[begin + i];
        into[i] = &results[begin + i];
      }
      exact += run_chunk(std::span(chunk).first(count), course, catalogue().parameters, set,
                         std::span(into).first(count));
    }
    return exact;
  }
  [[nodiscard]] std::size_t pot_days() const { return settings.size() * course.days.size(); }
};

void report(benchmark::State& state, std::size_t pot_days, std::size_t exact) {
  const auto days = static_cast<double>(pot_days);
  state.counters["ns_per_pot_day"] = benchmark::Counter(
      days * 1e-9, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
  state.counters["exact_share"] = static_cast<double>(exact) / days;
}

/// Full physics, one visit a day, summary only. Argument 0: instruction set; 1: litres of the
/// smallest pot.
void batch_pot_days(benchmark::State& state) {
  const auto set = static_cast<InstructionSet>(state.range(0));
  if (set > widest_instruction_set()) {
    state.SkipWithError("this processor does not have it");
    return;
  }
  ChunkRun job(2048, static_cast<double>(state.range(1)), "daily 07:00");
  std::size_t exact = 0;
  for (auto _ : state) exact = job.run(set);
  state.SetLabel(name_of(set));
  report(state, job.pot_days(), exact);
}
// 200 L: no pot crosses; the others: about a tenth, a quarter and half of the pot-days do.
BENCHMARK(batch_pot_days)
    ->ArgsProduct({{0, 1, 2}, {200}})
    ->Args({static_cast<int>(InstructionSet::avx2), 34})
    ->Args({static_cast<int>(InstructionSet::avx2), 21})
    ->Args({static_cast<int>(InstructionSet::avx2), 10})
    ->Unit(benchmark::kMillisecond);

/// Mostly days with an edge: small pots, watered every other day.
ChunkRun pots_with_edges() {
  return {256, 5.0, "every 2 days 07:00"};
}

/// Once over, for whoever counts instructions (bench/roofline.sh). Argument 0: no pot crosses an
/// edge, as batch_pot_days/1/200; 1: most do, as batch_exact_path.
void batch_one_pass(benchmark::State& state) {
  ChunkRun job = state.range(0) == 1 ? pots_with_edges() : ChunkRun(2048, 200.0, "daily 07:00");
  for (auto _ : state) benchmark::DoNotOptimize(job.run(InstructionSet::avx2));
  state.counters["pot_days"] = static_cast<double>(job.pot_days());
}
BENCHMARK(batch_one_pass)->Arg(0)->Arg(1)->Iterations(1);

void batch_exact_path(benchmark::State& state) {
  ChunkRun job = pots_with_edges();
  std::size_t exact = 0;
  for (auto _ : state) exact = job.run(widest_instruction_set());
  report(state, job.pot_days(), exact);
}
BENCHMARK(batch_exact_path)->Unit(benchmark::kMillisecond);

/// run_seasons as a whole: settings, course and totals included. Arguments: pots, threads.
void batch_seasons(benchmark::State& state) {
  const auto garden = pots(static_cast<std::size_t>(state.range(0)), 200.0, "daily 07:00");
  std::vector<SeasonStart> starts;
  for (const Planting& planting : garden) starts.push_back({&planting, make_date(2022, 5, 15)});
  const Place weather(tolvenau(), catalogue().parameters);
  std::size_t days = 0;
  for (auto _ : state) {
    const auto results =
        run_seasons(starts, weather, {.threads = static_cast<std::size_t>(state.range(1))});
    days = static_cast<std::size_t>(results.front().summary.days) * results.size();
  }
  report(state, days, 0);
  state.counters["cores"] = std::thread::hardware_concurrency();
}
BENCHMARK(batch_seasons)
    ->ArgsProduct({{1, 32, 1024, 16384}, {1}})
    ->Args({16384, 2})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace
}  // namespace wiltline
