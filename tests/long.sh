#!/usr/bin/env bash
# Everything that takes too long for tests/run.sh, one after the other: sanitizers, static analysis, coverage, fuzzing,
# hostile and spoilt files, kills, valgrind and Slurm. Goes on after a failure; the summary at the end says which failed, and
# where the output of each lies. An hour or two on two cores besides the fuzzing.
# Usage: bash tests/long.sh [FUZZ_SECONDS_EACH (default 600)]
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
fuzz_seconds=${1:-600}
logs=.build/long
mkdir -p "$logs"
program=.build/tests/cli/wiltline
summary=()
failed=0

step() {  # NAME COMMAND...
  local name=$1 begin=$SECONDS result=passed
  shift
  echo "== $name"
  if ! "$@" >"$logs/$name.log" 2>&1; then
    result=FAILED
    failed=$((failed + 1))
    tail -n 15 "$logs/$name.log"
  fi
  summary+=("$(printf '%-12s %s in %4d s: %s' "$name" "$result" $((SECONDS - begin)) \
    "$(grep -v '^ *$' "$logs/$name.log" | tail -n 1)")")
}

step run bash tests/run.sh
step analyse bash tests/analyse.sh
step sanitize bash tests/sanitize.sh
step coverage bash tests/coverage.sh
step valgrind bash tests/valgrind.sh "$program"
step hostile bash tests/faults/hostile.sh "$program"
step mutate bash tests/faults/mutate.sh "$program" 5000
step kills bash tests/faults/kills.sh "$program"
step state-kills bash tests/faults/state-kills.sh 200 "$program"
step sweep-kills bash tests/faults/sweep-kills.sh 300 "$program"
step slurm bash tests/slurm/run.sh "$program"
step fuzz bash tests/fuzz/run.sh "$fuzz_seconds"

echo
printf '%s\n' "${summary[@]}"
echo "The output of each lies in $logs."
[ "$failed" -eq 0 ]
