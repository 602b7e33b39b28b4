#!/usr/bin/env bash
# Installs what is missing, builds, and runs every test: first as people use the program, then under AddressSanitizer and
# UndefinedBehaviorSanitizer. `tools/test.sh --quick` leaves the second half out.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/packages.sh test
tools/build.sh release | tail -n 1
if [ "${1:-}" != --quick ]; then
    tools/build.sh asan | tail -n 1
    echo "== Under the sanitizers"
    ctest --preset asan -j "$(nproc)" --output-on-failure --no-tests=error
fi
echo "== As people use it"
ctest --preset release -j "$(nproc)" --output-on-failure --no-tests=error
