#!/usr/bin/env bash
# Makes cli/page/season.png again: the README's picture of a page. Usage: picture.sh PROGRAM
set -euo pipefail
program=$(realpath "$1")
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cp tests/browser/package*.json "$scratch"
(cd "$scratch" && npm ci --ignore-scripts --no-audit --no-fund >/dev/null)
"$program" season --garden models/gardens/courtyard.csv --weather weather-samples/tolvenau.csv \
  --from 2022-01-01 --to 2022-12-31 --page "$scratch/season.html" >/dev/null
NODE_PATH="$scratch/node_modules" node tests/browser/picture.js "$(command -v chromium)" "$scratch/season.html" cli/page/season.png
