#!/usr/bin/env bash
# Static analysis of lib and cli: clang-tidy by .clang-tidy, then cppcheck. Fails if either finds anything; a false
# finding is suppressed where it stands, with the reason.
# Usage: bash tests/analyse.sh [FILE.cpp...] (default: all of lib and cli)
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${python_packages[@]}" clang clang-tidy cppcheck

[ $# -gt 0 ] || mapfile -t files < <(git ls-files 'lib/*.cpp' 'cli/*.cpp')
[ $# -eq 0 ] || files=("$@")
build=.build/analyse
cmake -S . -B "$build" -DCMAKE_CXX_COMPILER=clang++ -DWILTLINE_TESTS=OFF \
  -DWILTLINE_PYTHON=ON -DPython_EXECUTABLE=/usr/bin/python3 >/dev/null

found=0
printf '%s\n' "${files[@]}" | xargs -P "$(nproc)" -n 1 clang-tidy --quiet -p "$build" 2> >(
  grep -vE '^[0-9]+ warnings? (generated|treated)' >&2) || found=1

# Suppressed, all false: cppcheck 2.10 cannot read a lambda with template parameters, takes one std::move in
# `add(kind, std::move(text)).routine = ...` for two, and takes pybind11's `"name"_a` for a pointer.
cppcheck --quiet --enable=warning,performance,portability --std=c++20 --inline-suppr --error-exitcode=1 \
  --suppress=syntaxError:lib/wiltline/evapotranspiration/daily.cpp \
  --suppress=accessMoved:lib/wiltline/questions/remedies.cpp \
  --suppress='assignBoolToPointer:lib/python/*' -j "$(nproc)" -I lib -I cli -I "$build/cli" "${files[@]}" || found=1

[ "$found" -eq 0 ] && echo "${#files[@]} files: nothing found"
exit "$found"
