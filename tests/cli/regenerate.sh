#!/usr/bin/env bash
# Writes the golden files again from a built program. Read the difference before you keep it.
# Usage: bash tests/cli/regenerate.sh BUILD_DIR
set -euo pipefail
if [[ $# -ne 1 || ! -x $1/cli/wiltline ]]; then
  echo "usage: bash tests/cli/regenerate.sh BUILD_DIR (one that holds cli/wiltline)" >&2
  exit 2
fi
program=$(realpath "$1/cli/wiltline")
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
golden=tests/cli/golden

find "$golden" -type f ! -name runs.txt -delete
while IFS='|' read -r -a words; do
  [[ ${#words[@]} -eq 0 || ${words[0]} == '#'* ]] && continue
  file=$golden/${words[0]}
  LC_ALL=C "$program" "${words[@]:1}" >"$file" 2>"$file.stderr" </dev/null
  [[ -s $file.stderr ]] || rm "$file.stderr"
done <"$golden/runs.txt"
echo "Written: $(find "$golden" -type f ! -name runs.txt | wc -l) files in $golden."
