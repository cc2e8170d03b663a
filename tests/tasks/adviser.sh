#!/usr/bin/env bash
# An adviser with five places: which pots to recommend at each, and the figures behind it.
# Usage: bash adviser.sh PROGRAM SOURCE_DIR SCRATCH_DIR
. "$(dirname "${BASH_SOURCE[0]}")/common.sh" "$@"

mkdir places
cp "$source_dir"/weather-samples/*.csv "$source_dir/tests/real-weather/seattle.csv" places
[[ $(ls places | wc -l) -eq 5 ]]
weather=()
for place in places/*.csv; do weather+=(--weather "$place"); done
pots="nursery 11 l,nursery 21 l,nursery 37 l,fabric 36 l"

# Southern and northern places are planted each in its own spring.
for place in places/*.csv; do
  name=$(basename "$place" .csv)
  wiltline compare --crop tomato --pots "$pots" --routine "daily 07:00" --weather "$place" --output "$name.txt"
  narrow "$name.txt"
done
wiltline compare --crop tomato --pots "$pots" --routine "daily 07:00" --planted 05-15 "${weather[@]}" --format csv \
  --output tomato.csv 2>/dev/null
rows tomato.csv 4

# A pot chart, a block for each place, and its cells beside compare's answers.
wiltline choose --crops "tomato,pepper,leaf lettuce" --weather-dir places --output chart.txt
for place in places/*.csv; do has chart.txt "$place"; done
narrow chart.txt
wiltline choose --crops tomato --plantings 05-15 --pots "$pots" --routines "daily 07:00" --share 1 --weather-dir places \
  --format csv --output chart.csv 2>/dev/null
rows chart.csv 5
for place in places/*.csv; do
  wiltline compare --crop tomato --pots "$pots" --routine "daily 07:00" --planted 05-15 --weather "$place" --format csv \
    --output one.csv 2>/dev/null
  python3 - chart.csv one.csv "$place" <<'PY'
import csv, sys
read = lambda file: list(csv.DictReader(open(file, encoding="utf-8")))
cell, = (r for r in read(sys.argv[1]) if r["place"] == sys.argv[3])
enough = sorted((float(r["mix_l"]), r["pot"]) for r in read(sys.argv[2]) if r["enough"] == "yes")
assert cell["pot"] == (enough[0][1] if enough else ""), (cell, enough)
PY
done

wiltline sweep --weather-dir places --crops "tomato,pepper,leaf lettuce" --pots "$pots" --output sweep.csv 2>/dev/null
# Every place has every crop in every pot.
python3 - sweep.csv <<'PY'
import csv, sys
rows = list(csv.DictReader(open(sys.argv[1], encoding="utf-8")))
seen = {(r["weather"], r["crop"], r["pot"]) for r in rows}
assert len({w for w, _, _ in seen}) == 5, sorted({w for w, _, _ in seen})
assert len(seen) == 5 * 3 * 4, len(seen)
worst = {}
for r in rows:
    key = (r["weather"], r["crop"], r["pot"])
    worst[key] = max(worst.get(key, 0), int(r["wilting_days"]))
# A bigger pot of one kind wilts on no more days in its worst summer.
for weather, crop, pot in seen:
    if pot == "nursery 37 l":
        assert worst[weather, crop, pot] <= worst[weather, crop, "nursery 11 l"], (weather, crop)
PY
wiltline et0 "${weather[@]}" --format csv --output et0.csv 2>/dev/null
has et0.csv ',weather'
