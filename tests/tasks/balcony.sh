#!/usr/bin/env bash
# A balcony of 12 pots: set up, stocked, watered over a week, and left to a neighbour for two.
# Usage: bash balcony.sh PROGRAM SOURCE_DIR SCRATCH_DIR
. "$(dirname "${BASH_SOURCE[0]}")/common.sh" "$@"

wiltline begin balcony --weather "$source_dir/weather-samples/tolvenau.csv" >begun.txt
cd balcony
# The garden as a spreadsheet saved it: semicolons, a comma in numbers, a mark and CRLF.
{ printf '\xEF\xBB\xBF'; sed 's/$/\r/' "$source_dir/tests/tasks/balcony.csv"; } >garden.csv

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
wiltline absence --days 2 --months aug --output two-days.txt
has two-days.txt 'salad box'
narrow two-days.txt
