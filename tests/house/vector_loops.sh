#!/usr/bin/env bash
# Fails if a loop marked "vector loop" is not vectorised for each width: 16 (baseline), 32 (AVX2) and 64 bytes
# (AVX-512), by the compiler's own report.
# Usage: vector_loops.sh COMPILER SOURCE_ROOT MORE_FLAGS FILE... (flags separated by semicolons, as a build adds them)
set -euo pipefail
compiler=$1
root=$2
IFS=';' read -ra more <<<"$3"
shift 3
cd "$root"
lost=0
for file in "$@"; do
  report=$("$compiler" -std=c++20 -O3 -ffp-contract=off -fno-math-errno -fno-trapping-math "${more[@]}" -I. -S -o /dev/null \
    -fopt-info-vec-optimized "$file" 2>&1)
  loops=$(grep -n "// vector loop" "$file" | cut -d: -f1)
  [ -n "$loops" ] || { echo "$file: no loop is marked"; exit 1; }
  for line in $loops; do
    for bytes in 16 32 64; do
      if ! grep -q "$file:$line:[0-9]*: optimized: *loop vectorized using $bytes byte vectors" <<<"$report"; then
        echo "$file:$line: found no loop of $bytes byte vectors; expected one"
        lost=$((lost + 1))
      fi
    done
  done
done
[ "$lost" -eq 0 ] || exit 1
echo "every marked loop is a vector loop"
