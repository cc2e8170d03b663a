#!/usr/bin/env bash
# The whole test suite under sanitizers: address and undefined behaviour, then threads.
# Usage: bash tests/sanitize.sh [address,undefined | thread]...
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${test_packages[@]}"

[ $# -gt 0 ] || set -- address,undefined thread
for sanitizers in "$@"; do
  build=.build/sanitize-${sanitizers//,/-}
  cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=RelWithDebInfo -DWILTLINE_SANITIZE="$sanitizers" >/dev/null
  cmake --build "$build" --parallel "$(nproc)"
  ctest --test-dir "$build" --output-on-failure --parallel "$(nproc)"
done
