#!/usr/bin/env bash
# The page of every command in a real browser. Exits 77, with the reason, where none can be had.
# Usage: run.sh PROGRAM SOURCE SCRATCH
set -euo pipefail
program=$1 source=$2 scratch=$3
skip() {
  echo "skipped: $1"
  exit 77
}
command -v node >/dev/null || skip "no node"
command -v npm >/dev/null || skip "no npm"
browser=$(command -v chromium || command -v chromium-browser || command -v google-chrome) ||
  skip "no browser (Debian's package chromium)"
rm -rf "$scratch"
mkdir -p "$scratch/pages" "$scratch/shots"
cp "$source"/tests/browser/package*.json "$scratch"
(cd "$scratch" && npm ci --ignore-scripts --no-audit --no-fund >npm.log 2>&1) ||
  skip "npm cannot install playwright-core and axe-core: $(tail -1 "$scratch/npm.log")"
cd "$source"

weather=weather-samples/tolvenau.csv
summer=(--weather "$weather" --from 2022-01-01 --to 2022-12-31)
# Names that a browser must not take for anything but text.
python3 - tests/cli/data/garden.csv "$scratch" <<'PYTHON'
import csv, sys
rows = [r for r in csv.reader(open(sys.argv[1], encoding="utf-8")) if r and not r[0].startswith("#")]
name = rows[0].index("name")
hostile = ['<script>document.title="taken"</script>', '"><img src=x onerror=alert(1)>', "</script><b>x",
           "right\u202eto left", "=1+1", "<!-- &amp; {{7*7}} ${7*7}"]
body = [list(rows[1 + i % (len(rows) - 1)]) for i in range(len(hostile))]
for row, text in zip(body, hostile):
    row[name] = text
csv.writer(open(sys.argv[2] + "/hostile.csv", "w", encoding="utf-8", newline="")).writerows([rows[0]] + body)
many = [list(rows[1 + i % (len(rows) - 1)]) for i in range(200)]
for i, row in enumerate(many):
    row[name] = "pot %d, %s" % (i + 1, row[name])
csv.writer(open(sys.argv[2] + "/many.csv", "w", encoding="utf-8", newline="")).writerows([rows[0]] + many)
PYTHON

# Of each page the CSV of the same question beside it.
page() {
  local name=$1
  shift
  "$program" "$@" --format csv --page "$scratch/pages/$name.html" >"$scratch/pages/$name.csv" 2>"$scratch/pages/$name.err" ||
    { cat "$scratch/pages/$name.err"; exit 1; }
}
garden=(--garden models/gardens/courtyard.csv)
page season season "${garden[@]}" "${summer[@]}"
page hostile season --garden "$scratch/hostile.csv" "${summer[@]}"
page many season --garden "$scratch/many.csv" "${summer[@]}"
page months season "${garden[@]}" "${summer[@]}" --by month
page ledger season --garden tests/cli/data/garden.csv --weather "$weather" --from 2022-05-01 --to 2022-07-31 --ledger
page compare compare --crop tomato --pots "nursery 10 l,nursery 20 l,nursery 30 l" --weather "$weather"
page absence absence "${garden[@]}" --days 5 "${summer[@]}"
page choose choose --crops tomato,basil --routines "daily 07:00,every 2 days 07:00" --weather "$weather"
page plan plan "${garden[@]}" --weather "$weather" --to 2024-07-14 --now 2024-07-15T06:00
page forecast forecast "${garden[@]}" --weather "$weather" --to 2024-07-14 --now 2024-07-15T06:00
page heatwave heatwave "${garden[@]}" --weather "$weather" --to 2022-12-31
page matters season "${garden[@]}" "${summer[@]}" --uncertain 64 --what-matters
page calibrate calibrate "${garden[@]}" --weather "$weather" --weighings models/readings/courtyard-weighings.csv \
  --seen models/readings/courtyard-seen.csv
page capacity capacity --pot "nursery 20 l" --mix "peat 60 perlite 40"
page shopping capacity "${garden[@]}"
page list list pots
page et0 et0 --weather "$weather" --from 2022-01-01 --to 2022-12-31
page weather weather "$weather"

NODE_PATH="$scratch/node_modules" node tests/browser/check.js "$browser" "$scratch"
