#!/usr/bin/env bash
# Builds a bench and runs it from the top of the repository. Usage: tools/bench.sh read [options] (see tools/bench.sh read
# --help), tools/bench.sh measure [options] [--made N --seed S ...], tools/bench.sh dump [rounds], or tools/bench.sh report [parts]
# [photos a part] [rounds].
# Further photo sets: STRIPBOOK_PHOTO_SETS=/path/one:/path/two.
set -euo pipefail
cd "$(dirname "$0")/.."
if [ "${1:-}" = dump ]; then
    shift
    exec tools/bench/dump.sh "$@"
fi
if [ "${1:-}" = report ]; then
    shift
    exec tools/bench/report.sh "$@"
fi
if [ "${1:-}" = link ]; then
    shift
    tools/build.sh release stripbook-bench-link >/dev/null
    exec build/release/tools/stripbook-bench-link "$@"
fi
if [ "${1:-}" = measure ]; then
    shift
    tools/build.sh release stripbook-bench-measure >/dev/null
    for option in "$@"; do
        if [ "$option" = --made ]; then
            exec build/release/tools/stripbook-bench-measure "$@"
        fi
    done
    IFS=: read -r -a sets <<<"sample_images${STRIPBOOK_PHOTO_SETS:+:$STRIPBOOK_PHOTO_SETS}"
    exec build/release/tools/stripbook-bench-measure "$@" "${sets[@]}"
fi
tools/build.sh release stripbook-bench >/dev/null
exec build/release/tools/bench/stripbook-bench "$@"
