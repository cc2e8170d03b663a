#!/usr/bin/env bash
# Stops the program at random moments of writing an answer: under the answer's name stands the whole answer or
# nothing, and a signal that can be caught leaves nothing else behind.
# Usage: bash tests/faults/kills.sh [PROGRAM [ROUNDS]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
program=$(realpath "${1:-.build/release/cli/wiltline}")
rounds=${2:-200}
source_folder=$PWD
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
command=("$program" season --garden "$source_folder/bench/twenty-pots.csv" --weather
  "$source_folder/weather-samples/tolvenau.csv" --ledger --format csv)
"${command[@]}" --output whole.csv 2>/dev/null
start=$(date +%s%N)
"${command[@]}" --output timed.csv 2>/dev/null
took_us=$((($(date +%s%N) - start) / 1000))
RANDOM=1
stopped=0
whole=0
for ((round = 0; round < rounds; round++)); do
  signals=(TERM INT KILL)
  signal=${signals[$((round % 3))]}
  rm -f answer.csv .answer.csv.*
  # A shell's background jobs ignore SIGINT; this one must not.
  python3 -c 'import os, signal, sys; signal.signal(signal.SIGINT, signal.SIG_DFL); os.execv(sys.argv[1], sys.argv[1:])' \
    "${command[@]}" --output answer.csv 2>/dev/null &
  child=$!
  wait_us=$(((RANDOM * 32768 + RANDOM) % (took_us + 60000)))
  sleep "$(printf '%d.%06d' $((wait_us / 1000000)) $((wait_us % 1000000)))"
  kill -s "$signal" "$child" 2>/dev/null || true
  if wait "$child" 2>/dev/null; then whole=$((whole + 1)); else stopped=$((stopped + 1)); fi
  if [ -e answer.csv ] && ! cmp -s answer.csv whole.csv; then
    echo "FAILED: half an answer after $signal at $wait_us us"
    exit 1
  fi
  if [ "$signal" != KILL ] && compgen -G ".answer.csv.*" >/dev/null; then
    echo "FAILED: left behind after $signal at $wait_us us: $(echo .answer.csv.*)"
    exit 1
  fi
done
echo "$rounds rounds: $stopped stopped, $whole ended before; no half answer"
