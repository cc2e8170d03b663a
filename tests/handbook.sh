#!/usr/bin/env bash
# Prints every worked example of FAO-56 that the library computes, with what the paper prints and what the library
# gives, and the checks against a station's published reference ET and against the sun. Exit 1 if one is not met.
# Usage: bash tests/handbook.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
build_for_tests wiltline_handbook
"$build/tests/wiltline_handbook"
