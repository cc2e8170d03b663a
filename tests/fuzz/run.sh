#!/usr/bin/env bash
# Fuzzes each reader and the small syntaxes, from the files of the project as seeds; stops at the first crash
# and says where its input lies.
# Usage: bash tests/fuzz/run.sh [SECONDS_EACH (default 3600)] [HARNESS...]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
source tests/packages.sh
need_packages "${build_packages[@]}" clang libclang-rt-14-dev

seconds=${1:-3600}
[ $# -eq 0 ] || shift
[ $# -gt 0 ] || set -- weather garden models site syntax

build=.build/fuzz
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_CXX_COMPILER=clang++ -DWILTLINE_FUZZ=ON -DWILTLINE_TESTS=OFF \
  -DWILTLINE_SANITIZE=address,undefined >/dev/null
cmake --build "$build" --parallel "$(nproc)" --target "${@/#/fuzz_}"

seeds=$build/seeds
mkdir -p "$seeds"/{weather,garden,models,site,syntax}
for file in weather-samples/*.csv; do head -40 "$file" >"$seeds/weather/$(basename "$file")"; done
cp tests/cli/data/*.csv "$seeds/weather/" 2>/dev/null || true
cp models/gardens/*.csv "$seeds/garden/"
cp tests/cli/data/*garden*.csv "$seeds/garden/" 2>/dev/null || true
byte=0
for table in crops mix-components mixes pots spots walls parameters; do
  { printf "\\x$(printf %02x $byte)"; head -30 "models/$table.csv"; } >"$seeds/models/$table"
  byte=$((byte + 1))
done
printf 'latitude_deg = 47.5\nelevation_m = 400\nwind_height_m = 2\nlongitude_deg = 8.5\nutc_offset_h = 1\n' \
  >"$seeds/site/one"
printf 'check daily 07:00 19:00 give 2 l away 07-08/07-15' >"$seeds/syntax/routine"
printf 'peat 60 perlite 30 compost 10' >"$seeds/syntax/mix"
printf '2024-07-08/2024-07-14' >"$seeds/syntax/absence"
printf '2024-02-29' >"$seeds/syntax/date"
printf -- '-1.5e-3' >"$seeds/syntax/number"

for harness in "$@"; do
  corpus=$build/corpus/$harness
  mkdir -p "$corpus" "$build/crashes"
  echo "fuzzing $harness for $seconds s"
  "$build/tests/fuzz/fuzz_$harness" -max_total_time="$seconds" -max_len=8192 -timeout=10 -rss_limit_mb=2048 \
    -print_final_stats=1 -verbosity=0 -artifact_prefix="$build/crashes/$harness-" "$corpus" "$seeds/$harness" 2>&1 |
    grep -E "stat::number_of_executed_units|ERROR|Test unit|SUMMARY" || true
  if compgen -G "$build/crashes/$harness-*" >/dev/null; then
    echo "$harness: crashed; the input lies in $build/crashes"
    exit 1
  fi
done
echo "no crash"
