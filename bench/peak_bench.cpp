// What this machine can do at best, to hold the batch run against: operations on doubles in
// registers, and bytes to and from the first-level cache, with each instruction set.
#include <benchmark/benchmark.h>

#include <array>

#include "instruction_set_name.hpp"
#include "wiltline/budget/batch/pot_chunk.hpp"

namespace wiltline {
namespace {

bool skipped(benchmark::State& state, InstructionSet set) {
  state.SetLabel(name_of(set));
  if (set <= widest_instruction_set()) return false;
  state.SkipWithError("this processor does not have it");
  return true;
}

/// Multiply and add in turn on values that stay in registers.
void peak_operations(benchmark::State& state) {
  const auto set = static_cast<InstructionSet>(state.range(0));
  if (skipped(state, set)) return;
  constexpr std::size_t values = 48;
  constexpr int rounds = 1000;
  std::array<double, values> sum{};
  for (auto _ : state) {
    run_with(
        set, [&sum]() __attribute__((always_inline)) {
          std::array<double, values> v = sum;
          for (int round = 0; round < rounds; ++round) {
            for (std::size_t i = 0; i < values; ++i) v[i] = v[i] * 0.999 + 1.0;
          }
          sum = v;
        });
    benchmark::DoNotOptimize(sum);
  }
  state.counters["operations"] =
      benchmark::Counter(2.0 * values * rounds, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(peak_operations)->DenseRange(0, 2);

/// Two values read and one written for every addition, within 12 KiB.
void peak_first_level_bytes(benchmark::State& state) {
  const auto set = static_cast<InstructionSet>(state.range(0));
  if (skipped(state, set)) return;
  constexpr std::size_t lanes = 16;
  static std::array<Lanes, lanes> a{};
  static std::array<Lanes, lanes> b{};
  static std::array<Lanes, lanes> c{};
  constexpr int rounds = 100;
  for (auto _ : state) {
    run_with(
        set, []() __attribute__((always_inline)) {
          for (int round = 0; round < rounds; ++round) {
            for (std::size_t k = 0; k < lanes; ++k) {
              for (std::size_t i = 0; i < chunk_pots; ++i) c[k][i] = a[k][i] + b[k][i];
            }
            benchmark::ClobberMemory();
          }
        });
  }
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations()) * rounds *
                          static_cast<std::int64_t>(3 * lanes * sizeof(Lanes)));
}
BENCHMARK(peak_first_level_bytes)->DenseRange(0, 2);

}  // namespace
}  // namespace wiltline
