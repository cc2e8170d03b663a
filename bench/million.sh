#!/usr/bin/env bash
# A million different pots (80 pots x 14 mixes x 16 spots x 56 draws) through 30 summers of invented weather: time, memory and size.
# Usage: bash bench/million.sh PROGRAM FOLDER [CROP]     (leaves 7 GB in FOLDER)
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages time
program=$(realpath "$1")
mkdir -p "$2/weather"
crop=${3:-bush bean}
# The four years of a sample seven and a half times over: a leap year stays one.
awk '
  /^[0-9]/ { row[++rows] = $0; next }
  { print }
  END {
    for (again = 0; again < 8; again++)
      for (i = 1; i <= rows; i++)
        if ((year = substr(row[i], 1, 4) + 4 * again) <= 2050) print year substr(row[i], 5)
  }' weather-samples/tolvenau.csv >"$2/weather/thirty-years.csv"
/usr/bin/time -v "$program" sweep --weather-dir "$2/weather" --crops "$crop" --plants 1 --mixes all --spots all --draws 55 \
  --output "$2/million.csv" 2>&1 | grep -E "User time|Elapsed|Maximum resident"
wc -lc "$2/million.csv"
