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
[ $# -gt 0 ] || set -- weather garden models site syntax state log climate

build=.build/fuzz
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_CXX_COMPILER=clang++ -DWILTLINE_FUZZ=ON -DWILTLINE_TESTS=OFF \
  -DWILTLINE_SANITIZE=address,undefined >/dev/null
cmake --build "$build" --parallel "$(nproc)" --target "${@/#/fuzz_}"

seeds=$build/seeds
mkdir -p "$seeds"/{weather,garden,models,site,syntax,state,log,climate}
for file in weather-samples/*.csv; do head -40 "$file" >"$seeds/weather/$(basename "$file")"; done
cp tests/cli/data/*.csv "$seeds/weather/" 2>/dev/null || true
cp weather-samples/months/*.csv "$seeds/climate/"
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
printf 'when,name,given_l\n2022-07-10 18:30,tomato,1.5\n2022-07-11T07:00,basil,\n2022-07-09 06:05,"a, ""b""",0.25\n' \
  >"$seeds/log/metric"
printf 'name,when,given_gal\nbasil,2022-06-01 07:00,0.5\n' >"$seeds/log/us"
cat >"$seeds/state/days" <<'CSV'
name,planted,date,growth,rooted_depletion_l,unrooted_depletion_l,top_depletion_l,rooted_share,mulch_water_l,yesterday_use_l,grown,progress,days_since_full,last_feed_days,drained_since_feed_l,drained_yesterday_l,log_from,doings
tomato,2022-05-15,2022-07-15,days,1.25,0,0.5,1,0.1,2.5,61,0.9,-1,3,0.2,0,2022-07-10T18:30,2022-07-15T08:30=drained 2022-07-15T09:00=21.3kg
"a, ""b""",2022-05-15,2022-06-01,days,0.5,0.25,0.1,0.4,0,1.5,17,0.3,-1,,0,0.1,,2022-06-01T08:30=top-dry
CSV
sed 's/,days,/,degree-days,/' "$seeds/state/days" >"$seeds/state/degree-days"

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
