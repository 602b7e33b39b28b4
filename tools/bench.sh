#!/usr/bin/env bash
# Builds the bench and runs it from the top of the repository. Usage: tools/bench.sh read [options]; see
# tools/bench.sh read --help. Further photo sets: STRIPBOOK_PHOTO_SETS=/path/one:/path/two.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/build.sh release stripbook-bench >/dev/null
exec build/release/tools/bench/stripbook-bench "$@"
