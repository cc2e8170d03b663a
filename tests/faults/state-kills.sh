#!/usr/bin/env bash
# A forecast killed with SIGKILL at random moments while it saves its state: under the state's name stands the
# old state or the new one, whole, and the next day goes on from either. About a minute for 200 kills.
# Usage: bash tests/faults/state-kills.sh [KILLS [PROGRAM]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
source=$PWD
kills=${1:-200}
program=$(realpath "${2:-.build/tests/cli/wiltline}")
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cd "$place"
RANDOM=11
# Forecast of a day, in place of the shell that runs it.
day() {
  exec "$program" forecast --garden "$source/models/gardens/courtyard.csv" --weather "$source/weather-samples/tolvenau.csv" \
    --to "$1" --members 20 --format csv "${@:2}" 2>/dev/null
}
(day 2024-07-13 --save-state old.csv >answer.csv)
begin=$(date +%s%N)
(day 2024-07-14 --state old.csv --save-state new.csv >answer.csv)
took_us=$((($(date +%s%N) - begin) / 1000))
(day 2024-07-15 --state old.csv >from_old.csv)
(day 2024-07-15 --state new.csv >from_new.csv)
cmp -s from_old.csv from_new.csv || { echo "FAILED: the day after differs with the state it goes on from"; exit 1; }

killed=0
renewed=0
for ((round = 0; killed < kills && round < 10 * kills; round++)); do
  cp old.csv state.csv
  day 2024-07-14 --state old.csv --save-state state.csv >answer.csv &
  child=$!
  sleep "0.$(printf %06d $(((RANDOM * 32768 + RANDOM) % (took_us + 10000))))"
  kill -KILL "$child" 2>/dev/null || true
  code=0
  wait "$child" 2>/dev/null || code=$?
  [[ $code -eq 0 ]] || killed=$((killed + 1))
  if cmp -s state.csv new.csv; then
    renewed=$((renewed + 1))
  elif ! cmp -s state.csv old.csv; then
    echo "FAILED: half a state in round $round"
    exit 1
  fi
  if ((round % 20 == 0)); then
    (day 2024-07-15 --state state.csv >from_it.csv)
    cmp -s from_it.csv from_new.csv || { echo "FAILED: another answer in round $round"; exit 1; }
  fi
  rm -f .state.csv.*
done
echo "$killed kills in $round rounds, $renewed states written before: old or new, whole, every time."
