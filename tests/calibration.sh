#!/usr/bin/env bash
# The long checks of calibrate: 500 gardens of invented readings whose truth is known, and ten weighings against the
# tables alone; and of a forecast that learns from one, three, seven and fourteen. Prints bias, errors and how often the ranges held the truth. Minutes.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
build_for_tests wiltline_tests
"$build/tests/wiltline_tests" --no-skip "--test-case=calibrate\, long*,learning\, long*"  # a comma ends a pattern
