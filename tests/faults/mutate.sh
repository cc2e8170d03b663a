#!/usr/bin/env bash
# Inputs of every kind, spoilt at random: weather, days to come, site, garden, watering log, saved state, model tables
# and options. Each run must end within 20 s with exit code 0, 2, 3 or 10 and, refused, say why in lines of its own and
# write nothing; answered, CSV and JSON parse, every number is finite and every line of a ledger closes. The same seed
# makes the same cases.
# Usage: bash tests/faults/mutate.sh [PROGRAM [CASES (default 5000) [SEED (default 1)]]]
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
program=$(realpath "${1:-$root/.build/release/cli/wiltline}")
exec python3 "$root/tests/faults/mutate.py" "$program" "$root" "${2:-5000}" "${3:-1}"
