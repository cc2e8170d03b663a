#!/usr/bin/env bash
# Line coverage of lib by the test suite: what no test runs, and the share. Fails under 95 %.
# What stays uncovered: refusals no test provokes, such as a read error of the disk, and branches for processors
# that this one is not.
# Usage: bash tests/coverage.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${test_packages[@]}" gcovr

build=.build/coverage
# The installed library would need the coverage runtime where it is linked.
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS="--coverage -O1 -g0 -fprofile-update=atomic" \
  -DWILTLINE_TESTS=ON -DWILTLINE_INSTALL=OFF -DWILTLINE_HARDEN=OFF >/dev/null
cmake --build "$build" --parallel "$(nproc)"
find "$build" -name '*.gcda' -delete
ctest --test-dir "$build" --output-on-failure --parallel "$(nproc)"
gcovr --root . --filter lib/ --fail-under-line 95 "$build"
