#!/usr/bin/env bash
# Installs what is missing, builds wiltline and shows a summer in the example garden.
# Usage: bash cli/demo.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}"

build=.build/release
log=$build/build.log
mkdir -p "$build"
if ! { cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=OFF &&
  cmake --build "$build" --target wiltline_program --parallel "$(nproc)"; } >"$log" 2>&1; then
  tail -n 40 "$log" >&2
  echo "The build failed; the whole log is in $log." >&2
  exit 1
fi

echo "A summer in an invented courtyard garden, with invented weather:"
echo
"$build/cli/wiltline" season --garden models/gardens/courtyard.csv \
  --weather weather-samples/tolvenau.csv --from 2022-01-01 --to 2022-12-31
echo
echo "The program is $build/cli/wiltline; try it with -h."
