#!/usr/bin/env bash
# Runs the rules of thumb and the measured cases through the model and prints what it answers to each.
# Usage: bash tests/rules.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
build_for_tests wiltline_rules
"$build/tests/wiltline_rules"
