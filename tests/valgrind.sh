#!/usr/bin/env bash
# The program under valgrind's memcheck, on one run of each command: no invalid or uninitialised read, nothing
# lost. The sanitizers see more tests; this sees the program as it is built for release.
# Usage: bash tests/valgrind.sh [PROGRAM]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages valgrind

program=$(realpath "${1:-.build/tests/cli/wiltline}")
[[ -x $program ]] || { echo "no program $program; build it first, or name one" >&2; exit 1; }
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
mkdir "$folder/weather"
grep -Ev '^202[34]' weather-samples/tolvenau.csv >"$folder/weather/two-years.csv"
weather=(--weather "$folder/weather/two-years.csv")
garden=(--garden tests/cli/data/garden.csv)
today=(--to 2022-07-14 --now)

failed=0
tried=0
check() {  # CODE COMMAND...
  local expected=$1 code=0
  shift
  tried=$((tried + 1))
  valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect \
    --log-file="$folder/log" "$program" "$@" >"$folder/out" 2>"$folder/err" || code=$?
  if [ "$code" -ne "$expected" ]; then
    echo "FAILED ($code): wiltline $*"
    head -20 "$folder/log" "$folder/err"
    failed=$((failed + 1))
  fi
}
check 0 --help
check 0 list crops
check 0 capacity --pot "nursery 37 l" --mix "potting mix"
check 0 et0 "${weather[@]}" --format json
check 0 season "${garden[@]}" "${weather[@]}" --ledger --format csv
check 0 season "${garden[@]}" "${weather[@]}" --uncertain 10
check 0 compare --crop tomato --kind nursery "${weather[@]}"
check 0 choose --crops tomato,basil "${weather[@]}"
check 0 plan "${garden[@]}" "${weather[@]}" --to 2022-07-14
check 0 weather weather-samples/layouts/logger-hours.csv
check 0 begin "$folder/new"
check 0 heatwave "${garden[@]}" "${weather[@]}"
check 0 absence --crop basil --days 7 "${weather[@]}"
check 0 forecast "${garden[@]}" "${weather[@]}" "${today[@]}" "2022-07-15 09:00" --save-state "$folder/state.csv"
check 0 forecast "${garden[@]}" "${weather[@]}" "${today[@]}" "2022-07-15 18:00" --state "$folder/state.csv"
courtyard=(--garden models/gardens/courtyard.csv --weather weather-samples/tolvenau.csv)
readings=(--weighings models/readings/courtyard-weighings.csv)
check 0 calibrate "${courtyard[@]}" "${readings[@]}" --write "$folder/learned.csv" --page "$folder/fit.html"
check 0 forecast "${courtyard[@]}" "${readings[@]}" --to 2024-07-15 --now "2024-07-16 09:00"
check 0 season "${garden[@]}" "${weather[@]}" --uncertain 64 --what-matters
check 0 season "${garden[@]}" "${weather[@]}" --by week --page "$folder/season.html"
check 0 weather --typical weather-samples/months/morvane.csv --years 2 --output "$folder/typical.csv"
check 0 plan "${garden[@]}" "${weather[@]}" --to 2022-07-14 --calendar "$folder/visits.ics"
check 0 sweep --weather-dir "$folder/weather" --crops tomato --pots "nursery 37 l" --output "$folder/sweep.csv"
check 2 season --garden nothere.csv "${weather[@]}"
check 3 et0 --weather tests/cli/data/garden.csv

echo "$tried commands, $failed failed"
[ "$failed" -eq 0 ]
