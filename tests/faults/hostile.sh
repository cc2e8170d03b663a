#!/usr/bin/env bash
# Hostile and broken files: each must end within seconds in one clear line, the right exit code and bounded
# memory (1.5 GiB of address space here; a file is read whole, at most 256 MiB).
# Usage: bash tests/faults/hostile.sh [PROGRAM]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
program=$(realpath "${1:-.build/release/cli/wiltline}")
source=$PWD
samples=$source/weather-samples
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
failed=0
tried=0

# expect CODE WORDS COMMAND...: that exit code, and a line on standard error that holds the words.
expect() {
  local code=$1 words=$2 got=0 lines
  shift 2
  tried=$((tried + 1))
  (ulimit -v 1572864; timeout 20 "$@" >out 2>err) || got=$?
  lines=$(wc -l <err)
  if [ "$got" -ne "$code" ] || [ "$lines" -gt 20 ] || { [ -n "$words" ] && ! grep -qF -- "$words" err; }; then
    echo "FAILED ($got, $lines lines): $*"
    head -3 err
    failed=$((failed + 1))
  fi
}
et0() { echo "$program" et0 --latitude 45 --elevation 100 --weather "$1"; }

header='date,tmin_c,tmax_c'
{ echo "$header"; printf '2023-06-01,10,\0\n'; } >nul.csv
expect 3 "nul.csv:2" $(et0 nul.csv)
{ printf '\xff\xfed\0a\0t\0e\0'; } >utf16.csv
expect 3 "utf16.csv" $(et0 utf16.csv)
head -c 1073741824 /dev/zero | tr '\0' 'a' >line.csv
expect 3 "line.csv" $(et0 line.csv)
rm line.csv
head -c 134217728 /dev/zero | tr '\0' 'a' >longline.csv
expect 3 "longline.csv" $(et0 longline.csv)
rm longline.csv
seq -s, 1 1000000 >columns.csv
expect 3 "columns.csv" $(et0 columns.csv)
{ echo "$header"; echo '2023-06-01,"10,20'; } >quote.csv
expect 3 "quote.csv" $(et0 quote.csv)
printf 'date,tmin_c,tmax_c\r2023-06-01,10,20\r' >cr.csv
expect 3 "cr.csv" $(et0 cr.csv)
{ echo "date,tmin_c,tmax_c,tmax_c"; echo "2023-06-01,10,20,20"; } >twice.csv
expect 3 "twice.csv:1" $(et0 twice.csv)
printf '\xef\xbb\xbfdate,tmin_c,tmax_c\r\n2023-06-01,10,20\r\n' >bom.csv
expect 0 "" $(et0 bom.csv)
: >empty.csv
expect 3 "empty.csv" $(et0 empty.csv)
awk 'BEGIN { print "date,tmin_c,tmax_c"; for (i = 0; i < 10000000; i++) print "2023-06-01,10,20" }' >rows.csv
expect 3 "rows.csv:3" $(et0 rows.csv)
rm rows.csv
ln -s loop-a loop-b
ln -s loop-b loop-a
expect 2 "loop-a" $(et0 loop-a)
mkdir folder.csv
expect 2 "folder.csv" $(et0 folder.csv)
expect 2 "nothere.csv" $(et0 nothere.csv)
mkfifo pipe
(cat "$samples/tolvenau.csv" >pipe &)
expect 0 "" "$program" et0 --weather pipe
mkfifo idle
(exec 3<>idle; sleep 1; printf 'date,tmin_c\n' >&3) &
expect 3 "idle" $(et0 idle)
# A file that shrinks while it is read: whatever of it was there is judged.
for round in 1 2 3 4 5; do
  cp "$samples/tolvenau.csv" shrinks.csv
  (truncate -s 1000 shrinks.csv &)
  got=0
  timeout 20 "$program" et0 --weather shrinks.csv >out 2>err || got=$?
  tried=$((tried + 1))
  case $got in 0 | 3) ;; *) echo "FAILED ($got): a file that shrinks"; failed=$((failed + 1)) ;; esac
done

# The same, in short form, of the other files: a garden, a watering log and a saved state.
garden=$source/tests/cli/data/garden.csv
forecast=("$program" forecast --garden "$garden" --weather "$samples/tolvenau.csv" --to 2022-07-14 --now "2022-07-15 09:00")
"${forecast[@]}" --save-state state.csv >/dev/null 2>&1
cp "$garden" garden.csv
printf 'when,name,given_l\n2022-07-10 18:30,tall tomato,1.5\n' >log.csv
for kind in garden log state; do
  case $kind in
    garden) read_it=("$program" season --weather "$samples/tolvenau.csv" --garden) ;;
    log) read_it=("${forecast[@]}" --log) ;;
    state) read_it=("${forecast[@]}" --state) ;;
  esac
  header=$(grep -v '^#' $kind.csv | head -1)
  row=$(grep -v '^#' $kind.csv | sed -n 2p)
  expect 0 "" "${read_it[@]}" $kind.csv
  { printf '\xef\xbb\xbf'; sed 's/$/\r/' $kind.csv; } >bom.csv
  expect 0 "" "${read_it[@]}" bom.csv
  { echo "$header"; printf '%s\0\n' "$row"; } >nul.csv
  expect 3 "nul.csv:2" "${read_it[@]}" nul.csv
  expect 3 "utf16.csv" "${read_it[@]}" utf16.csv
  { echo "$header"; head -c 67108864 /dev/zero | tr '\0' 'a'; } >line.csv
  expect 3 "line.csv:2" "${read_it[@]}" line.csv
  truncate -s 1073741824 line.csv
  expect 3 "line.csv" "${read_it[@]}" line.csv
  rm line.csv
  expect 3 "columns.csv" "${read_it[@]}" columns.csv
  { echo "$header"; echo "\"$row"; } >quote.csv
  expect 3 "quote.csv" "${read_it[@]}" quote.csv
  { printf '%s\r' "$header" "$row"; } >cr.csv
  expect 3 "cr.csv" "${read_it[@]}" cr.csv
  { echo "$header,${header##*,}"; echo "$row,"; } >twice.csv
  expect 3 "twice.csv:1" "${read_it[@]}" twice.csv
  awk -v header="$header" -v row="x$row" 'BEGIN { print header; for (i = 0; i < 1000000; i++) print row }' >rows.csv
  expect 3 "rows.csv:2" "${read_it[@]}" rows.csv
  rm rows.csv
  expect 3 "empty.csv" "${read_it[@]}" empty.csv
  expect 2 "loop-a" "${read_it[@]}" loop-a
  expect 2 "folder.csv" "${read_it[@]}" folder.csv
  rm -f pipe
  mkfifo pipe
  (cat $kind.csv >pipe &)
  expect 0 "" "${read_it[@]}" pipe
done

# Outputs.
expect 1 "/dev/full" "$program" et0 --weather "$samples/tolvenau.csv" --format csv --output /dev/full
tried=$((tried + 1))
if "$program" et0 --weather "$samples/tolvenau.csv" --format csv 2>err | head -1 >/dev/null; [ -s err ] &&
  grep -qi "broken pipe" err; then
  echo "FAILED: a closed pipe is no error"
  failed=$((failed + 1))
fi
mkfifo sink
(cat sink >sunk &)
expect 0 "" "$program" et0 --weather "$samples/tolvenau.csv" --format csv --output sink
[ -p sink ] || { echo "FAILED: the pipe was replaced"; failed=$((failed + 1)); }

echo "$tried tried, $failed failed"
[ "$failed" -eq 0 ]
