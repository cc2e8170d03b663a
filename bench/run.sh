#!/usr/bin/env bash
# Builds and runs the benchmarks; words go on to the benchmark program, such as --benchmark_filter=season.
# Usage: bash bench/run.sh [--benchmark_…]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" libbenchmark-dev

build=.build/bench
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=OFF -DWILTLINE_BENCH=ON >/dev/null
cmake --build "$build" --parallel "$(nproc)" >/dev/null
"$build/bench/wiltline_bench" "$@"
