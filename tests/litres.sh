#!/usr/bin/env bash
# Prints litres a day by crop and climate as CSV: the July mean of one plant at full canopy in its usual pot.
# Usage: bash tests/litres.sh [MODELS_DIR [SPOT]]    (models and patio unless given)
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${test_packages[@]}"

build=.build/tests
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=ON >/dev/null
cmake --build "$build" --target wiltline_litres --parallel "$(nproc)" >/dev/null
"$build/tests/wiltline_litres" "$@"
