#!/usr/bin/env bash
# Prints litres a day by crop and climate as CSV: the July mean of one plant at full canopy in its usual pot.
# Usage: bash tests/litres.sh [MODELS_DIR [SPOT]]    (models and patio unless given)
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
build_for_tests wiltline_litres
"$build/tests/wiltline_litres" "$@"
