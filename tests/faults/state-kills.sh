#!/usr/bin/env bash
# Kills a forecast that saves its state with SIGKILL at random moments: under the state's name stands yesterday's
# state or today's, whole, and tomorrow's run goes on from either to the same state.
# Usage: bash tests/faults/state-kills.sh [KILLS [PROGRAM]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
source=$PWD
kills=${1:-200}
program=$(realpath "${2:-.build/tests/cli/wiltline}")
[[ -x $program ]] || { echo "no program $program; build it first, or name one" >&2; exit 1; }
RANDOM=11
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"

# forecast DAY OPTIONS...: on the morning of a day of July 2022.
words() {
  local day=$1
  shift
  words=("$program" forecast --garden "$source/bench/twenty-pots.csv" --weather "$source/weather-samples/tolvenau.csv"
    --now "2022-07-$day 00:00" "$@")
}
forecast() {
  words "$@"
  "${words[@]}" >/dev/null 2>said || { echo "FAILED: $(head -1 said)"; exit 1; }
}
forecast 10 --save-state yesterday.csv
begin=$(date +%s%N)
forecast 11 --state yesterday.csv --save-state today.csv
took_us=$((($(date +%s%N) - begin) / 1000))
forecast 12 --state today.csv --save-state tomorrow.csv

killed=0
old=0
rounds=0
while [[ $killed -lt $kills ]]; do
  rounds=$((rounds + 1))
  cp yesterday.csv state.csv
  words 11 --state state.csv --save-state state.csv
  after_us=$((RANDOM * (took_us + 5000) / 32768))
  code=0
  { timeout -s KILL "$((after_us / 1000000)).$(printf %06d $((after_us % 1000000 + 1)))" \
    "${words[@]}" >/dev/null 2>said; } 2>/dev/null || code=$?
  [[ $code -eq 0 || $code -eq 137 ]] || { echo "FAILED: exit code $code: $(head -1 said)"; exit 1; }
  [[ $code -eq 0 ]] || killed=$((killed + 1))
  if cmp -s state.csv yesterday.csv; then
    old=$((old + 1))
  elif ! cmp -s state.csv today.csv; then
    echo "FAILED: neither yesterday's state nor today's after $after_us us"
    exit 1
  fi
  forecast 12 --state state.csv --save-state next.csv
  cmp -s next.csv tomorrow.csv || { echo "FAILED: another tomorrow after $after_us us"; exit 1; }
done
[[ $old -gt 0 && $old -lt $rounds ]] || { echo "FAILED: no kill came before the state, or none after"; exit 1; }
echo "$killed kills in $rounds rounds: $old times yesterday's state, else today's; the same tomorrow every time"
