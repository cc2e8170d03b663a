#!/usr/bin/env bash
# Installs what is missing, builds with warnings as errors and runs every test.
# Usage: bash tests/run.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${test_packages[@]}"

build=.build/tests
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=ON -DWILTLINE_WERROR=ON \
  -DWILTLINE_PYTHON=ON -DPython_EXECUTABLE=/usr/bin/python3 >/dev/null
cmake --build "$build" --parallel "$(nproc)"
ctest --test-dir "$build" --output-on-failure --parallel "$(nproc)"
