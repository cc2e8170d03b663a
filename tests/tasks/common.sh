# What the tasks share: a folder of their own, the program by name, and checks that say what failed.
# Usage: . common.sh PROGRAM SOURCE_DIR SCRATCH_DIR
set -euo pipefail
program=$(realpath "$1")
source_dir=$(realpath "$2")
rm -rf "$3"
mkdir -p "$3"
cd "$3"
wiltline() { "$program" "$@"; }
# has FILE TEXT: the file holds the text.
has() { grep -qF -- "$2" "$1" || { echo "$1 lacks: $2" >&2; cat "$1" >&2; exit 1; }; }
# rows FILE N: so many rows below the header.
rows() {
  local found
  found=$(($(wc -l <"$1") - 1))
  [[ $found -eq $2 ]] || { echo "$1 has $found rows, not $2" >&2; exit 1; }
}
# narrow FILE: fits a page of 100 columns.
narrow() {
  [[ $(LC_ALL=C.UTF-8 wc -L <"$1") -le 100 ]] || { echo "$1 has lines of more than 100 columns" >&2; exit 1; }
}
