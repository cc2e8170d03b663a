#!/usr/bin/env bash
# Fails if a built program lacks one of the protections that the build asks for: position independent, all
# relocations read-only from the start, a stack that runs no code, stack protectors.
# Usage: hardened.sh PROGRAM (exit code 77: skipped)
set -euo pipefail
program=$1
command -v readelf >/dev/null || { echo "skipped: no readelf (Debian package binutils)"; exit 77; }
headers=$(LC_ALL=C readelf --wide --file-header --program-headers "$program")
dynamic=$(LC_ALL=C readelf --wide --dynamic "$program")
symbols=$(LC_ALL=C readelf --wide --dyn-syms "$program")

missing=0
expect() {  # WHAT PATTERN TEXT
  grep -Eq "$2" <<<"$3" && return
  echo "$program: found no $1; expected one"
  missing=$((missing + 1))
}
expect "position independent file" '^ +Type: +DYN' "$headers"
expect "mark of a position independent executable" '\(FLAGS_1\).* PIE' "$dynamic"
expect "segment that is read-only after relocation" '^ +GNU_RELRO ' "$headers"
expect "order to relocate everything at the start" '\(FLAGS_1\).* NOW|\(BIND_NOW\)' "$dynamic"
expect "stack that runs no code" '^ +GNU_STACK .* RW +0x' "$headers"
expect "stack protector" ' __stack_chk_fail(@|$)' "$symbols"
[ "$missing" -eq 0 ] || exit 1
echo "position independent, relocated read-only, stack without code and with protectors"
