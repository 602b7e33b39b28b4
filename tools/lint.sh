#!/usr/bin/env bash
# clang-format over our own code; `tools/lint.sh --deep` runs clang-tidy besides (ten minutes and more on two cores). Prints
# nothing but what is wrong.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/packages.sh test
mapfile -t files < <(git ls-files 'pipeline/*.h' 'pipeline/*.cpp' 'tools/*.h' 'tools/*.cpp' 'tests/*.h' 'tests/*.cpp')
clang-format --dry-run --Werror "${files[@]}"
[ "${1:-}" = --deep ] || exit 0
cmake --preset release >/dev/null
# Tests are left to the compiler's warnings: Catch2's macros are most of what tidy would speak of there.
git ls-files 'pipeline/*.cpp' 'tools/*.cpp' |
    xargs -P "$(nproc)" -n 4 clang-tidy -p build/release --quiet 2>/dev/null
