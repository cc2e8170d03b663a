#!/usr/bin/env bash
# The long checks of calibrate: 500 gardens of invented readings whose truth is known, and ten weighings against the
# tables alone. Prints bias, errors and how often the ranges held the truth. Then how near the ends of bands come with
# the draws of --uncertain and with random ones, and what a forecast learns from
# one, three, seven and fourteen readings. A quarter of an hour.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
build_for_tests wiltline_tests
"$build/tests/wiltline_tests" --no-skip "--test-case=long calibration*,long draws*,learning\, long*"  # a comma ends a pattern
