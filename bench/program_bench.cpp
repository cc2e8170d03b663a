// The whole program, from start to exit.
#include <benchmark/benchmark.h>
#include <spawn.h>
#include <sys/wait.h>

#include <string>
#include <vector>

extern char** environ;

namespace {

bool run_program(const std::vector<std::string>& words) {
  std::vector<char*> argv;
  for (const std::string& word : words) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  pid_t child = 0;
  if (posix_spawn(&child, argv[0], nullptr, nullptr, argv.data(), environ) != 0) return false;
  int status = 0;
  return waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

const std::string source = WILTLINE_SOURCE;

void start_up(benchmark::State& state) {
  for (auto _ : state) {
    if (!run_program(
            {WILTLINE_PROGRAM, "list", "pots", "--format", "csv", "--output", "/dev/null"})) {
      state.SkipWithError("the program failed");
    }
  }
}
BENCHMARK(start_up)->Unit(benchmark::kMillisecond)->UseRealTime();

/// Start-up, reading the tables, four years of weather and the garden, and a summer of twenty pots.
void twenty_pot_summer(benchmark::State& state) {
  for (auto _ : state) {
    if (!run_program({WILTLINE_PROGRAM, "season", "--garden", source + "/bench/twenty-pots.csv",
                      "--weather", source + "/weather-samples/tolvenau.csv", "--from", "2022-01-01",
                      "--to", "2022-12-31", "--output", "/dev/null"})) {
      state.SkipWithError("the program failed");
    }
  }
}
BENCHMARK(twenty_pot_summer)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
