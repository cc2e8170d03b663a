#!/usr/bin/env bash
# A sweep killed with SIGKILL at random moments, again and again, single and in parts: never a half-written file
# under its final name, always the same bytes in the end. Not part of the gate: about ten minutes for 300 kills.
# Usage: bash tests/faults/sweep-kills.sh [KILLS [PROGRAM]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
source=$PWD
kills=${1:-300}
program=$(realpath "${2:-.build/tests/cli/wiltline}")
[[ -x $program ]] || { echo "no program $program; build it first, or name one" >&2; exit 1; }
RANDOM=7

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cd "$place"
words=(sweep --weather-dir "$source/weather-samples" --crops tomato,basil,kale --pots all)
begin=$(date +%s%N)
"$program" "${words[@]}" --output single.csv 2>/dev/null
whole_us=$((($(date +%s%N) - begin) / 1000))

fail() {
  echo "FAILED: $*" >&2
  exit 1
}
# Runs a command, killed after a random time up to that of a whole run (a third of it for a part).
killed=0
went_on=0
kill_some_time() {
  local most_us=$1
  shift
  local after_us=$((RANDOM * most_us / 32768 + 2000))
  local code=0
  # In the foreground timeout(1) outlives the signal and waits until the program and its lock are gone.
  { timeout --foreground -s KILL "$((after_us / 1000000)).$(printf %06d $((after_us % 1000000)))" \
    "$program" "$@" 2>said; } 2>/dev/null || code=$?
  [[ $code -eq 0 || $code -eq 137 ]] || fail "exit code $code: $(cat said)"
  grep -q "going on after" said && went_on=$((went_on + 1))
  [[ $code -eq 137 ]] && killed=$((killed + 1))
  return 0
}

rounds=0
while [[ $killed -lt $kills ]]; do
  rounds=$((rounds + 1))
  rm -f sweep.csv*
  if ((rounds % 2)); then
    until [[ -f sweep.csv ]]; do
      kill_some_time "$((whole_us * 2))" "${words[@]}" --output sweep.csv
    done
  else
    for k in 1 2 3; do
      until [[ -f sweep.csv.part-$k-of-3 ]]; do
        kill_some_time "$whole_us" "${words[@]}" --output sweep.csv --part "$k/3"
      done
    done
    "$program" "${words[@]}" --output sweep.csv --join 2>/dev/null
  fi
  cmp single.csv sweep.csv || fail "round $rounds differs from the single run"
  [[ -z $(find . -name '*.partial' -o -name '*.journal') ]] || [[ -f sweep.csv ]] ||
    fail "round $rounds left something behind"
done
[[ $went_on -gt 0 ]] || fail "no run went on where another had been killed"
echo "$killed kills in $rounds rounds, $went_on runs that went on: the same bytes every time."
