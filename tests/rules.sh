#!/usr/bin/env bash
# Runs the rules of thumb and the measured cases through the model and prints what it answers to each.
# Usage: bash tests/rules.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${test_packages[@]}"

build=.build/tests
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=ON >/dev/null
cmake --build "$build" --target wiltline_rules --parallel "$(nproc)" >/dev/null
"$build/tests/wiltline_rules"
