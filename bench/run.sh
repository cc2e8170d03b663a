#!/usr/bin/env bash
# Builds and runs the benchmarks; words go on to the benchmark program, such as --benchmark_filter=season.
# Without words also runs bench/array_script.py, which is what somebody would write in Python, and prints how many times
# as long it takes.
# Usage: bash bench/run.sh [--benchmark_…]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" libbenchmark-dev

build=.build/bench
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=OFF -DWILTLINE_BENCH=ON >/dev/null
cmake --build "$build" --parallel "$(nproc)" >/dev/null
"$build/bench/wiltline_bench" "$@"
[ $# -eq 0 ] || exit 0

need_packages python3 python3-numpy
ours() {  # FILTER: nanoseconds of processor time a pot-day, the best of some repetitions
  "$build/bench/wiltline_bench" --benchmark_filter="$1" --benchmark_repetitions=5 --benchmark_format=json 2>/dev/null |
    awk -F'[:,]' '
      /"run_type"/ { once = /iteration/ }
      once && /"(ns_per_pot_day|items_per_second)"/ {
        ns = /items/ ? 1e9 / $2 : $2
        if (!best || ns < best) best = ns
      }
      END { print best }'
}
plain=$(ours '^batch_pot_days/1/200$')
swept=$(ours '^sweep_blocks$')
echo
/usr/bin/python3 bench/array_script.py | awk -v plain="$plain" -v swept="$swept" '
  { ours = $1 == "edges" ? swept : plain
    printf "Python, %-6s %7.1f ns a pot-day; ours %6.1f: %5.1f times%s\n", $1, $2, ours, $2 / ours,
      NF > 2 ? "   (" substr($0, index($0, $3)) ")" : "" }'
