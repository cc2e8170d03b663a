#!/usr/bin/env bash
# Two builds of the benchmarks, turn about, so that both meet the same load of the machine: the least processor time of each.
# Usage: bash bench/paired.sh BEFORE AFTER [ROUNDS [FILTER]]     (BEFORE, AFTER: programs, such as .build/bench/bench/wiltline_bench)
set -euo pipefail
before=$1
after=$2
rounds=${3:-9}
filter=${4:-'^(sweep_blocks|batch_exact_path|batch_pot_days/1/.*|batch_seasons/16384/1/real_time|season_of_one_pot|absence_of.*|weather_csv_to_record|reference_et_per_day|chart.*)$'}
for ((round = 0; round < rounds; round++)); do
  for which in before after; do
    "${!which}" --benchmark_filter="$filter" --benchmark_min_time=0.2 --benchmark_format=json 2>/dev/null |
      awk -F'": ' -v which="$which" '
        { gsub(/[",]/, "", $2) }
        $1 ~ /"name$/ { name = $2 }
        $1 ~ /"cpu_time$/ { time = $2 }
        $1 ~ /"time_unit$/ { print which, name, time * ($2 == "ms" ? 1e6 : $2 == "us" ? 1e3 : 1) }'
  done
done | awk '
  { if (!($2 in seen)) { seen[$2] = ++count; name[count] = $2 }
    if (!(($1, $2) in best) || $3 < best[$1, $2]) best[$1, $2] = $3 }
  END {
    for (i = 1; i <= count; i++) {
      b = best["before", name[i]]; a = best["after", name[i]]
      printf "%-45s %12.0f ns before %12.0f ns after %6.2f times\n", name[i], b, a, b / a
    }
  }'
