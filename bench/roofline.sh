#!/usr/bin/env bash
# Holds the batch run against what the machine can do: instructions, reads and writes of a pot-day, counted by
# valgrind, once while every pot keeps to the plain course and once while most pass edges, and the time they would take at
# the two peaks that bench/peak_bench.cpp measures. AVX2.
# Usage: bash bench/roofline.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" libbenchmark-dev valgrind

bench=.build/bench/bench/wiltline_bench
bash bench/run.sh --benchmark_filter='^batch_one_pass' >/dev/null
counts=$(mktemp -p .build counts.XXXXXX)
trap 'rm -f "$counts"' EXIT

# The best of some repetitions: anything else on the machine only adds.
best() {  # FILTER COUNTER lowest|highest
  "$bench" --benchmark_filter="$1" --benchmark_format=json --benchmark_repetitions=9 2>/dev/null |
    awk -F'[:,]' -v counter="\"$2\"" -v want="$3" '
      /"run_type"/ { once = /iteration/ }
      once && index($1, counter) { if (!seen || (want == "lowest" ? $2 < best : $2 > best)) best = $2; seen = 1 }
      END { print best }'
}
operations=$(best '^peak_operations/1$' operations highest)
bytes=$(best '^peak_first_level_bytes/1$' bytes_per_second highest)

hold() {  # NAME PASS MEASURED: one pass under valgrind, and the benchmark that times the same
  local pot_days instructions reads writes
  pot_days=$(valgrind --quiet --tool=callgrind --cache-sim=yes --collect-atstart=no --toggle-collect='wiltline::run_chunk(*' \
    --callgrind-out-file="$counts" "$bench" --benchmark_filter="$2" --benchmark_format=json 2>/dev/null |
    awk -F'[:,]' '/"pot_days"/ { printf "%.0f", $2 }')
  read -r instructions reads writes _ < <(awk '/^summary:/ { print $2, $3, $4 }' "$counts")
  awk -v name="$1" -v days="$pot_days" -v i="$instructions" -v r="$reads" -v w="$writes" -v ops="$operations" -v bps="$bytes" \
    -v ns="$(best "$3" ns_per_pot_day lowest)" 'BEGIN {
      lanes = 4; vector_bytes = 32
      printf "%s\n", name
      printf "  instructions a pot-day     %6.0f   at %.1f G/s, all of them vectors at the peak of operations: %.1f ns\n",
        i / days, ops / lanes / 1e9, i / days / (ops / lanes) * 1e9
      printf "  reads and writes a pot-day %6.0f   at %.0f GB/s, all of them of %d bytes: %.1f ns\n",
        (r + w) / days, bps / 1e9, vector_bytes, (r + w) / days * vector_bytes / bps * 1e9
      printf "  measured                   %6.1f ns a pot-day\n", ns
    }'
}
hold 'no pot passes an edge' '^batch_one_pass/0' '^batch_pot_days/1/200$'
hold 'most pots pass edges' '^batch_one_pass/1' '^batch_exact_path$'
