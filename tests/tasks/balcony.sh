#!/usr/bin/env bash
# A balcony of 12 pots: set up, stocked, watered over a week, and left to a neighbour for two.
# Usage: bash balcony.sh PROGRAM SOURCE_DIR SCRATCH_DIR
. "$(dirname "${BASH_SOURCE[0]}")/common.sh" "$@"

wiltline begin balcony --weather "$source_dir/weather-samples/tolvenau.csv" >begun.txt
cd balcony
# The garden as a spreadsheet saved it: semicolons, a comma in numbers, a mark and CRLF.
{ printf '\xEF\xBB\xBF'; sed 's/$/\r/' "$source_dir/tests/tasks/balcony.csv"; } >garden.csv

# Which pots: the smallest that do, for each crop, planting time and watering.
wiltline choose --crops "tomato dwarf,pepper,basil,parsley" --output chart.txt
has chart.txt 'daily 07:00'
narrow chart.txt
wiltline choose --crops "tomato dwarf,pepper,basil,parsley" --plantings 05-15 --format csv --output chart.csv 2>/dev/null
rows chart.csv 16 # 4 crops, 4 routines
# A pot that is enough daily is as big as one that is enough twice a day, or bigger.
python3 - chart.csv <<'PY'
import csv, sys
litres = {(r["crop"], r["routine"]): float(r["mix_l"] or "inf") for r in csv.DictReader(open(sys.argv[1], encoding="utf-8"))}
for crop in {c for c, _ in litres}:
    assert litres[crop, "daily 07:00"] >= litres[crop, "daily 07:00 19:00"], crop
PY

# What to buy, in bags of 40 litres.
wiltline capacity --bag 40l --format csv --output shopping.csv 2>/dev/null
has shopping.csv 'pot,salad box,'
[[ $(awk -F, '$1 == "pot" { pots += $7 } END { print pots }' shopping.csv) -eq 12 ]]
# Bags of a ready mix hold what the pots take, and no bag too many.
awk -F, '$1 == "mix" && !($4 * 40 >= $3 && ($4 - 1) * 40 < $3) { bad = 1 } END { exit bad }' shopping.csv

# The week from 15 July: what to water now, and what does not last to the next visit.
wiltline forecast --to 2024-07-14 --now 2024-07-15T07:30 --days 7 --output week.txt
has week.txt 'salad box'
has week.txt 'from wiltline.ini: '
narrow week.txt
wiltline forecast --to 2024-07-14 --now 2024-07-15T07:30 --days 7 --save-state today.csv --format csv \
  --output week.csv 2>/dev/null
rows week.csv 8
# The visits of the week, with boxes to tick, for a can of 10 litres; the same as a table.
wiltline plan --to 2024-07-14 --now 2024-07-15T07:30 --can '10 l' --output plan.txt
has plan.txt '[ ]'
has plan.txt 'trips'
has plan.txt ' mL' # parsley takes less than a litre
has plan.txt 'No forecast is given'
narrow plan.txt
wiltline plan --to 2024-07-14 --now 2024-07-15T07:30 --format csv --output plan.csv 2>/dev/null
# Every pot comes up, at evening visits of the week alone, with litres in order.
python3 - plan.csv <<'PY'
import csv, sys
rows = list(csv.DictReader(open(sys.argv[1], encoding="utf-8")))
assert len({r["name"] for r in rows}) == 8, {r["name"] for r in rows}
for r in rows:
    assert "2024-07-15T18:00" <= r["visit"] <= "2024-07-21T18:00" and r["visit"].endswith("T18:00"), r
    assert r["by"] == "you" and float(r["give_low_l"]) <= float(r["give_l"]) <= float(r["give_high_l"]), r
assert [r["visit"] for r in rows] == sorted(r["visit"] for r in rows)
PY
# Tomorrow goes on from the state, the mixed pot too.
wiltline forecast --to 2024-07-15 --state today.csv --format csv --output tomorrow.csv 2>/dev/null
rows tomorrow.csv 8

# Two weeks away in August: with nobody, and with a neighbour every other evening.
wiltline season --away 08-03/08-17 --from 2024-01-01 --format csv --output nobody.csv 2>/dev/null
wiltline season --from 2024-01-01 --format csv --output at-home.csv 2>/dev/null
wilting() { awk -F, 'NR == 1 { for (i = 1; i <= NF; ++i) if ($i == "wilting_days") at = i } NR > 1 { n += $at } END { print n }' "$1"; }
[[ $(wilting nobody.csv) -gt $(wilting at-home.csv) ]]
wiltline season --helper '08-03/08-17 every 2 days 18:00' --from 2024-01-01 --format csv \
  --output neighbour.csv 2>/dev/null
[[ $(wilting neighbour.csv) -lt $(wilting nobody.csv) ]]
# What the neighbour gets, visit by visit, in the record's August.
wiltline plan --to 2024-08-02 --days 15 --helper '2024-08-03/2024-08-17 every 2 days 18:00' --compact \
  --output neighbour.txt
has neighbour.txt 'Mon 5 Aug 18:00, helper: '
narrow neighbour.txt
[[ $(grep -c ', helper: ' neighbour.txt) -eq 6 ]] # days 2, 4, … 12 after the first
# What the neighbour must do at the least, and who does without.
wiltline absence --on 2024-08-03/2024-08-17 --output trip.txt
has trip.txt 'A helper instead'
narrow trip.txt
wiltline absence --days 2 --months aug --output two-days.txt
has two-days.txt 'salad box'
narrow two-days.txt
