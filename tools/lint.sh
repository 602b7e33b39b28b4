#!/usr/bin/env bash
# clang-format and clang-tidy over our own code; prints nothing but what is wrong. Usage: tools/lint.sh
set -euo pipefail
cd "$(dirname "$0")/.."
tools/packages.sh test
cmake --preset release >/dev/null
mapfile -t files < <(git ls-files 'pipeline/*.h' 'pipeline/*.cpp' 'tools/*.h' 'tools/*.cpp' 'tests/*.h' 'tests/*.cpp')
clang-format --dry-run --Werror "${files[@]}"
# Tests are left to the compiler's warnings: Catch2's macros are most of what tidy would speak of there.
git ls-files 'pipeline/*.cpp' 'tools/*.cpp' |
    xargs -P "$(nproc)" -n 4 clang-tidy -p build/release --quiet 2>/dev/null
