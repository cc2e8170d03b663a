#!/usr/bin/env bash
# Changes the library in one small place at a time (tests/mutants/list) and asks whether the tests of its rooms or the
# properties notice; golden files and the program are not asked. Works in a copy under .build/mutants. Not part of the
# gate: a change costs from ten seconds to three minutes of two cores, the whole list some hours.
# Fails if fewer than 95 in 100 are noticed, if one that is not has no reason in the list, or if an entry does not fit
# the source any more.
# Usage: bash tests/mutants.sh [OPTIONS] [FIRST [LAST]]     entries by number, both included; all by default
#   --check        only whether every entry still fits
#   --rooms        leave the properties out: quicker, and a change that only they notice counts as survived
#   --flags FLAGS  for the compiler, in place of -O1 (CXX names another compiler, CMAKE_CXX_COMPILER_LAUNCHER a cache)
#   --jobs N       compile so many files at once
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh

check_only=false
with_properties=true
flags=-O1
jobs=$(nproc)
while [[ ${1:-} == --* ]]; do
  case $1 in
    --check) check_only=true ;;
    --rooms) with_properties=false ;;
    --flags | --jobs)
      [[ $# -ge 2 ]] || { echo "$1 needs a value" >&2; exit 2; }
      if [[ $1 == --flags ]]; then flags=$2; else jobs=$2; fi
      shift
      ;;
    *) echo "unknown option $1; expected --check, --rooms, --flags or --jobs" >&2; exit 2 ;;
  esac
  shift
done
first=${1:-1}
last=${2:-1000000}
scratch=$PWD/.build/mutants
copy=$scratch/source
build=$scratch/build

# An entry: FILE: OLD ==> NEW [### why no test can or need notice]
entries=()
while IFS= read -r line; do
  [[ $line =~ ^[[:space:]]*(#|$) ]] || entries+=("$line")
done <tests/mutants/list
parse() {
  local text=$1
  reason=
  if [[ $text == *" ### "* ]]; then
    reason=${text##* ### }
    text=${text% ### *}
  fi
  file=lib/wiltline/${text%%: *}
  text=${text#*: }
  old=${text%% ==> *}
  new=${text#* ==> }
}
# How often OLD stands in the file.
occurrences() {
  local content rest
  content=$(<"$1")
  rest=${content//"$old"/}
  echo $(((${#content} - ${#rest}) / ${#old}))
}

stale=0
for number in "${!entries[@]}"; do
  parse "${entries[number]}"
  if [[ ! -f $file ]] || [[ $(occurrences "$file") -ne 1 ]]; then
    echo "stale    $((number + 1)) ${entries[number]}"
    stale=$((stale + 1))
  fi
done
if $check_only; then
  echo "${#entries[@]} entries, $stale stale."
  exit $((stale > 0))
fi

need_packages "${build_packages[@]}" "${test_packages[@]}" ninja-build
mkdir -p "$scratch"
rm -rf "$copy"
mkdir "$copy"
git ls-files -z --cached --others --exclude-standard | xargs -0 ls -d 2>/dev/null |
  tar -T - -cf - | tar -xf - -C "$copy"
# What an interrupted run left changed was built as it was left.
[[ ! -f $scratch/changed ]] || touch "$copy/$(<"$scratch/changed")"
cmake -S "$copy" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_FLAGS_RELEASE="$flags" \
  -DWILTLINE_TESTS=ON -DWILTLINE_INSTALL=OFF -DWILTLINE_HARDEN=OFF >/dev/null
rebuild() {
  cmake --build "$build" --parallel "$jobs" --target "$1" >"$scratch/build.log" 2>&1
}
# Runs tests until the first that fails; a run that finds none, or does not end, is told apart.
run_tests() {
  local code=0
  timeout 900 "$@" --abort-after=1 >"$scratch/run.log" 2>&1 || code=$?
  if ((code == 0)); then return 0; fi
  noticed_by=$(sed -n 's/^TEST CASE: *//p' "$scratch/run.log" | tail -1)
  ((code != 124)) || noticed_by="tests that do not end"
  return 1
}
rooms=$build/tests/wiltline_tests
properties=$build/tests/wiltline_property_tests
notices() {
  local room=${file#lib/wiltline/} name
  room=${room%%/*}
  name=$(basename "${file%.*}")
  rebuild wiltline_tests || return 2
  run_tests "$rooms" --source-file="*tests/$room/*${name}_test.cpp" || return 0
  run_tests "$rooms" --source-file="*tests/$room/*" --source-file-exclude="*/${name}_test.cpp" || return 0
  run_tests "$rooms" --source-file-exclude="*tests/$room/*" || return 0
  $with_properties || return 1
  rebuild wiltline_property_tests || return 2
  run_tests "$properties" || return 0
  return 1
}

targets=(wiltline_tests) programs=("$rooms")
if $with_properties; then targets+=(wiltline_property_tests) programs+=("$properties"); fi
for target in "${targets[@]}"; do rebuild "$target" || { cat "$scratch/build.log"; exit 1; }; done
for program in "${programs[@]}"; do
  run_tests "$program" || { echo "the tests fail without any change: $noticed_by"; exit 1; }
done

killed=0 survived=0 undefended=0 unbuilt=0
for number in "${!entries[@]}"; do
  ((number + 1 >= first && number + 1 <= last)) || continue
  parse "${entries[number]}"
  [[ -f $file && $(occurrences "$file") -eq 1 ]] || continue
  content=$(<"$file")
  echo "$file" >"$scratch/changed"
  printf '%s\n' "${content/"$old"/"$new"}" >"$copy/$file"
  begin=$SECONDS
  code=0
  notices || code=$?
  case $code in
    0)
      killed=$((killed + 1))
      echo "killed   $((number + 1)) ${entries[number]%% ### *} | $noticed_by | $((SECONDS - begin)) s"
      [[ -z $reason ]] || echo "         the list gives a reason why it should not be"
      ;;
    1)
      survived=$((survived + 1))
      [[ -n $reason ]] || undefended=$((undefended + 1))
      echo "SURVIVED $((number + 1)) ${entries[number]} | $((SECONDS - begin)) s"
      ;;
    *)
      unbuilt=$((unbuilt + 1))
      echo "UNBUILT  $((number + 1)) ${entries[number]}"
      grep -m 3 error "$scratch/build.log" || true
      ;;
  esac
  printf '%s\n' "$content" >"$copy/$file"
done
rm -f "$scratch/changed"

ran=$((killed + survived))
echo "$killed of $ran changes killed, $survived survived ($undefended without a reason), $unbuilt not built," \
  "$stale of ${#entries[@]} entries stale."
((stale == 0 && unbuilt == 0 && undefended == 0 && 100 * killed >= 95 * ran))
