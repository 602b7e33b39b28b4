#!/usr/bin/env bash
# Installs what is missing, builds, and runs every test. `tools/test.sh --sanitizers` builds them under AddressSanitizer and
# UndefinedBehaviorSanitizer besides and runs them there first (about three times as long).
set -euo pipefail
cd "$(dirname "$0")/.."
tools/packages.sh test
tools/build.sh release | tail -n 1
if [ "${1:-}" = --sanitizers ]; then
    tools/build.sh asan | tail -n 1
    ctest --preset asan -j "$(nproc)" --output-on-failure --no-tests=error
fi
ctest --preset release -j "$(nproc)" --output-on-failure --no-tests=error
