#!/usr/bin/env bash
# 40 containers from spring to autumn, in US units: what fills them, which of them fall short of the
# watering, what would have kept them, and the hottest days.
# Usage: bash containers.sh PROGRAM SOURCE_DIR SCRATCH_DIR
. "$(dirname "${BASH_SOURCE[0]}")/common.sh" "$@"

cp "$source_dir/tests/tasks/containers.csv" garden.csv
printf 'weather = %s\ngarden = garden.csv\nunits = us\n' "$source_dir/weather-samples/zarquil-flats.csv" >wiltline.ini
plantings=11

wiltline capacity --bag 1.5cuft --output shopping.txt
has shopping.txt 'kale and beets'
has shopping.txt 'gal in all'
narrow shopping.txt
wiltline capacity --bag 1.5cuft --format csv --output shopping.csv 2>/dev/null
[[ $(awk -F, '$1 == "pot" { pots += $7 } END { print pots }' shopping.csv) -eq 40 ]]

wiltline season --from 2024-01-01 --output season.txt
has season.txt 'slicing tomatoes ×6'
narrow season.txt
wiltline season --from 2024-01-01 --remedies --format csv --output season.csv 2>/dev/null
rows season.csv $plantings
has season.csv 'kale 2 + beet 4'
# CSV is metric whatever units are set.
wiltline season --from 2024-01-01 --remedies --units metric --format csv 2>/dev/null | cmp - season.csv

# Which pots would do for two of them, how much when, and the coming three days.
wiltline choose --crops "tomato,pepper" --plantings 04-01 --kind "fabric,nursery" --output chart.txt
has chart.txt 'gal'
narrow chart.txt
wiltline season --by month --from 2024-01-01 --output months.txt
has months.txt 'Jul'
narrow months.txt
wiltline plan --to 2024-07-09 --days 3 --can '2 gal' --output plan.txt
has plan.txt ' gal in all, '
narrow plan.txt
# Litres of a visit, all pots of a row, are what its trips carry.
wiltline plan --to 2024-07-09 --days 3 --format csv 2>/dev/null >plan.csv
python3 - plan.csv plan.txt garden.csv <<'PY'
import csv, math, re, sys
count = {r["name"]: int(r["count"]) for r in csv.DictReader(line for line in open(sys.argv[3], encoding="utf-8") if line[0] != "#")}
litres = {}
for r in csv.DictReader(open(sys.argv[1], encoding="utf-8")):
    litres[r["visit"]] = litres.get(r["visit"], 0) + float(r["give_l"]) * count[r["name"]]
trips = [int(n) for n in re.findall(r"gal in all, (\d+) trip", open(sys.argv[2], encoding="utf-8").read())]
assert len(trips) == len(litres) > 2, (trips, litres)
for found, all_l in zip(trips, litres.values()):
    assert abs(found - all_l / (2 * 3.785411784)) < 1.01, (found, all_l)
PY

wiltline heatwave --days 7 --output hottest.txt
has hottest.txt '°F at the warmest'
narrow hottest.txt
wiltline season --from 2024-01-01 --ledger --format csv --output ledger.csv 2>/dev/null
# Every day of every pot closes: in, out and what is stored.
python3 - ledger.csv <<'PY'
import csv, sys
before = {}
days = 0
for row in csv.DictReader(open(sys.argv[1], encoding="utf-8")):
    n = {k: float(row[k]) for k in ("rain_l", "watered_l", "drained_l", "transpired_l", "evaporated_l", "store_l")}
    if row["name"] in before:
        gap = n["rain_l"] + n["watered_l"] - n["drained_l"] - n["transpired_l"] - n["evaporated_l"] \
            - (n["store_l"] - before[row["name"]])
        assert abs(gap) < 0.01, (row, gap)  # seven numbers of three digits or more
        days += 1
    before[row["name"]] = n["store_l"]
assert len(before) == 11 and days > 1000, (len(before), days)
PY
